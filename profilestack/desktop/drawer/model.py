"""The bits that are shown, as rows of a list: a heading before the bits of each shape."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractListModel,
    QMimeData,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)

from profilestack.bits.bit import Bit
from profilestack.bits.words import kind_of, short_size, size_text
from profilestack.desktop import carrying
from profilestack.jobs.reach import BitReach
from profilestack.session.bit_sources import Row
from profilestack.session.reach_words import bit_said, good_for

Index = QModelIndex | QPersistentModelIndex

BIT = Qt.ItemDataRole.UserRole + 1
"""The bit of an item; None for a heading."""

REACH = Qt.ItemDataRole.UserRole + 2
"""What the bit is good for; None while nobody knows."""


class BitsModel(QAbstractListModel):
    """Bits in their rows. What they are good for is told later, see :meth:`tell`."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.units = "mm"
        self._items: list[Bit | str] = []
        self._reach: dict[str, BitReach] = {}

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show these rows of bits instead."""
        self.beginResetModel()
        self._items = []
        for row in rows:
            self._items.append(row.shape.replace("-", " "))
            self._items.extend(row.bits)
        self.endResetModel()

    def tell(self, reach: Mapping[str, BitReach]) -> None:
        """Say what bits are good for, by their ids."""
        self._reach = dict(reach)
        self._all_changed()

    def show_units(self, units: str) -> None:
        """Say sizes in these units."""
        self.units = units
        self._all_changed()

    @property
    def bits(self) -> tuple[Bit, ...]:
        """The bits that are shown, in their order."""
        return tuple(item for item in self._items if isinstance(item, Bit))

    def index_of(self, bit_id: str) -> QModelIndex:
        """Where a bit hangs; invalid where it is not shown."""
        for row, item in enumerate(self._items):
            if isinstance(item, Bit) and item.id == bit_id:
                return self.index(row)
        return QModelIndex()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008  as Qt has it
        """Headings and bits."""
        return 0 if parent.isValid() else len(self._items)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """The bit, its texts, what it is good for."""
        if not index.isValid():
            return None
        item = self._items[index.row()]
        if isinstance(item, str):
            texts = (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole)
            return item if role in texts else None
        if role == BIT:
            return item
        if role == REACH:
            return self._reach.get(item.id)
        if role == Qt.ItemDataRole.DisplayRole:
            return short_size(item, self.units)
        if role == Qt.ItemDataRole.ToolTipRole:
            return "\n".join(self._told(item))
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{kind_of(item)} {size_text(item, self.units)}"
        if role == Qt.ItemDataRole.AccessibleDescriptionRole:
            return " ".join(self._told(item)[1:])
        return None

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Bits can be chosen and dragged, headings cannot."""
        if not index.isValid() or isinstance(self._items[index.row()], str):
            return Qt.ItemFlag.NoItemFlags
        return (
            Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsDragEnabled
            | Qt.ItemFlag.ItemNeverHasChildren
        )  # fmt: skip

    def mimeTypes(self) -> list[str]:
        """What a dragged bit is."""
        return [carrying.BIT]

    def mimeData(self, indexes: Sequence[QModelIndex]) -> QMimeData:
        """The id of a dragged bit."""
        data = QMimeData()
        for index in indexes:
            if isinstance(bit := index.data(BIT), Bit):
                data.setData(carrying.BIT, bit.id.encode())
                data.setText(bit.name)
                break
        return data

    def _told(self, bit: Bit) -> tuple[str, ...]:
        reach = self._reach.get(bit.id)
        return bit_said(bit, self.units) + (good_for(reach, self.units) if reach else ())

    def _all_changed(self) -> None:
        if self._items:
            self.dataChanged.emit(self.index(0), self.index(len(self._items) - 1))

"""The passes of a document as a table model: one row a pass, first cut first."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QMimeData,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    Qt,
)

from profilestack.desktop.carrying import BIT, PASSES
from profilestack.desktop.document import Document
from profilestack.desktop.stack_panel.cells import (
    EDITABLE,
    HEADS,
    Column,
    Role,
    alignment,
    cell,
    changed_columns,
    head,
)
from profilestack.desktop.stack_panel.commands import PassCommands
from profilestack.errors import InputError
from profilestack.session import pass_edits
from profilestack.session.pass_rows import PassRow, pass_rows

Index = QModelIndex | QPersistentModelIndex
PLACES = "application/x-profilestack-pass-places"
"""Places in one window's stack: what is dropped where it came from only changes its place."""

_EDITS: dict[Column, Callable[..., pass_edits.Edited]] = {
    Column.OFFSET: pass_edits.with_offset,
    Column.DEPTH: pass_edits.with_depth,
    Column.SETUP: pass_edits.with_setup,
    Column.NOTE: pass_edits.with_note,
}

_NOWHERE = QModelIndex()


class PassModel(QAbstractTableModel):
    """Mirrors a document's passes; an edit in a cell is one step that can be undone."""

    def __init__(
        self, document: Document, commands: PassCommands, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self.document, self.commands = document, commands
        self.is_refreshing = False
        self.changed_cells: list[tuple[int, Column]] = []
        """While a change is told: the cells that look different, of those in the box."""
        self._rows = self._now()
        document.changed.connect(self.refresh)
        document.units_changed.connect(self._units_changed)

    def refresh(self) -> None:
        """Take over what changed: rows at the end come or go, changed cells are told at once."""
        new, old = self._now(), self._rows
        self.is_refreshing = True
        try:
            if len(new) > len(old):
                self.beginInsertRows(_NOWHERE, len(old), len(new) - 1)
                self._rows = (*old, *new[len(old) :])
                self.endInsertRows()
            elif len(new) < len(old):
                self.beginRemoveRows(_NOWHERE, len(new), len(old) - 1)
                self._rows = old[: len(new)]
                self.endRemoveRows()
            self._rows = new
            self._tell_changes(old, new)
        finally:
            self.is_refreshing = False

    def _tell_changes(self, old: tuple[PassRow, ...], new: tuple[PassRow, ...]) -> None:
        """Say once what changed: a box of cells, and which of them in ``changed_cells``."""
        self.changed_cells = [
            (row, column)
            for row, (a, b) in enumerate(zip(old, new, strict=False))
            if a is not b
            for column in changed_columns(a, b, self.document.units)
        ]
        if self.changed_cells:
            rows, columns = zip(*self.changed_cells, strict=True)
            first, last = self.index(min(rows), min(columns)), self.index(max(rows), max(columns))
            self.dataChanged.emit(first, last)
        self.changed_cells = []

    def row(self, place: int) -> PassRow:
        """The row at a place."""
        return self._rows[place]

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """One row a pass."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """The same for every stack."""
        return 0 if parent.isValid() else len(Column)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Role.DisplayRole
    ) -> Any:
        """The heads as the shop says them."""
        if orientation != Qt.Orientation.Horizontal or not 0 <= section < len(Column):
            return None
        if role == Role.TextAlignmentRole:
            return alignment(Column(section))
        _, word, about = HEADS[Column(section)]
        answers = {
            Role.DisplayRole: head(Column(section), self.document.units),
            Role.AccessibleTextRole: word,
            Role.ToolTipRole: f"{word}. {about}",
        }
        return answers.get(Role(role))

    def data(self, index: Index, role: int = Role.DisplayRole) -> Any:
        """A cell."""
        if not index.isValid() or index.row() >= len(self._rows):
            return None
        row, document = self._rows[index.row()], self.document
        return cell(row, Column(index.column()), role, document.stack, document.units)

    def setData(self, index: Index, value: Any, role: int = Role.EditRole) -> bool:
        """Edit a cell; False where the engine refuses, with the reason at the window's foot."""
        if not index.isValid():
            return False
        if role == Role.CheckStateRole and index.column() == Column.NUMBER:
            on = Qt.CheckState(value) == Qt.CheckState.Checked
            self.document.edit(*pass_edits.switched(self.document.stack, [index.row()], on))
            return True
        if role != Role.EditRole or index.column() not in EDITABLE:
            return False
        try:
            self.put(index.row(), Column(index.column()), value)
        except InputError as error:
            self.document.said.emit(f"Not done: {error.problems[0]}")
            return False
        return True

    def put(self, place: int, column: Column, value: Any, merging: str = "") -> None:
        """Edit a cell.

        Raises:
            InputError: the engine cannot take the value.
        """
        stack, session = self.document.stack, self.document.session
        if column == Column.BIT:
            carried = session.bits_at_hand.must_be_carried(value)
            edited = pass_edits.with_bit(stack, [place], value, carried)
        else:
            edited = _EDITS[column](stack, [place], value)
        self.document.edit(*edited, merging)

    def flags(self, index: Index) -> Qt.ItemFlag:
        """Cells may be chosen and dragged, most may be edited; drops fall between rows."""
        if not index.isValid():
            return Qt.ItemFlag.ItemIsDropEnabled
        flag = Qt.ItemFlag
        flags = flag.ItemIsEnabled | flag.ItemIsSelectable | flag.ItemIsDragEnabled
        if index.column() == Column.NUMBER:
            return flags | flag.ItemIsUserCheckable
        return flags | flag.ItemIsEditable if index.column() in EDITABLE else flags

    def supportedDropActions(self) -> Qt.DropAction:
        """Moved inside the stack, copied from another one."""
        return Qt.DropAction.MoveAction | Qt.DropAction.CopyAction

    def mimeTypes(self) -> list[str]:
        """What may be dropped."""
        return [PLACES, PASSES, BIT]

    def mimeData(self, indexes: Sequence[QModelIndex]) -> QMimeData:
        """Passes to carry away."""
        places = sorted({index.row() for index in indexes})
        data = self.commands.carried(places)
        data.setData(PLACES, f"{self._mark()} {' '.join(map(str, places))}".encode())
        return data

    def canDropMimeData(
        self, data: QMimeData, action: Qt.DropAction, row: int, column: int, parent: Index
    ) -> bool:
        """Passes and bits, between rows."""
        return not parent.isValid() and any(data.hasFormat(word) for word in self.mimeTypes())

    def dropMimeData(
        self, data: QMimeData, action: Qt.DropAction, row: int, column: int, parent: Index
    ) -> bool:
        """Passes of this stack change their place, others are put in; a bit becomes a pass."""
        if not self.canDropMimeData(data, action, row, column, parent):
            return False
        place = len(self._rows) if row < 0 else row
        if data.hasFormat(BIT):
            return self.commands.place(data, place)
        mark, *places = bytes(data.data(PLACES).data()).decode("ascii", "replace").split() or [""]
        if mark == self._mark():
            self.commands.move_to([int(word) for word in places], place)
            return True
        return self.commands.put(data, place)

    def _now(self) -> tuple[PassRow, ...]:
        document = self.document
        return pass_rows(document.stack, document.session.bits, document.report)

    def _mark(self) -> str:
        return f"{os.getpid()}.{id(self.document)}"

    def _units_changed(self) -> None:
        if self._rows:
            last = self.index(len(self._rows) - 1, Column.NOTE)
            self.dataChanged.emit(self.index(0, 0), last)
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, Column.NOTE)

"""The several lines that a drawing falls into, each by itself under its number, to choose one."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QListView,
    QListWidget,
    QListWidgetItem,
    QSizePolicy,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from profilestack.desktop.section.shapes import polygon_of, thinned
from profilestack.desktop.theme import theme_now
from profilestack.geometry.path import Points
from profilestack.session.target_import import MOST_SHOWN, chain_name, chain_size, chain_words
from profilestack.targets.tracing import Chain

COLUMNS = 3
ROWS = 3
"""So many rows are seen at once; further ones are scrolled to."""

FINE = 400
"""An arc may be off by such a share of its line's size."""

PAD = 6
SHAPE = Qt.ItemDataRole.UserRole
SHORT = Qt.ItemDataRole.UserRole + 1


class ChainSheet(QListWidget):
    """Lines by number; a click or Enter takes one."""

    picked = Signal(int)
    """The line of this number is meant."""

    def __init__(self) -> None:
        super().__init__()
        self._chains: tuple[Chain, ...] = ()
        self._units = ""
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setItemDelegate(_Cell(self))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Lines of the drawing, by number")
        self.setToolTip("Click on the line that is the profile, or go there by arrows: Enter")
        self.itemClicked.connect(self._pick)
        self.itemActivated.connect(self._pick)

    def show_chains(self, chains: Sequence[Chain], number: int | None, units: str) -> None:
        """Show lines; ``number`` is the one that is taken, from 1."""
        if len(chains) != len(self._chains) or units != self._units or any(
            one is not other for one, other in zip(chains, self._chains, strict=True)
        ):  # fmt: skip
            self._chains, self._units = tuple(chains), units
            self._fill()
        row = -1 if number is None or number > self.count() else number - 1
        if row < 0:
            self.clearSelection()
        else:
            self.setCurrentRow(row)

    def sizeHint(self) -> QSize:
        """As high as its rows, up to some."""
        rows = min(ROWS, max(1, -(-self.count() // COLUMNS)))
        frame = 2 * self.frameWidth()
        return QSize(18 * self.fontMetrics().height(), rows * self._cell().height() + frame)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cells as wide as there is room."""
        self.setGridSize(self._cell())
        super().resizeEvent(event)

    def _fill(self) -> None:
        self.clear()
        for number, chain in enumerate(self._chains[:MOST_SHOWN], 1):
            item = QListWidgetItem(chain_words(chain, number, self._units))
            item.setToolTip(item.text())
            item.setData(SHAPE, _shape(chain))
            item.setData(SHORT, (chain_name(chain), chain_size(chain, self._units)))
            self.addItem(item)
        self.setGridSize(self._cell())
        self.updateGeometry()

    def _cell(self) -> QSize:
        bar = self.verticalScrollBar().sizeHint().width()
        width = (self.width() - 2 * self.frameWidth() - bar - 2) // COLUMNS
        return QSize(max(48, width), 7 * self.fontMetrics().height())

    def _pick(self, item: QListWidgetItem) -> None:
        self.picked.emit(self.row(item) + 1)


class _Cell(QStyledItemDelegate):
    """One line in its cell: number, shape, where it comes from, how long it is."""

    def sizeHint(
        self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """As large as the grid says."""
        sheet = self.parent()
        assert isinstance(sheet, QListWidget), "it belongs to the sheet"
        return sheet.gridSize()

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw the cell."""
        theme = theme_now()
        is_chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        has_focus = bool(option.state & QStyle.StateFlag.State_HasFocus)
        room = QRectF(option.rect).adjusted(2, 2, -2, -2)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge = theme.ink if has_focus or is_chosen else theme.rule
        painter.setPen(QPen(QColor(edge), 2.0 if has_focus else 1.0))
        painter.setBrush(QColor(theme.chosen if is_chosen else theme.paper))
        painter.drawRoundedRect(room, 3.0, 3.0)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        ink = theme.chosen_ink if is_chosen else theme.ink
        inside = room.adjusted(PAD, 2, -PAD, -2)
        line = option.fontMetrics.height()
        font = option.font
        font.setBold(True)
        painter.setFont(font)
        painter.setPen(QColor(ink))
        painter.drawText(inside, Qt.AlignmentFlag.AlignLeft, str(index.row() + 1))
        font.setBold(False)
        painter.setFont(font)
        name, size = index.data(SHORT)
        for words, up in ((name, 2), (size, 1)):
            place = QRectF(inside.left(), inside.bottom() - up * line, inside.width(), line)
            mode = Qt.TextElideMode.ElideRight
            shown = option.fontMetrics.elidedText(words, mode, int(place.width()))
            painter.drawText(place, Qt.AlignmentFlag.AlignLeft, shown)
        painter.setPen(QPen(QColor(ink if is_chosen else theme.target), 2.0))
        painter.drawPolyline(
            polygon_of(_fitted(index.data(SHAPE), inside.adjusted(line, 4, -4, -2 * line - 4)))
        )
        painter.restore()


def _shape(chain: Chain) -> Points:
    """Points along a line, fine enough for a cell."""
    box = np.ptp(np.array([p for piece in chain.pieces for p in (piece.start, piece.end)]), axis=0)
    size = max(float(box.max()), chain.length / 10.0)
    return thinned(chain.flatten(size / FINE) * (100.0 / size))


def _fitted(points: Points, room: QRectF) -> Points:
    """Points (n, 2) with z up as large as the room has place for them, in its middle [px]."""
    low, high = points.min(axis=0), points.max(axis=0)
    wide, tall = np.maximum(high - low, 1e-9)
    scale = min(room.width() / wide, room.height() / tall)
    middle = room.center()
    offset = (points - (low + high) / 2.0) * scale
    return np.column_stack((middle.x() + offset[:, 0], middle.y() - offset[:, 1]))

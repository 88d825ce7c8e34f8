"""Where what is held over the table of passes would go: a line between two rows."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, Qt
from PySide6.QtGui import QColor, QDragMoveEvent, QPainter, QPen
from PySide6.QtWidgets import QAbstractItemView, QTableView

from profilestack.desktop.theme import theme_now

WIDTH = 3.0
"""The line is so thick [px]: it stands out from the lines between rows."""

KNOB = 4.0
"""So far a knob at each of its ends reaches [px]."""

Drop = QAbstractItemView.DropIndicatorPosition


class DropLine:
    """The line of one table, over the whole width of its rows; also where it has none yet."""

    def __init__(self, table: QTableView) -> None:
        self.table = table
        self.row: int | None = None
        """It goes before this row; None: nothing is held over the table."""

    def follow(self, event: QDragMoveEvent) -> None:
        """It is held there; the table has judged it already."""
        if not event.isAccepted():
            self.row = None
            return
        under = self.table.indexAt(event.position().toPoint())
        if under.isValid():
            self.row = under.row() + (self.table.dropIndicatorPosition() == Drop.BelowItem)
        else:
            self.row = self.table.model().rowCount()

    def leave(self) -> None:
        """It is carried away, or let go."""
        self.row = None
        self.table.viewport().update()

    def paint(self, painter: QPainter) -> None:
        """Paint it over the rows."""
        if self.row is None:
            return
        view, head = self.table.viewport(), self.table.verticalHeader()
        y = float(head.sectionViewportPosition(self.row)) if self.row < head.count() else 0.0
        if 0 < self.row == head.count():
            y = float(head.sectionViewportPosition(self.row - 1) + head.sectionSize(self.row - 1))
        y = min(max(y, KNOB), view.height() - KNOB)
        left, right = KNOB + 1.0, view.width() - KNOB - 1.0
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        ink = QColor(theme_now().target)
        painter.setPen(QPen(ink, WIDTH))
        painter.drawLine(QLineF(left, y, right, y))
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(ink)
        for x in (left, right):
            painter.drawEllipse(QPointF(x, y), KNOB, KNOB)

"""What all charts have: a room for the marks, two scales with rules and numbers, the focus."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QWidget

from profilestack.desktop.scale import Scale
from profilestack.desktop.theme import Theme

ALIGN = Qt.AlignmentFlag


@dataclass(frozen=True, slots=True)
class Axes:
    """Two scales and the ``room`` in which their marks lie [px]: x runs right, y up."""

    room: QRectF
    across: Scale
    up: Scale

    def place(self, x: float, y: float) -> QPointF:
        """Where two values meet [px]."""
        room = self.room
        return QPointF(
            room.left() + self.across.share(x) * room.width(),
            room.bottom() - self.up.share(y) * room.height(),
        )

    def paint(self, painter: QPainter, theme: Theme) -> None:
        """A rule at each tick of ``up`` with its number, and the numbers of ``across`` below."""
        room, metrics = self.room, painter.fontMetrics()
        line = metrics.lineSpacing()
        before, under = int(ALIGN.AlignRight | ALIGN.AlignVCenter), int(ALIGN.AlignHCenter)
        for value in self.up.ticks:
            y = self.place(self.across.low, value).y()
            painter.setPen(QPen(QColor(theme.rule), 1.0))
            painter.drawLine(QPointF(room.left(), y), QPointF(room.right(), y))
            painter.setPen(QColor(theme.quiet))
            words = QRectF(0, y - line / 2, room.left() - 6, line)
            painter.drawText(words, before, self.up.say(value))
        for value in self.across.ticks:
            x, text = self.place(value, self.up.low).x(), self.across.say(value)
            wide = 1.2 * metrics.horizontalAdvance(text)
            painter.drawText(QRectF(x - wide / 2, room.bottom() + 5, wide, line), under, text)


def room_in(chart: QWidget, widest: str, top: float, below: float, right: float) -> QRectF:
    """The room for the marks of a chart [px].

    ``widest`` is the longest number written before it; ``below`` are the lines under it.
    """
    metrics = chart.fontMetrics()
    left = metrics.horizontalAdvance(widest) + 10.0
    bottom = chart.height() - below * metrics.lineSpacing()
    return QRectF(left, top, max(1.0, chart.width() - left - right), max(1.0, bottom - top))


def paint_foot(
    painter: QPainter, theme: Theme, chart: QWidget, room: QRectF, across: str, up: str = ""
) -> None:
    """What runs across, at the right of the last line; what runs up, where it is said there too."""
    line = chart.fontMetrics().lineSpacing()
    foot = QRectF(room.left(), chart.height() - line, room.width(), line)
    painter.setPen(QColor(theme.ink))
    painter.drawText(foot, int(ALIGN.AlignRight), across)
    painter.drawText(foot, int(ALIGN.AlignLeft), up)


def paint_focus(painter: QPainter, theme: Theme, chart: QWidget) -> None:
    """Show that the keys go to the chart, where they do."""
    if chart.hasFocus():
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(theme.ink), 1.0, Qt.PenStyle.DotLine))
        painter.drawRect(chart.rect().adjusted(0, 0, -1, -1))

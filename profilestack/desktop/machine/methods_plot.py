"""The chart of methods: length made along x, minutes or cost up, crossings ringed."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.desktop.charting import Axes, paint_focus, paint_foot, room_in
from profilestack.desktop.paragraph import STALE
from profilestack.desktop.scale import scale_over
from profilestack.desktop.theme import Theme, theme_now
from profilestack.session.method_lines import MethodLine, MethodsPlot, plot_said

LOOKS = {
    "stacked": ("target", ()),
    "ball-nose": ("leftover", (6.0, 3.0)),
    "made-to-order": ("inside", (8.0, 3.0, 1.5, 3.0)),
    "hybrid": ("overcut", (2.0, 2.5)),
}
"""Colour and dash of each way: told apart by either."""

RING = 4.0


class MethodsChart(QWidget):
    """Lines of the ways; dotted uprights at one piece and at the batch."""

    def __init__(self) -> None:
        super().__init__()
        self._plot: MethodsPlot | None = None
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setAccessibleName("Chart of methods")
        self.setToolTip("Each line is a way; rings are where one becomes less than another")

    def show_plot(self, plot: MethodsPlot | None) -> None:
        """Draw these lines; None draws nothing."""
        self._plot = plot
        self.setAccessibleDescription("" if plot is None else plot_said(plot))
        self.update()

    def sizeHint(self) -> QSize:
        """Sixteen lines high, and one for each way."""
        line = self.fontMetrics().lineSpacing()
        return QSize(16 * line, 17 * line)

    def place_of(self, pieces: float, value: float) -> QPointF:
        """Where a number of pieces and its minutes or cost lie [px]."""
        assert self._plot is not None, "something is drawn"
        return self._axes(self._plot).place(pieces * self._plot.piece_length, value)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Axes, uprights, lines, rings, the key."""
        plot, theme = self._plot, theme_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if not self.isEnabled():  # what is drawn does not hold any more
            painter.setOpacity(STALE)
        if plot is not None and plot.lines:
            self._paint_axes(painter, theme, plot)
            self._paint_uprights(painter, theme, plot)
            for line in plot.lines:
                self._paint_line(painter, theme, line)
            self._paint_crossings(painter, theme, plot)
            self._paint_key(painter, theme, plot)
        paint_focus(painter, theme, self)
        painter.end()

    def _axes(self, plot: MethodsPlot) -> Axes:
        top = (len(plot.lines) + 1.8) * self.fontMetrics().lineSpacing()
        highest = max(value for line in plot.lines for _, value in line.points)
        return Axes(
            room_in(self, "00000", top, below=2.4, right=16.0),
            scale_over(0.0, plot.most * plot.piece_length),
            scale_over(0.0, highest),
        )

    def _paint_axes(self, painter: QPainter, theme: Theme, plot: MethodsPlot) -> None:
        axes = self._axes(plot)
        axes.paint(painter, theme)
        across, up = f"length made, {plot.long_unit}", f"up: {plot.quantity}"
        paint_foot(painter, theme, self, axes.room, across, up)

    def _paint_uprights(self, painter: QPainter, theme: Theme, plot: MethodsPlot) -> None:
        room, line = self._axes(plot).room, self.fontMetrics().lineSpacing()
        free = room.left() - 8.0
        for pieces in dict.fromkeys((1, plot.batch)):
            x = self.place_of(pieces, 0.0).x()
            painter.setPen(QPen(QColor(theme.quiet), 1.0, Qt.PenStyle.DotLine))
            painter.drawLine(QPointF(x, room.top()), QPointF(x, room.bottom()))
            text = "1 piece" if pieces == 1 else f"{pieces} pieces"
            wide = float(self.fontMetrics().horizontalAdvance(text))
            begin = min(max(x - wide / 2.0, free + 8.0), self.width() - wide)
            free = begin + wide
            painter.setPen(QColor(theme.quiet))
            painter.drawText(QPointF(begin, room.top() - line * 0.35), text)

    def _pen(self, theme: Theme, name: str) -> QPen:
        color, dash = LOOKS[name]
        pen = QPen(QColor(getattr(theme, color)), 2.0)
        if dash:
            pen.setDashPattern(dash)
        return pen

    def _paint_line(self, painter: QPainter, theme: Theme, line: MethodLine) -> None:
        painter.setPen(self._pen(theme, line.name))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF([self.place_of(*point) for point in line.points]))

    def _paint_crossings(self, painter: QPainter, theme: Theme, plot: MethodsPlot) -> None:
        room, line = self._axes(plot).room, self.fontMetrics().lineSpacing()
        for crossing in plot.crossings:
            at = self.place_of(crossing.pieces, crossing.value)
            painter.setPen(QPen(QColor(theme.ink), 1.5))
            painter.setBrush(QColor(theme.paper))
            painter.drawEllipse(at, RING, RING)
            wide = float(self.fontMetrics().horizontalAdvance(crossing.said))
            left = min(max(at.x() - wide / 2.0, room.left()), room.right() - wide)
            words = QRectF(left, at.y() + RING + 2.0, wide, line)
            ground = QColor(theme.panel)
            ground.setAlphaF(0.6)
            painter.fillRect(words, ground)
            painter.drawText(words, int(Qt.AlignmentFlag.AlignCenter), crossing.said)

    def _paint_key(self, painter: QPainter, theme: Theme, plot: MethodsPlot) -> None:
        line = self.fontMetrics().lineSpacing()
        for place, each in enumerate(plot.lines):
            middle = (place + 0.5) * line
            painter.setPen(self._pen(theme, each.name))
            painter.drawLine(QPointF(8.0, middle), QPointF(8.0 + 2.5 * line, middle))
            painter.setPen(QColor(theme.ink))
            words = QRectF(16.0 + 2.5 * line, place * line, self.width(), line)
            painter.drawText(words, int(Qt.AlignmentFlag.AlignVCenter), each.called)

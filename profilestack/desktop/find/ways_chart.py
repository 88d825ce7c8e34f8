"""Leftover against minutes: one mark for each way, with its number of bits in it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.desktop.charting import Axes, paint_focus, paint_foot, room_in
from profilestack.desktop.scale import scale_over
from profilestack.desktop.theme import Theme, theme_now
from profilestack.finding.options import Option
from profilestack.units import to_units

HANDLE = 24.0
"""Least size of what can be pointed at [px]."""

RINGS = "in the rings: bits"


class WaysChart(QWidget):
    """The ways compared: further left is quicker, further down leaves less."""

    pointed = Signal(object)
    """The place in the list of the way that is pointed at, or None."""

    taken = Signal(int)
    """A way is chosen."""

    def __init__(self) -> None:
        super().__init__()
        self._options: tuple[Option, ...] = ()
        self._allowed = 0.0
        self._units = "mm"
        self._lit: int | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Leftover against minutes")
        self.setToolTip(
            "Each mark is a way, with its number of bits; arrows go from one to another"
        )

    def show_ways(self, options: Sequence[Option], allowed: float, units: str) -> None:
        """Draw these; ``allowed`` is the leftover that was asked for [mm]."""
        self._options, self._allowed, self._units = tuple(options), allowed, units
        self.setAccessibleDescription("; ".join(
            f"way {number}: {len(each.assembled.bit_ids)} bits, "
            f"{each.assembled.minutes.total:.0f} minutes, "
            f"{to_units(each.assembled.comparison.leftover_worst, units):.3f} {units} leftover"
            for number, each in enumerate(options, 1)
        ))  # fmt: skip
        self.update()

    def light(self, place: int | None) -> None:
        """Show one way as pointed at."""
        if place != self._lit:
            self._lit = place
            self.update()

    def place_of(self, index: int) -> QPointF:
        """Where a way's mark lies [px]."""
        assembled = self._options[index].assembled
        leftover = to_units(assembled.comparison.leftover_worst, self._units)
        return self._axes().place(assembled.minutes.total, leftover)

    def sizeHint(self) -> QSize:
        """Eleven lines high."""
        line = self.fontMetrics().lineSpacing()
        return QSize(16 * line, 11 * line)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw axes, the leftover allowed, and the marks; the one pointed at last."""
        theme = theme_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_axes(painter, theme)
        order = sorted(range(len(self._options)), key=lambda index: index == self._lit)
        for index in order:
            self._paint_mark(painter, theme, index)
        paint_focus(painter, theme, self)
        painter.end()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Preview the way under the pointer."""
        self._point(self._at(event.position()))

    def leaveEvent(self, event: QEvent) -> None:
        """No longer."""
        super().leaveEvent(event)
        self._point(None)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take the way under the pointer."""
        index = self._at(event.position())
        if index is not None and event.button() == Qt.MouseButton.LeftButton:
            self.taken.emit(index)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Left and Right go from mark to mark, Enter takes one, Escape lets go."""
        key = event.key()
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}
        if key in steps and self._options:
            order = sorted(range(len(self._options)), key=lambda index: self.place_of(index).x())
            at = order.index(self._lit) + steps[Qt.Key(key)] if self._lit in order else 0
            self._point(order[min(len(order) - 1, max(0, at))])
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._lit is not None:
            self.taken.emit(self._lit)
        elif key == Qt.Key.Key_Escape and self._lit is not None:
            self._point(None)
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Nothing is pointed at by keys any more."""
        super().focusOutEvent(event)
        self._point(None)

    def _point(self, index: int | None) -> None:
        if index != self._lit:
            self.light(index)
            self.pointed.emit(index)

    def _at(self, pixel: QPointF) -> int | None:
        reach = max(HANDLE, self._diameter()) / 2.0
        near = [
            (math.hypot(at.x() - pixel.x(), at.y() - pixel.y()), index)
            for index, at in ((k, self.place_of(k)) for k in range(len(self._options)))
        ]
        distance, index = min(near, default=(math.inf, 0))
        return index if distance <= reach else None

    def _diameter(self) -> float:
        return max(HANDLE, 1.5 * self.fontMetrics().height())

    def _axes(self) -> Axes:
        """Minutes, and leftover in the units shown."""
        half = self._diameter() / 2.0
        top = self.fontMetrics().lineSpacing() + half
        minutes = [each.assembled.minutes.total for each in self._options] or [1.0]
        proud = [each.assembled.comparison.leftover_worst for each in self._options]
        leftover = to_units(max([*proud, self._allowed]), self._units)
        # estimates nearer to each other than that do not tell ways apart
        spare = 0.015 * max(minutes)
        return Axes(
            room_in(self, "0.0000", top, below=2.2, right=half + 6.0),
            scale_over(max(0.0, min(minutes) - spare), max(minutes) + spare),
            scale_over(0.0, 1.02 * leftover),
        )

    def _paint_axes(self, painter: QPainter, theme: Theme) -> None:
        axes, metrics = self._axes(), self.fontMetrics()
        room, line = axes.room, metrics.lineSpacing()
        axes.paint(painter, theme)
        painter.setPen(QColor(theme.ink))
        painter.drawText(QPointF(4.0, metrics.ascent() + 1.0), f"leftover, {self._units}")
        painter.setPen(QColor(theme.quiet))
        top = QRectF(0.0, 1.0, self.width() - 4.0, line)
        painter.drawText(top, int(Qt.AlignmentFlag.AlignRight), RINGS)
        paint_foot(painter, theme, self, room, "minutes")
        y = axes.place(axes.across.low, to_units(self._allowed, self._units)).y()
        painter.setPen(QPen(QColor(theme.leftover), 1.5, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(room.left(), y), QPointF(room.right(), y))
        above = QRectF(room.left() + 4.0, y - line - 1.0, room.width(), line)
        painter.drawText(above, int(Qt.AlignmentFlag.AlignLeft), "allowed")

    def _paint_mark(self, painter: QPainter, theme: Theme, index: int) -> None:
        at, half = self.place_of(index), self._diameter() / 2.0
        lit = index == self._lit
        painter.setPen(QPen(QColor(theme.ink), 2.5 if lit else 1.5))
        painter.setBrush(QColor(theme.chosen if lit else theme.paper))
        painter.drawEllipse(at, half, half)
        painter.setPen(QColor(theme.chosen_ink if lit else theme.ink))
        room = QRectF(at.x() - half, at.y() - half, 2 * half, 2 * half)
        bits = str(len(self._options[index].assembled.bit_ids))
        painter.drawText(room, int(Qt.AlignmentFlag.AlignCenter), bits)

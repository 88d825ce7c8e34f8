"""The signed deviation along x, under the section: proud above the line, gouged below it."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFontMetricsF, QKeyEvent, QPainter, QPolygonF
from PySide6.QtWidgets import QWidget

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.nearest import Numbers
from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.inks import hatch, mixed, pen
from profilestack.desktop.section.labels import draw_ring, label
from profilestack.desktop.section.shapes import polygon_of, thinned
from profilestack.desktop.strips.hatched import Hatched
from profilestack.desktop.strips.spread_band import paint_spread
from profilestack.desktop.strips.strip import Strip
from profilestack.desktop.theme import Theme
from profilestack.drawing.section_panel import LOWEST_RIDGE
from profilestack.drawing.wording import signed_text
from profilestack.jobs.spread import Spread
from profilestack.session.whereabouts import FineText
from profilestack.stack import Tolerance

TIMES = 2.5
"""The strip shows deviations of up to so many tolerances; what is beyond is cut off and told."""

LEAST = 0.05
"""It always shows this much [mm]."""

UNSEEN = 0.2
"""Deviations that lift the curve by less than this [px] are not drawn."""

NEAR = 3.0
"""Samples so near to the pointer's x [px] are looked at; the worst of them is meant."""


class LeftoverStrip(Strip):
    """Deviation over x, aligned with the section; the tolerance is a band."""

    LINES = 6

    def __init__(self, document: Document, axis: Axis, parent: QWidget | None = None) -> None:
        super().__init__(document, axis, parent)
        self._hatched = Hatched()
        self.spread: Spread | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName("Leftover")
        self.setAccessibleDescription(
            "Deviation from the wanted profile along the section, with the tolerance band. "
            "Left and right move along it; Page Up and Page Down go from ridge to ridge."
        )
        self.setWhatsThis(self.accessibleDescription())

    def place_under(self, pixel: QPointF) -> tuple[float, float] | None:
        """The worst place of the wanted profile near the pointer's x."""
        comparison = self._comparison()
        x = self.axis.x_at(pixel.x())
        if comparison is None:
            return (x, 0.0)
        off = np.abs(comparison.samples[:, 0] - x)
        near = np.flatnonzero(off <= max(NEAR / self.axis.scale, float(off.min()) + 1e-9))
        best = near[int(np.argmax(np.abs(comparison.deviation[near])))]
        if off[best] * self.axis.scale > NEAR:
            return (x, float(comparison.samples[best, 1]))
        return (float(comparison.samples[best, 0]), float(comparison.samples[best, 1]))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk along the profile, or from ridge to ridge."""
        step = {Qt.Key.Key_Left: -4.0, Qt.Key.Key_Right: 4.0}.get(Qt.Key(event.key()))
        hop = {Qt.Key.Key_PageUp: -1, Qt.Key.Key_PageDown: 1}.get(Qt.Key(event.key()))
        comparison = self._comparison()
        if comparison is None or (step is None and hop is None):
            super().keyPressEvent(event)
        elif step is not None:
            self._walk(step)
        elif hop is not None:
            self._hop(comparison, hop)

    def paint_strip(self, painter: QPainter, theme: Theme, room: QRectF) -> None:
        """Band, deviation, ridges, numbers."""
        comparison = self._comparison()
        if comparison is None:
            return
        level = _levels(self.document.stack.tolerance, room)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        x = (comparison.samples[:, 0] - self.axis.left) * self.axis.scale
        paint_spread(painter, theme, self.spread, (x, level.of), room)
        self._paint_sides(painter, theme, comparison, level)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(pen(theme.ink))
        painter.drawLine(QPointF(0.0, level(0.0)), QPointF(room.width(), level(0.0)))
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_ridges(painter, theme, comparison, level, room)

    def ground_asked(self) -> tuple[object, ...]:
        """The tolerance band and the numbers, or why there are none."""
        document = self.document
        return document.stack.tolerance, document.units, self._nothing()

    def paint_ground(self, painter: QPainter, theme: Theme, room: QRectF) -> None:
        """The tolerance band and the numbers."""
        tolerance, nothing = self.document.stack.tolerance, self._nothing()
        if nothing:
            self.paint_edge(painter, theme, room)
            painter.setPen(pen(theme.quiet))
            painter.drawText(room, Qt.AlignmentFlag.AlignCenter, nothing)
            return
        level = _levels(tolerance, room)
        up, zero, down = level(tolerance.leftover), level(0.0), level(-tolerance.overcut)
        band = mixed(theme.paper, theme.inside, 0.14)
        painter.fillRect(QRectF(0.0, up, room.width(), down - up), band)
        painter.setPen(pen(theme.inside, 1.0, (6.0, 4.0)))
        for y in (up, down):
            painter.drawLine(QPointF(0.0, y), QPointF(room.width(), y))
        self.paint_edge(painter, theme, room)
        self._paint_numbers(painter, theme, tolerance, (up, zero, down))

    def _nothing(self) -> str:
        """Why there is nothing to see; "" where there is."""
        document = self.document
        if self._comparison() is not None:
            return ""
        if document.report is None and document.stack.target is not None:
            return "Nothing to compare: it cannot be cut"
        return "No wanted profile to compare with"

    def _paint_sides(
        self, painter: QPainter, theme: Theme, comparison: Comparison, level: _Levels
    ) -> None:
        x = (comparison.samples[:, 0] - self.axis.left) * self.axis.scale
        zero, ratio = level(0.0), self.devicePixelRatioF()
        # a profile that turns back in x lays lobes over each other
        turns = float(np.diff(x).min()) < -1e-6 and float(np.diff(x).max()) > 1e-6
        is_plain = not turns and self.spread is None
        if is_plain and self.ground is not None:
            self._hatched.paint(
                painter, theme, self.ground, x, level.of(comparison.deviation), zero
            )
        for values, color, crossed in (
            (np.maximum(comparison.deviation, 0.0), theme.leftover, False),
            (np.minimum(comparison.deviation, 0.0), theme.overcut, True),
        ):
            if not values.any():
                continue
            lobes = _lobes(x, level.of(values), zero)
            if not is_plain:
                painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
                painter.setPen(Qt.PenStyle.NoPen)
                painter.setBrush(hatch(color, ratio, crossed=crossed))
                for lobe in lobes:
                    painter.drawPolygon(lobe, Qt.FillRule.WindingFill)
            # filled to whole pixels, which is quick; the curve over it is smooth
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(pen(color, 0.0))
            for lobe in lobes:
                painter.drawPolyline(lobe)

    def _paint_ridges(
        self, painter: QPainter, theme: Theme, comparison: Comparison, level: _Levels, room: QRectF
    ) -> None:
        units, ratio = self.document.units, self.devicePixelRatioF()
        text_of, written = FineText(units), painter.font().toString()
        free_from = edge = self.edge
        painter.setPen(pen(theme.leftover, 1.5))
        seen = [
            (self.axis.pixel_of_x(ridge.at[0]), level(ridge.height), ridge)
            for ridge in sorted(comparison.ridges, key=lambda ridge: ridge.at[0])
            if ridge.height >= LOWEST_RIDGE
        ]
        seen = [(x, y, ridge) for x, y, ridge in seen if edge <= x <= room.width()]
        for x, y, _ in seen:
            painter.drawLine(QPointF(x, level(0.0)), QPointF(x, y))
            draw_ring(painter, theme, QPointF(x, y))
        # the heights over all stems: no line runs through a number
        for x, y, ridge in seen:
            beyond = "↑ " if ridge.height > level.high else ""
            text = f"{beyond}{text_of(ridge.height)} {units}"
            picture = label(text, theme.leftover, theme.paper, written, ratio, False)
            size = picture.deviceIndependentSize()
            fits = x + 4.0 + size.width() <= room.width()
            begin = x + 4.0 if fits else x - 4.0 - size.width()
            if begin >= free_from:
                free_from = begin + size.width()
                top = max(0.0, y - size.height() / 2.0)
                painter.drawPixmap(QPointF(begin, top), picture)

    def _paint_numbers(
        self, painter: QPainter, theme: Theme, tolerance: Tolerance, at: tuple[float, float, float]
    ) -> None:
        units = self.document.units
        high = QFontMetricsF(painter.font()).height()
        values = (tolerance.leftover, 0.0, -tolerance.overcut)
        last = -1e9
        for value, y in zip(values, at, strict=True):
            place = max(y, last + high)
            last = place
            text = signed_text(value, units) if value else "0"
            painter.setPen(pen(theme.inside if value else theme.ink))
            painter.drawText(
                QRectF(0.0, place - high / 2.0, self.edge - 6.0, high),
                Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
                text,
            )
        painter.setPen(pen(theme.quiet))
        painter.drawText(QRectF(4.0, 0.0, self.edge, high), Qt.AlignmentFlag.AlignLeft, units)

    def _comparison(self) -> Comparison | None:
        report = self.document.report
        return None if report is None else report.comparison

    def _walk(self, pixels: float) -> None:
        now = self.document.cursor
        begin = self.axis.pixel_of_x(now[0]) if now is not None else self.width() / 2.0
        place = self.place_under(QPointF(begin + pixels, 0.0))
        if place is not None:
            # the worst place near by must not hold the walk back
            self.document.move_cursor((self.axis.x_at(begin + pixels), place[1]))

    def _hop(self, comparison: Comparison, step: int) -> None:
        now = self.document.cursor
        ridge = _next_ridge(comparison, now[0] if now is not None else -1e9, step)
        if ridge is not None:
            self.document.move_cursor(ridge)


def _next_ridge(comparison: Comparison, x: float, step: int) -> tuple[float, float] | None:
    """The next ridge to the right of a place (``step`` above 0) or to the left, round the ends."""
    ridges = sorted(ridge.at for ridge in comparison.ridges if ridge.height >= LOWEST_RIDGE)
    if not ridges:
        return None
    if step > 0:
        return next((at for at in ridges if at[0] > x + 1e-6), ridges[0])
    before = [at for at in ridges if at[0] < x - 1e-6]
    return before[-1] if before else ridges[-1]


class _Levels:
    """From a deviation [mm] to a height in the strip [px]: fixed, so that nothing jumps."""

    def __init__(self, low: float, high: float, room: QRectF) -> None:
        self.low, self.high = low, high
        margin = 4.0
        self._scale = (room.height() - 2.0 * margin) / (high - low)
        self._top = room.top() + margin

    def __call__(self, value: float) -> float:
        return self._top + (self.high - min(max(value, self.low), self.high)) * self._scale

    def of(self, values: Numbers) -> Numbers:
        """Many at once."""
        clipped = np.clip(values, self.low, self.high)
        return np.asarray(self._top + (self.high - clipped) * self._scale)


def _levels(tolerance: Tolerance, room: QRectF) -> _Levels:
    largest = max(tolerance.leftover, tolerance.overcut, LEAST / TIMES)
    high = TIMES * max(tolerance.leftover, 0.5 * largest)
    low = -TIMES * max(tolerance.overcut, 0.25 * largest)
    return _Levels(low, high, room)


def _lobes(x: Numbers, y: Numbers, zero: float) -> list[QPolygonF]:
    """The areas between a curve and the zero line, each closed along it; none that is unseen."""
    away = np.abs(y - zero) > UNSEEN
    edges = np.flatnonzero(np.diff(np.concatenate(([False], away, [False])).astype(np.int8)))
    found = []
    for first, last in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
        begin, end = max(first - 1, 0), min(last, len(x) - 1)
        curve = thinned(np.column_stack((x[begin : end + 1], y[begin : end + 1])))
        closing = np.array(((x[end], zero), (x[begin], zero)))
        found.append(polygon_of(np.concatenate((curve, closing))))
    return found

"""The section painted: blank, what each pass takes, the wood that is left, the differences."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import numpy as np
import shapely
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.cutting.stroke import Lie, Stroke
from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.balloons import axis_points
from profilestack.desktop.section.inks import hatch, mixed, pen
from profilestack.desktop.section.shapes import SEEN, chain_shape, shape_of, shapes_of
from profilestack.desktop.theme import Theme
from profilestack.drawing.scene import SLIVER, SMALL_AREA
from profilestack.geometry.path import Point, Points
from profilestack.stack import TurnedRun

Shape = TypeVar("Shape")

NO_BRUSH = Qt.BrushStyle.NoBrush
SMOOTH = QPainter.RenderHint.Antialiasing

TIP = np.zeros((1, 2))
"""The tip of a bit, as its strokes measure."""

OUTLINED = 48
"""With more strokes than this only those that are lit have their outlines drawn."""


class Wood:
    """Paints a document's section; shapes that do not change from frame to frame are kept."""

    def __init__(self, document: Document, axis: Axis) -> None:
        self.document, self.axis = document, axis
        self._kept: dict[int, tuple[Polygon, QPainterPath, Points]] = {}
        self._kept_at = (0.0, 0.0, 0.0)
        self._kept_for: Cut | None = None
        self._silhouettes: dict[tuple[Bit, Lie, int, int], QPainterPath] = {}
        self._constants: dict[str, tuple[object, tuple[float, float, float], Any]] = {}

    def paint(self, painter: QPainter, theme: Theme, ratio: float) -> None:
        """Paint the section; ``ratio`` is the screen's pixels per pixel."""
        report = self.document.report
        if report is None:
            paint_uncut(painter, self.document, self.axis, theme)
            return
        cut = report.cut
        shapes = self._stroke_shapes(cut)
        blank = self._constant(
            "blank", cut.stack.blank, lambda: shape_of(cut.sections[0], self.axis)
        )
        # areas are filled to whole pixels, which is ten times as quick; their outlines are smooth
        painter.setRenderHint(SMOOTH, False)
        painter.fillPath(blank, mixed(theme.blank, theme.paper, 0.4))
        done = self._done(cut)
        self._paint_taken(painter, cut, shapes[:done], blank, theme)
        painter.setRenderHint(SMOOTH)
        self._paint_outlines(painter, cut, shapes, done, theme)
        painter.strokePath(blank, pen(theme.quiet, 1.0, (4.0, 3.0)))
        whole = done == len(cut.strokes)
        comparison = report.comparison
        differences = _differences(comparison) if comparison is not None and whole else []
        section, *differing = shapes_of((cut.sections[done], *differences), self.axis)
        painter.setRenderHint(SMOOTH, False)
        painter.fillPath(section, QColor(theme.wood))
        painter.setRenderHint(SMOOTH)
        painter.strokePath(section, pen(theme.wood_edge, 1.5))
        if isinstance(cut.stack.run, TurnedRun):
            self._paint_center(painter, blank.boundingRect(), theme)
        if comparison is not None:
            if differing:
                _paint_differences(painter, differing, theme, ratio)
            self._paint_target(painter, comparison.target, theme)

    def paint_lit(self, painter: QPainter, theme: Theme, but: int | None = None) -> None:
        """The outlines of the passes that are chosen or pointed at, over everything.

        That of the pass ``but`` is left out.
        """
        report = self.document.report
        if report is None:
            return
        painter.setBrush(NO_BRUSH)
        shapes = self._stroke_shapes(report.cut)
        for stroke, shape in zip(report.cut.strokes, shapes, strict=True):
            index = stroke.number - 1
            if index == but:
                continue
            if index in self.document.chosen:
                painter.setPen(pen(theme.ink, 2.0))
                painter.drawPath(shape)
            elif index == self.document.pointed:
                painter.setPen(pen(theme.ink, 1.5, (5.0, 2.0)))
                painter.drawPath(shape)

    def axes(self) -> list[tuple[Stroke, Points]]:
        """The strokes with their axes, see :func:`axis_points`."""
        report = self.document.report
        if report is None:
            return []
        self._stroke_shapes(report.cut)
        return [(stroke, self._kept[id(stroke.region)][2]) for stroke in report.cut.strokes]

    def _done(self, cut: Cut) -> int:
        """How many strokes are cut at the moment that is looked at."""
        moment = self.document.moment
        if moment is None:
            return len(cut.strokes)
        return sum(1 for stroke in cut.strokes if stroke.number <= moment)

    def _paint_taken(
        self,
        painter: QPainter,
        cut: Cut,
        shapes: list[QPainterPath],
        blank: QPainterPath,
        theme: Theme,
    ) -> None:
        """What each pass takes: the first that comes to a place has it, so it is painted last."""
        painter.save()
        painter.setClipPath(blank)
        tints = [mixed(theme.blank, theme.paper, share) for share in (0.15, 0.55, 0.85)]
        # by lamp the bright colour of what is chosen would outshine the wood
        chosen, pointed = (
            mixed(theme.chosen, theme.paper, share)
            for share in ((0.72, 0.84) if theme.name == "dark" else (0.0, 0.5))
        )
        for stroke, shape in zip(
            reversed(cut.strokes[: len(shapes)]), reversed(shapes), strict=True
        ):
            index = stroke.number - 1
            color = tints[stroke.number % 3]
            if index in self.document.chosen:
                color = chosen
            elif index == self.document.pointed:
                color = pointed
            painter.fillPath(shape, color)
        painter.restore()

    def _paint_outlines(
        self, painter: QPainter, cut: Cut, shapes: list[QPainterPath], done: int, theme: Theme
    ) -> None:
        if len(shapes) > OUTLINED:
            return
        painter.setBrush(NO_BRUSH)
        painter.setPen(pen(mixed(theme.quiet, theme.paper, 0.35), 0.0))
        for shape in shapes[:done]:
            painter.drawPath(shape)
        painter.setPen(pen(mixed(theme.quiet, theme.paper, 0.35), 1.0, (2.0, 3.0)))
        for shape in shapes[done:]:
            painter.drawPath(shape)

    def _paint_center(self, painter: QPainter, box: QRectF, theme: Theme) -> None:
        """The line that a turned part turns about."""
        y = self.axis.pixel_of_z(0.0)
        painter.setPen(pen(theme.ink, 1.0, (14.0, 4.0, 3.0, 4.0)))
        painter.drawLine(QPointF(box.left() - 16.0, y), QPointF(box.right() + 16.0, y))

    def _paint_target(self, painter: QPainter, target: Points, theme: Theme) -> None:
        painter.setBrush(NO_BRUSH)
        painter.setPen(pen(theme.target, 2.0))
        line = self._constant("target", target, lambda: chain_shape(target, self.axis))
        painter.drawPolyline(line)
        before = self.document.drawn_before
        if before is not None:
            painter.setPen(pen(theme.quiet, 1.0, (5.0, 4.0)))
            painter.drawPolyline(chain_shape(before.flatten(SLIVER), self.axis))
        painter.setPen(pen(theme.leftover, 5.0, (0.6, 0.8)))
        for stretch in self.document.unreached:
            chain = stretch_of(target, stretch.begin, stretch.end)
            painter.drawPolyline(chain_shape(chain, self.axis))

    def _constant(self, name: str, source: object, make: Callable[[], Shape]) -> Shape:
        """A shape that is made anew only when its source, or the axis, is another one."""
        at = (self.axis.left, self.axis.top, self.axis.scale)
        kept = self._constants.get(name)
        if kept is None or kept[0] is not source or kept[1] != at:
            kept = (source, at, make())
            self._constants[name] = kept
        shape: Shape = kept[2]
        return shape

    def _stroke_shapes(self, cut: Cut) -> list[QPainterPath]:
        """The outline of each stroke; in a drag all but those of one pass are kept."""
        at = (self.axis.left, self.axis.top, self.axis.scale)
        if cut is self._kept_for and at == self._kept_at:
            return [self._kept[id(stroke.region)][1] for stroke in cut.strokes]
        kept = self._kept if at == self._kept_at else {}
        if self.axis.scale != self._kept_at[2]:
            self._silhouettes = {}
        used: dict[int, tuple[Polygon, QPainterPath, Points]] = {}
        for stroke in cut.strokes:
            key = id(stroke.region)  # the region is kept beside it, so that no other gets its id
            found = kept.get(key)
            if found is None:
                found = (stroke.region, self._stroke_shape(stroke), axis_points(stroke))
            used[key] = found
        self._kept, self._kept_at, self._kept_for = used, at, cut
        return [used[id(stroke.region)][1] for stroke in cut.strokes]

    def _stroke_shape(self, stroke: Stroke) -> QPainterPath:
        """Where a bit is moved its silhouette stays the same: it only lies elsewhere."""
        tip = stroke.to_section(TIP)[0]
        at = QPointF(self.axis.pixel_of_x(tip[0]), self.axis.pixel_of_z(tip[1]))
        key = (stroke.bit, stroke.lie, stroke.copy, stroke.setup.copies)
        silhouette = self._silhouettes.get(key)
        if silhouette is None:
            silhouette = shape_of(stroke.region, self.axis).translated(-at)
            self._silhouettes[key] = silhouette
        return silhouette.translated(at)


def stretch_of(target: Points, begin: Point, end: Point) -> Points:
    """The target's points between the ones nearest to two places, shape (n, 2) [mm]."""
    first, last = (
        int(np.argmin(np.hypot(target[:, 0] - x, target[:, 1] - z))) for x, z in (begin, end)
    )
    inner = target[min(first, last) : max(first, last) + 1]
    ends = (np.array([begin]), np.array([end]))
    return np.concatenate((ends[first > last], inner, ends[first <= last]))


def _differences(comparison: Comparison) -> list[BaseGeometry]:
    """Leftover and overcut, as far as they are to be seen."""
    return _thick((comparison.leftover_region, comparison.overcut_region))


def _paint_differences(
    painter: QPainter, shapes: list[QPainterPath], theme: Theme, ratio: float
) -> None:
    """Leftover and overcut, told apart by their hatching."""
    for shape, color, crossed in zip(
        shapes, (theme.leftover, theme.overcut), (False, True), strict=True
    ):
        if shape.isEmpty():
            continue
        painter.setRenderHint(SMOOTH, False)
        painter.fillPath(shape, hatch(color, ratio, crossed=crossed))
        painter.setRenderHint(SMOOTH)
        painter.setBrush(NO_BRUSH)
        painter.setPen(pen(color, 0.0))
        painter.drawPath(shape)


def _thick(regions: tuple[BaseGeometry, ...]) -> list[BaseGeometry]:
    """The regions without the pieces that are no more than the flattening's own slivers."""
    pieces, owner = shapely.get_parts(np.array(regions, dtype=object), return_index=True)
    area, length = shapely.area(pieces), shapely.length(pieces)
    thick = (area > SMALL_AREA) & (2.0 * area > SLIVER * length)
    return [shapely.multipolygons(pieces[thick & (owner == k)]) for k in range(len(regions))]


def paint_uncut(painter: QPainter, document: Document, axis: Axis, theme: Theme) -> None:
    """The blank and the wanted profile of what cannot be cut: one sees where they part."""
    stack, chord = document.stack, SEEN / axis.scale
    blank = QPainterPath()
    blank.addPolygon(chain_shape(stack.blank.outline().flatten(chord), axis))
    painter.setRenderHint(SMOOTH)
    painter.fillPath(blank, mixed(theme.blank, theme.paper, 0.4))
    painter.strokePath(blank, pen(theme.quiet, 1.0, (4.0, 3.0)))
    if stack.target is not None:
        painter.setBrush(NO_BRUSH)
        painter.setPen(pen(theme.target, 2.0))
        painter.drawPolyline(chain_shape(stack.target.path().flatten(chord), axis))

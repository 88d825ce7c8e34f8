"""How a bit gets into the wood and out of it."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import Polygon

from profilestack.bits.edge import has_undercut, largest_radius
from profilestack.cutting.caution import Caution
from profilestack.cutting.cut import Cut
from profilestack.cutting.stroke import Stroke, silhouette_points
from profilestack.geometry.region import intersect, polygon_from_points
from profilestack.stack import CurvedRun, StraightRun


def has_open_end(cut: Cut, stroke: Stroke) -> bool:
    """Whether the stroke starts or stops in the open, beyond an end of the part."""
    run = cut.stack.run
    if isinstance(run, StraightRun):
        return stroke.span is None or stroke.span[0] <= 0.0 or stroke.span[1] >= run.length
    return isinstance(run, CurvedRun) and run.angle < 360.0


def from_the_end(cut: Cut) -> Iterator[Caution]:
    """Bits that narrow above their tip cannot be dropped in or lifted out."""
    for single in cut.passes:
        if not has_undercut(single.bit):
            continue
        for k in range(single.first, single.last):
            stroke = cut.strokes[k]
            lifted = _lifted(stroke, cut.chord)
            over = intersect(cut.sections[k + 1], lifted, f"pass {single.number}")
            if over.area < 0.01:
                continue
            if has_open_end(cut, stroke):
                yield Caution("enter-from-end", "warn", single.number, _FROM_END)
            else:
                yield Caution("enter-from-end", "stop", single.number, _NO_END)
            break


_FROM_END = (
    "The bit is wider below than above: enter and leave at the ends of the part, and never lift "
    "it on the way."
)
_NO_END = (
    "The bit is wider below than above and this cut has no open end: it could neither get in "
    "nor out; let the cut run out at an end, or take another bit."
)


def _lifted(stroke: Stroke, chord: float) -> Polygon:
    """All that the bit's edge sweeps when lifted straight out, in the section plane."""
    points = silhouette_points(stroke.bit, chord)
    up = np.array((0.0, max(0.0, stroke.lie.height - stroke.tip)))
    starts, ends = points[:-1], points[1:]
    quads = np.stack((starts, ends, ends + up, starts + up), axis=1)
    swept = shapely.union_all(shapely.make_valid(shapely.polygons(quads)))
    whole = swept if isinstance(swept, Polygon) else shapely.convex_hull(swept)
    outline = shapely.get_coordinates(shapely.get_exterior_ring(whole))
    return polygon_from_points(stroke.to_section(outline))


def plunging(cut: Cut) -> Iterator[Caution]:
    """Bits that do not cut at their middle need a way in from an end or a side."""
    width_slack = 1e-6
    for single in cut.passes:
        if single.bit.plunges or single.removed_area < 1e-6:
            continue
        radius = largest_radius(single.bit)
        for stroke in cut.strokes[single.first : single.last]:
            beside = (
                stroke.axis - radius < -width_slack
                or stroke.axis + radius > stroke.lie.width + width_slack
            )
            if not has_open_end(cut, stroke) and not beside:
                yield Caution("cannot-plunge", "stop", single.number, _PLUNGE)
                break


_PLUNGE = (
    "The bit does not cut at its middle and the run gives no way in from an end or a side: take "
    "a plunging bit, or ramp in at 2 to 3 degrees where the bit's maker allows it."
)

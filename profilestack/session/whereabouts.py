"""What lies at a place of the section: the pass that cut there, and all of it in words."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.drawing.wording import signed_text
from profilestack.geometry.path import Point
from profilestack.jobs.cut import CutReport
from profilestack.units import format_length, to_units

ON_EDGE = 1e-6
"""A place of the section's outline lies so near to the edge of the stroke that made it [mm]."""


BESIDE = 1.0
"""A place so far from the blank [mm] is beside it: a hand does not point more finely."""


@dataclass(frozen=True, slots=True)
class Surface:
    """The nearest place of the cut surface: ``at`` [mm], ``number`` of the pass that made it.

    ``number`` is 0 for the blank's own face.
    """

    at: Point
    number: int


class FineText:
    """Deviations without their unit, many in a row: as :func:`fine_text` says them, but quicker."""

    def __init__(self, units: str) -> None:
        self._factor = to_units(1.0, units)
        self._digits = 2 if units == "mm" else 3

    def __call__(self, mm: float) -> str:
        """The deviation [mm] with the step's decimals."""
        return f"{mm * self._factor:.{self._digits}f}"


def stroke_at(cut: Cut, place: Point, reach: float = 0.0) -> int | None:
    """The index of the stroke that takes the wood at a place, or whose edge is within ``reach``.

    The first that comes there takes it; beside all of them the nearest edge counts.
    """
    if not cut.strokes:
        return None
    regions = [stroke.region for stroke in cut.strokes]
    far = shapely.distance(regions, shapely.Point(place))
    inside = np.flatnonzero(far == 0.0)
    if len(inside):
        return int(inside[0])
    nearest = int(np.argmin(far))
    return nearest if far[nearest] <= reach else None


def surface_near(cut: Cut, place: Point) -> Surface | None:
    """The place of the finished section's outline that is nearest, and which pass made it."""
    section = cut.sections[-1]
    if section.is_empty:
        return None
    outline = shapely.boundary(section)
    on = shapely.get_coordinates(shapely.shortest_line(outline, shapely.Point(place)))[0]
    at = (float(on[0]), float(on[1]))
    number = 0
    if cut.strokes:
        # no place of the outline lies inside a stroke: touching one is lying on its edge
        far = shapely.distance([stroke.region for stroke in cut.strokes], shapely.Point(at))
        touched = np.flatnonzero(far <= ON_EDGE)
        number = cut.strokes[int(touched[0])].number if len(touched) else 0
    return Surface(at, number)


def deviation_near(comparison: Comparison, place: Point) -> tuple[float, Point]:
    """The signed deviation at the target's sample that is nearest, and where that is [mm]."""
    off = comparison.samples - np.array(place)
    nearest = int(np.argmin(np.einsum("ij,ij->i", off, off)))
    x, z = comparison.samples[nearest]
    return float(comparison.deviation[nearest]), (float(x), float(z))


def is_beside(cut: Cut, place: Point) -> bool:
    """Whether a place lies left, right or under the blank, where it means no surface."""
    left, bottom, right, _ = cut.sections[0].bounds
    return not left - BESIDE <= place[0] <= right + BESIDE or place[1] < bottom - BESIDE


def words_at(report: CutReport, place: Point, units: str) -> str:
    """One line on a place: x, z, how far the surface there is proud or gouged, and who made it."""
    parts = [f"x {length_text(place[0], units)}   z {length_text(place[1], units)}"]
    if is_beside(report.cut, place):
        return "  ·  ".join((*parts, "beside the blank"))
    if report.comparison is not None:
        value, _ = deviation_near(report.comparison, place)
        parts.append(deviation_words(value, units))
    surface = surface_near(report.cut, place)
    if surface is None:
        parts.append("no wood is left")
    elif surface.number == 0:
        parts.append("face of the blank")
    else:
        single = report.stack.passes[surface.number - 1]
        parts.append(f"cut by pass {surface.number}, {single.bit}")
    return "  ·  ".join(parts)


def deviation_words(value: float, units: str) -> str:
    """A signed deviation as the shop says it."""
    text = signed_text(value, units)
    if text[1:].strip("0.") == "":
        return "on the wanted profile"
    word = "leftover" if value > 0.0 else "overcut"
    return f"{word} {text} {units} ({'proud' if value > 0.0 else 'gouge'})"


def length_text(mm: float, units: str) -> str:
    """A coordinate to the step's digits, so that it does not jump in width as it runs."""
    if units == "mm":
        return f"{mm:.2f} mm"
    return format_length(round(mm, 3), units)

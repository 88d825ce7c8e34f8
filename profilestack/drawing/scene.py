"""The section drawn once, for pictures and for sheets: blank, wood, cuts, target, differences."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.drawing.balloons import BALLOON, numbered
from profilestack.drawing.drawing import Lines, Mark, area, circle
from profilestack.drawing.palette import (
    BLANK_PEN,
    LEFTOVER_LOOK,
    OVERCUT_LOOK,
    TARGET_PEN,
    Look,
    Pen,
    pass_look,
)
from profilestack.drawing.placing import Placing
from profilestack.geometry.path import Path, Point, Points
from profilestack.geometry.region import Region, pieces_of

SMALL_AREA = 1e-6
"""Regions of less than this [mm2] are rounding, not wood."""

SLIVER = 0.003
"""Differences no thicker than this [mm] are not drawn: arcs are flattened to a third of it."""


FITTED_STEP = 0.05
"""A drawn profile is compared with the fitted one in steps of this [mm]."""


def blank_marks(cut: Cut, placing: Placing, pen: Pen = BLANK_PEN) -> list[Mark]:
    """The blank's outline."""
    return [Lines(placing.rings(cut.blank), pen, closed=True)]


def removed_regions(cut: Cut) -> list[tuple[int, Region]]:
    """The number of each pass, and the region that it removes."""
    return [(single.number, cut.removed_by(single)) for single in cut.passes]


def removed_marks(removed: Sequence[tuple[int, Region]], placing: Placing) -> list[Mark]:
    """What each pass removes, told apart by hatch and tint."""
    marks: list[Mark] = []
    for number, region in removed:
        if region.area > SMALL_AREA:
            marks += area(placing.rings(region), pass_look(number))
    return marks


def pass_numbers(
    removed: Sequence[tuple[int, Region]], placing: Placing
) -> list[tuple[int, Point]]:
    """Where the number of each pass stands inside what it removes, if there is room for it."""
    found = []
    for number, region in removed:
        pieces = [piece for piece in pieces_of(region) if piece.area > SMALL_AREA]
        if not pieces:
            continue
        on_paper = shapely.transform(pieces[0], placing.points)
        inside = shapely.maximum_inscribed_circle(on_paper, tolerance=0.1)
        if shapely.length(inside) >= BALLOON:
            middle = shapely.get_coordinates(inside)[0]
            found.append((number, (float(middle[0]), float(middle[1]))))
    return found


def pass_number_marks(numbers: Sequence[tuple[int, Point]]) -> list[Mark]:
    """The numbers, each in a small circle."""
    return [mark for number, middle in numbers for mark in numbered(number, middle, 1.9)]


def section_marks(cut: Cut, placing: Placing, look: Look) -> list[Mark]:
    """The section that all passes leave."""
    return area(placing.rings(cut.section), look)


def difference_marks(comparison: Comparison, placing: Placing) -> list[Mark]:
    """Leftover and overcut, hatched; slivers no thicker than flattening leaves are passed over."""
    marks: list[Mark] = []
    for region, look in (
        (comparison.leftover_region, LEFTOVER_LOOK),
        (comparison.overcut_region, OVERCUT_LOOK),
    ):
        for piece in pieces_of(region):
            if piece.area > SMALL_AREA and 2.0 * piece.area > SLIVER * piece.length:
                marks += area(placing.rings(piece), look)
    return marks


def target_marks(comparison: Comparison, placing: Placing, pen: Pen = TARGET_PEN) -> list[Mark]:
    """The wanted profile."""
    return [Lines((placing.points(comparison.target),), pen)]


def drawn_chains(
    drawn: Path | None, comparison: Comparison | None, placing: Placing
) -> tuple[Points, ...]:
    """The profile as it was drawn on the sheet, wherever the fitted one leaves it."""
    if drawn is None or comparison is None:
        return ()
    points = _walked(drawn.flatten(SLIVER / 3.0), FITTED_STEP)
    fitted = shapely.LineString(comparison.target)
    apart = shapely.distance(fitted, shapely.points(points)) > SLIVER
    # each stretch begins and ends on the fitted profile
    near = np.convolve(apart, (1, 1, 1), mode="same") > 0
    shown = np.flatnonzero(near)
    chains = np.split(shown, np.flatnonzero(np.diff(shown) > 1) + 1)
    return tuple(placing.points(points[chain]) for chain in chains if len(chain) > 1)


def spot(at: Point, color: str, radius: float = 0.9) -> list[Mark]:
    """A ring around a place too small to see [mm on the sheet]."""
    return circle(at, radius, Look(None, (), Pen(color, 0.35)))


def outline_points(cut: Cut, comparison: Comparison | None, placing: Placing) -> Points:
    """Points along the outlines on the sheet, about 0.7 mm apart: what labels should not hide."""
    chains = [np.concatenate((ring, ring[:1])) for ring in placing.rings(cut.section)]
    if comparison is not None:
        chains.append(placing.points(comparison.target))
    return np.concatenate([_walked(chain, 0.7) for chain in chains])


def _walked(chain: Points, step: float) -> Points:
    places = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(chain, axis=0).T))))
    count = max(2, math.ceil(float(places[-1]) / step))
    even = np.linspace(0.0, float(places[-1]), count)
    return np.column_stack(
        (np.interp(even, places, chain[:, 0]), np.interp(even, places, chain[:, 1]))
    )


def waste_direction(comparison: Comparison, at: Point, placing: Placing) -> Point:
    """From a place near the target square to it into the waste, on the sheet (length 1)."""
    target = comparison.target
    near = int(np.argmin(np.hypot(target[:, 0] - at[0], target[:, 1] - at[1])))
    first, last = target[max(0, near - 1)], target[min(len(target) - 1, near + 1)]
    along = last - first
    size = math.hypot(*along)
    if size == 0.0:
        return (0.0, 1.0)
    # the wood is on the right of an open target; a closed one may run either way
    aside = (-float(along[1]) / size, float(along[0]) / size)
    probe = shapely.Point(at[0] + 0.05 * aside[0], at[1] + 0.05 * aside[1])
    if comparison.wanted.contains(probe):
        aside = (-aside[0], -aside[1])
    return placing.direction(aside)

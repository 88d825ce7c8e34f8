"""In how many depths a pass is taken, and which.

The stretch that is cut at once is bounded by the usual depth of one step, its section by what the
machine takes; the last depth of a finishing pass is a light one. All three are common practice,
from memory.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.geometry.region import intersect, subtract, unite
from profilestack.planning.shop import step_depth
from profilestack.planning.tasks import Task

LIGHT = 0.8
"""A cut nowhere thicker than this [mm] is light, however tall it is (common practice)."""

GRID = 0.1
"""Depths in between are whole numbers of this [mm]."""

MOST = 60
"""More depths than this are not planned for one pass."""

NOTHING = 1e-4
"""A cut smaller than this [mm2] is none."""

COLUMNS = 17
"""Heights of a cut are measured in so many columns."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What one travel may take: height [mm], section [mm2]; what a finishing pass leaves [mm]."""

    height: float
    section: float
    allowance: float


@dataclass(frozen=True, slots=True)
class Depths:
    """The depths of a pass [mm], the last its own; whether each keeps to the limits.

    ``section`` is the largest that one travel takes [mm2].
    """

    depths: tuple[float, ...]
    kept: bool
    section: float


def limits_for(task: Task, group: str, section: float, allowance: float) -> Limits:
    """The limits of a task in a wood of a group."""
    return Limits(step_depth(task.diameter, group), section, allowance)


def depths_of(task: Task, local: BaseGeometry, limits: Limits, stands_over: bool) -> Depths:
    """The depths in which a task takes ``local``, what it removes, on the bench.

    Where wood ``stands_over`` the edge, and stays, the bit may only come in at its full depth:
    higher up it would take what has to stay.
    """
    full = task.single.depth
    pieces = taken_at(task, local, full)
    whole = max((piece.area for piece in pieces), default=0.0)
    if whole < NOTHING or all(is_light(piece) for piece in pieces):
        return Depths((full,), whole <= limits.section, whole)
    fits = all(_fits(piece, limits) for piece in pieces)
    if task.one_depth or stands_over:
        return Depths((full,), fits, whole)
    if task.single.relief and fits:
        return Depths((full,), True, whole)
    last = full if task.single.relief else _grid_below(full - limits.allowance)
    if last <= 0.0:
        return Depths((full,), fits, whole)
    rough, kept = _rough_depths(task, local, limits, last)
    depths = rough if task.single.relief else (*rough, full)
    section = 0.0
    left = local
    for depth in depths:
        for piece in taken_at(task, left, depth):
            section = max(section, piece.area)
        left = _without(task, left, depth)
    return Depths(depths, kept and section <= limits.section * 1.001, section)


def taken_at(task: Task, local: BaseGeometry, depth: float) -> list[BaseGeometry]:
    """What each travel takes out of ``local`` at a depth, one after another."""
    found = []
    for swept in task.at(depth):
        found.append(intersect(local, swept))
        if len(task.first) > 1:
            local = subtract(local, swept)
    return found


def _without(task: Task, local: BaseGeometry, depth: float) -> BaseGeometry:
    return subtract(local, unite(task.at(depth)))


def is_light(piece: BaseGeometry) -> bool:
    """Whether a cut is nowhere thicker than a light one."""
    return piece.area < NOTHING or bool(_thick_part(piece).is_empty)


def _thick_part(piece: BaseGeometry) -> BaseGeometry:
    return shapely.buffer(piece, -LIGHT / 2.0, quad_segs=2)


def height_of(piece: BaseGeometry) -> float:
    """The tallest stretch of a cut that is not light [mm]; 0 where all of it is light."""
    thick = _thick_part(piece)
    if thick.is_empty:
        return 0.0
    left, _, right, _ = shapely.bounds(thick)
    _, low, _, high = shapely.bounds(piece)
    places = np.linspace(left, right, COLUMNS)
    ends = np.empty((COLUMNS, 2, 2))
    ends[:, :, 0] = places[:, None]
    ends[:, 0, 1], ends[:, 1, 1] = low - 1.0, high + 1.0
    return float(shapely.length(shapely.intersection(shapely.linestrings(ends), piece)).max())


def _fits(piece: BaseGeometry, limits: Limits) -> bool:
    return bool(piece.area <= limits.section) and height_of(piece) <= limits.height + 1e-6


def _rough_depths(
    task: Task, local: BaseGeometry, limits: Limits, last: float
) -> tuple[tuple[float, ...], bool]:
    """The fewest depths down to ``last``, evenly spread where that keeps the limits too."""
    found: list[float] = []
    left, above, kept = local, 0.0, True
    while above < last - 1e-9 and len(found) < MOST:
        here = _deepest(task, left, limits, above, last)
        kept = kept and here is not None
        above = min(last, above + GRID) if here is None else here
        if sum(piece.area for piece in taken_at(task, left, above)) > NOTHING or above == last:
            found.append(above)
        left = _without(task, left, above)
    if len(found) > 1 and kept and (even := _even(task, local, limits, last, found)):
        return even, True
    return tuple(found), kept and len(found) < MOST


def _deepest(
    task: Task, left: BaseGeometry, limits: Limits, above: float, last: float
) -> float | None:
    """The deepest that keeps the limits, below ``above``; None where nothing does."""

    def keeps(depth: float) -> bool:
        return all(_fits(piece, limits) for piece in taken_at(task, left, depth))

    if keeps(last):
        return last
    low = math.floor(above / GRID + 1e-6)
    high = math.ceil(last / GRID - 1e-6)
    while high - low > 1:
        middle = (low + high) // 2
        if keeps(middle * GRID):
            low = middle
        else:
            high = middle
    deepest = round(low * GRID, 6)
    return deepest if deepest > above + 1e-9 else None


def _even(
    task: Task, local: BaseGeometry, limits: Limits, last: float, found: list[float]
) -> tuple[float, ...] | None:
    """As many depths, evenly spread from the first touch; None where one is then too heavy."""
    top = shapely.bounds(local)[3]
    start = max(0.0, task.lie.height - float(top))
    count = len(found)
    depths = [
        round(math.ceil((start + (last - start) * k / count) / GRID - 1e-6) * GRID, 6)
        for k in range(1, count)
    ]
    depths.append(last)
    if any(b - a < GRID / 2.0 for a, b in zip([start, *depths], depths, strict=False)):
        return None
    left = local
    for depth in depths:
        if not all(_fits(piece, limits) for piece in taken_at(task, left, depth)):
            return None
        left = _without(task, left, depth)
    return tuple(depths)


def _grid_below(depth: float) -> float:
    return round(math.floor(depth / GRID + 1e-6) * GRID, 6)

"""A target as it lies on the bench in one setup: what must stay, what must go.

All arrays are in bench coordinates [mm]: x from the left side, z from the bed of the turned
blank's box.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.cut import CHORD as ENGINE_CHORD
from profilestack.cutting.stroke import Lie, lie_of
from profilestack.cutting.wanted import Wanted
from profilestack.finding.arrises import around_arrises, specks_of
from profilestack.finding.crossings import crossings
from profilestack.finding.rims import Rims, rims_of
from profilestack.finding.ruled import Ruled, ruled
from profilestack.geometry.path import Points
from profilestack.geometry.region import as_region, chains_of, polygon_from_points, subtract, unite
from profilestack.planning.lowering import Skyline, skyline_of
from profilestack.stack import Setup
from profilestack.stack.blank import Blank

GRID = 0.1
"""Offsets are tried every so often [mm], and closer where a bit nestles between contacts."""

FINE = 0.01
"""Offsets closer than this [mm] are not tried."""

LEAST_UNDERCUT = 0.25
"""Gaps under hanging wood lower than this [mm] are no work for a bit."""

SPACING = 0.25
"""Points along the target are so far apart [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Aim:
    """A target in the section plane, with what may be cut and what has to be.

    ``kept`` is the wood that no pass may touch.
    ``points`` (n, 2) have to be reached: target points to within the ``leftover`` (the first
    ``touched`` of them), and points that far outside the target, which have to be cut away.
    """

    wanted: Wanted
    kept: BaseGeometry
    points: Points
    touched: int
    leftover: float
    overcut: float


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """One setup of an aim.

    ``wood`` is the top of the kept wood, ``ruled`` the same for looking at many axes; ``fine``
    [mm] is the least distance between two axes. ``kept`` is the kept wood itself, ``stock`` the
    blank. ``rims`` belong to the points near the blank's outline.
    """

    setup: Setup
    lie: Lie
    fine: float
    wood: Skyline
    ruled: Ruled
    kept: BaseGeometry
    stock: BaseGeometry
    points: Points
    touched: int
    leftover: float
    rims: Rims

    @property
    def hanging(self) -> tuple[float, float] | None:
        """From where to where kept wood hangs over waste [mm]: there undercut bits have work."""
        line, bottoms, tops = crossings(chains_of(self.kept), GRID / 2.0)
        under = (line[1:] == line[:-1]) & (bottoms[1:] - tops[:-1] > LEAST_UNDERCUT)
        over = line[1:][under] * (GRID / 2.0)
        return (float(over[0]), float(over[-1])) if len(over) else None

    @property
    def top(self) -> float:
        """Height of the blank's box [mm]."""
        return self.lie.height


def aim_at(wanted: Wanted, leftover: float, overcut: float, spacing: float = SPACING) -> Aim:
    """What a target asks for at the given tolerances [mm].

    Every ``spacing`` [mm] along the target, and at its corners, one point has to be touched to
    within ``leftover``, and one that far outside it cut away. Both are needed for the leftover
    to hold, so a cover of them can never take more passes than a stack that holds everywhere.
    """
    return _aim(wanted, _kept(wanted, overcut), leftover, overcut, spacing)


def aim_again(aim: Aim, leftover: float, spacing: float = SPACING) -> Aim:
    """The same target, asked for at another ``leftover`` or by closer points [mm]."""
    return _aim(aim.wanted, aim.kept, leftover, aim.overcut, spacing)


def _aim(
    wanted: Wanted, kept: BaseGeometry, leftover: float, overcut: float, spacing: float
) -> Aim:
    touch = _spread(wanted, spacing)
    outside = _outside(wanted, leftover, spacing)
    points = np.concatenate((touch, outside))
    return Aim(wanted, kept, points, len(touch), leftover, overcut)


def _kept(wanted: Wanted, overcut: float) -> BaseGeometry:
    """The wanted wood that is farther from the target than the overcut, and the arrises' specks.

    Nothing may be taken from below the ends of the target, along the blank's own outline.
    """
    # the engine sees arcs as chords too: stay that much inside what is allowed
    allowed = overcut - min(ENGINE_CHORD, 0.1 * overcut)
    near = LineString(wanted.points).buffer(allowed, quad_segs=32)
    return unite([subtract(wanted.region, near, "the kept wood"), specks_of(wanted, overcut)])


def _spread(wanted: Wanted, spacing: float) -> Points:
    """Points along the target off the blank's outline: even steps, and every corner.

    Those of half the spacing have those of the whole among them.
    """
    closer = max(1, round(SPACING / spacing))
    count = closer * max(1, int(np.ceil(wanted.length / (closer * spacing)))) + 1
    even = np.linspace(0.0, wanted.length, count)
    samples, places = wanted.samples, wanted.places
    steps = np.diff(samples, axis=0)
    angles = np.arctan2(steps[:, 1], steps[:, 0])
    bends = np.abs((np.diff(angles) + np.pi) % (2.0 * np.pi) - np.pi)
    corners = places[1:-1][bends > np.radians(8.0)]
    at = np.unique(np.concatenate((even, corners)))
    points = np.column_stack((np.interp(at, places, samples[:, 0]),
                              np.interp(at, places, samples[:, 1])))  # fmt: skip
    edge = np.searchsorted(places, at, side="right") - 1
    edge = np.clip(edge, 0, len(places) - 2)
    on_outline = wanted.on_outline[edge] & wanted.on_outline[edge + 1]
    on_outline |= wanted.on_outline[edge] & (np.abs(at - places[edge]) < 1e-9)
    on_outline |= wanted.on_outline[edge + 1] & (np.abs(at - places[edge + 1]) < 1e-9)
    # where the target comes to the outline, the places that lead there have to be reached
    leads = wanted.on_outline & ~_beside(wanted.on_outline)
    return np.concatenate((points[~on_outline], samples[leads]))


def _beside(flags: npt.NDArray[np.bool_]) -> npt.NDArray[np.bool_]:
    """Whether the neighbours on both sides are flagged too; there is nothing beyond the ends."""
    after, before = np.append(flags[1:], True), np.insert(flags[:-1], 0, True)
    return np.asarray(after & before)


def _outside(wanted: Wanted, leftover: float, spacing: float) -> Points:
    """Points at the distance ``leftover`` outside the target, inside the blank."""
    if leftover <= 0.0:
        return np.zeros((0, 2))
    grown = shapely.buffer(wanted.region, leftover, quad_segs=32)
    edge = MultiLineString(chains_of(grown))
    lengths = np.arange(0.0, edge.length, spacing)
    points = shapely.get_coordinates(shapely.line_interpolate_point(edge, lengths))
    points = np.concatenate((points, around_arrises(wanted, leftover)))
    far, place = wanted.line.nearest(points)
    near = np.abs(far - leftover) < 0.02 * leftover + 1e-3
    # beyond the target's ends the blank's own outline is grown: nothing to cut there
    inner = (place > 1e-6) & (place < wanted.length - 1e-6)
    return points[near & inner]


def lay(aim: Aim, blank: Blank, setup: Setup, resolution: float) -> Bench:
    """An aim as it lies in a setup where offsets are whole numbers of ``resolution`` [mm]."""
    lie = lie_of(blank, setup.angle)
    outline = polygon_from_points(blank.outline().flatten(1e-3))
    points, stock = lie.to_bench(points_in(aim, outline)), shapely.transform(outline, lie.to_bench)
    kept = shapely.transform(aim.kept, lie.to_bench)
    wood = skyline_of(chains_of(kept))
    fine = resolution * max(1, round(FINE / resolution))
    split = max(1, round(2.0 * fine / FINE))
    grid = ruled(wood, lie.width, fine / split, split * max(1, round(GRID / fine)))
    rims = rims_of(points, np.arange(len(points)) < aim.touched, stock, aim.leftover)
    return Bench(setup, lie, fine, wood, grid, kept, stock, points, aim.touched, aim.leftover, rims)


def lay_again(aim: Aim, bench: Bench, outline: BaseGeometry) -> Bench:
    """The bench with the points of another aim at the same target; ``outline`` is the blank's."""
    points = bench.lie.to_bench(points_in(aim, outline))
    rims = rims_of(points, np.arange(len(points)) < aim.touched, bench.stock, aim.leftover)
    return replace(bench, points=points, touched=aim.touched, leftover=aim.leftover, rims=rims)


def points_in(aim: Aim, stock: BaseGeometry) -> Points:
    """The touched points of an aim, and those of the others that lie in the stock [mm].

    They are chosen in the section plane, so that all setups have the same.
    """
    shapely.prepare(stock)
    touched = np.arange(len(aim.points)) < aim.touched
    return aim.points[touched | shapely.contains_xy(stock, aim.points)]


def waste_of(aim: Aim, blank_region: BaseGeometry) -> BaseGeometry:
    """Stock that has to go: all of the blank that stands proud by more than the leftover."""
    grown = shapely.buffer(aim.wanted.region, max(aim.leftover, 1e-3), quad_segs=16)
    waste = subtract(blank_region, grown, "the waste")
    return as_region(waste)

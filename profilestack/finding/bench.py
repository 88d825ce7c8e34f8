"""A target as it lies on the bench in one setup: what must stay, what must go.

All arrays are in bench coordinates [mm]: x from the left side, z from the bed of the turned
blank's box.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.stroke import Lie, lie_of
from profilestack.cutting.wanted import Wanted
from profilestack.finding.crossings import crossings
from profilestack.finding.skyline import Ruled, Skyline, ruled, skyline_of
from profilestack.geometry.path import Points
from profilestack.geometry.region import chains_of, pieces_of, subtract
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

    ``kept`` is the wood that no pass may touch: ``body``, the wanted region less the overcut
    allowed, and a speck of wood in each of its outward corners.
    ``points`` (n, 2) have to be reached: target points to within the ``leftover`` (the first
    ``touched`` of them), and points that far outside the target, which have to be cut away.
    """

    wanted: Wanted
    body: BaseGeometry
    kept: BaseGeometry
    points: Points
    touched: int
    leftover: float
    overcut: float


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """One setup of an aim.

    ``wood`` is the top of the kept wood, ``ruled`` the same for looking at many axes; ``fine``
    [mm] is the least distance between two axes. ``kept`` is the kept wood itself.
    """

    setup: Setup
    lie: Lie
    fine: float
    wood: Skyline
    ruled: Ruled
    kept: BaseGeometry
    points: Points
    touched: int
    leftover: float

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
    # a corner rounded off by the erosion would be missing by more than the tolerance: keep it sharp
    body = shapely.buffer(wanted.region, -overcut, join_style="mitre", mitre_limit=20.0)
    kept = shapely.union_all([body, _corners_kept(wanted, overcut)])
    touch = _spread(wanted, spacing)
    outside = _outside(wanted, leftover, spacing)
    points = np.concatenate((touch, outside))
    return Aim(wanted, body, kept, points, len(touch), leftover, overcut)


def _corners_kept(wanted: Wanted, overcut: float) -> BaseGeometry:
    """A speck of wood within the tolerance of each outward corner, which must not go missing."""
    corners, outward = _sharp_corners(wanted, outward=True)
    inside = corners - 0.9 * overcut * outward
    return shapely.union_all(shapely.buffer(shapely.points(inside), 0.05 * overcut, quad_segs=2))


def _sharp_corners(wanted: Wanted, outward: bool) -> tuple[Points, Points]:
    """Corners of the target where wood stands out (or waste stands in), and the way out of each.

    Both have shape (n, 2); the ways have length 1 and lead out of the wood along the bisector.
    """
    points = wanted.points
    before, after = points[1:-1] - points[:-2], points[2:] - points[1:-1]
    before = before / np.hypot(*before.T)[:, None]
    after = after / np.hypot(*after.T)[:, None]
    bend = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    ways = before - after
    sharp = np.flatnonzero(np.abs(bend) > 0.3)
    corners, ways = points[1:-1][sharp], ways[sharp]
    ways = ways / np.hypot(*ways.T)[:, None]
    inward = shapely.contains_xy(wanted.region, corners - 0.01 * ways)
    kept = inward if outward else ~inward
    return corners[kept], ways[kept]


def _spread(wanted: Wanted, spacing: float) -> Points:
    """Points along the target off the blank's outline: even steps, and every corner."""
    count = max(2, int(np.ceil(wanted.length / spacing)) + 1)
    even = np.linspace(0.0, wanted.length, count)
    samples, places = wanted.samples, wanted.places
    steps = np.diff(samples, axis=0)
    angles = np.arctan2(steps[:, 1], steps[:, 0])
    bends = np.abs((np.diff(angles) + np.pi) % (2.0 * np.pi) - np.pi)
    corners = places[1:-1][bends > np.radians(8.0)]
    # just beside the places where the target comes to the outline, which themselves count nothing
    ends = places[wanted.on_outline]
    at = np.unique(np.clip(np.concatenate((even, corners, ends - 0.005, ends + 0.005)), 0.0, None))
    at = at[at <= wanted.length]
    points = np.column_stack((np.interp(at, places, samples[:, 0]),
                              np.interp(at, places, samples[:, 1])))  # fmt: skip
    edge = np.searchsorted(places, at, side="right") - 1
    edge = np.clip(edge, 0, len(places) - 2)
    on_outline = wanted.on_outline[edge] & wanted.on_outline[edge + 1]
    on_outline |= wanted.on_outline[edge] & (np.abs(at - places[edge]) < 1e-9)
    on_outline |= wanted.on_outline[edge + 1] & (np.abs(at - places[edge + 1]) < 1e-9)
    return points[~on_outline]


def _outside(wanted: Wanted, leftover: float, spacing: float) -> Points:
    """Points at the distance ``leftover`` outside the target, inside the blank."""
    if leftover <= 0.0:
        return np.zeros((0, 2))
    grown = shapely.buffer(wanted.region, leftover, quad_segs=32)
    edge = shapely.union_all([shapely.linestrings(chain) for chain in chains_of(grown)])
    lengths = np.arange(0.0, edge.length, spacing)
    points = shapely.get_coordinates(shapely.line_interpolate_point(edge, lengths))
    points = np.concatenate((points, _round_corners(wanted, leftover)))
    far, place = wanted.line.nearest(points)
    near = np.abs(far - leftover) < 0.02 * leftover + 1e-3
    # beyond the target's ends the blank's own outline is grown: nothing to cut there
    inner = (place > 1e-6) & (place < wanted.length - 1e-6)
    return points[near & inner]


def _round_corners(wanted: Wanted, leftover: float) -> Points:
    """Points around each outward corner, where a ridge would stand highest."""
    corners, outward = _sharp_corners(wanted, outward=True)
    turned = []
    for degrees in (-30.0, -15.0, 0.0, 15.0, 30.0):
        cos, sin = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
        x = cos * outward[:, 0] - sin * outward[:, 1]
        z = sin * outward[:, 0] + cos * outward[:, 1]
        turned.append(corners + leftover * np.column_stack((x, z)))
    return np.concatenate(turned)


def lay(aim: Aim, blank: Blank, setup: Setup, resolution: float) -> Bench:
    """An aim as it lies in a setup where offsets are whole numbers of ``resolution`` [mm]."""
    lie = lie_of(blank, setup.angle)
    outside = _inside_blank(aim, blank)
    points = np.concatenate((aim.points[: aim.touched], outside))
    kept = shapely.transform(aim.kept, lie.to_bench)
    wood = skyline_of(chains_of(kept))
    fine = resolution * max(1, round(FINE / resolution))
    split = max(1, round(2.0 * fine / FINE))
    grid = ruled(wood, lie.width, fine / split, split * max(1, round(GRID / fine)))
    laid = lie.to_bench(points)
    return Bench(setup, lie, fine, wood, grid, kept, laid, aim.touched, aim.leftover)


def _inside_blank(aim: Aim, blank: Blank) -> Points:
    body = shapely.polygons(blank.outline().flatten(1e-3))
    shapely.prepare(body)
    outside = aim.points[aim.touched :]
    return outside[shapely.contains_xy(body, outside)]


def waste_of(aim: Aim, blank_region: BaseGeometry) -> BaseGeometry:
    """Stock that has to go: all of the blank that stands proud by more than the leftover."""
    grown = shapely.buffer(aim.wanted.region, max(aim.leftover, 1e-3), quad_segs=16)
    waste = subtract(blank_region, grown, "the waste")
    return shapely.multipolygons(pieces_of(waste))

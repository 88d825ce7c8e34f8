"""The places of a target that a bit may be good for: its pieces, its arcs, its inside corners."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.wanted import Wanted
from profilestack.geometry.path import Arc, Point, Points, Segment
from profilestack.stack.blank import Blank

APART = 0.5
"""Places along the target are so far apart [mm], and farther on a long one."""

MOST = 500
"""About so many places are looked at on a target."""

FEWEST = 5
"""So many at least on each of its pieces."""

FLAT_BEND = math.radians(8.0)
"""A bend of less than this is no corner."""

ON_OUTLINE = 2e-4
"""Places so near to the blank's outline [mm] need no cut."""

BESIDE = 1e-3
"""So far beside the target [mm] is looked at to tell wood from waste."""


@dataclass(frozen=True, slots=True)
class Arch:
    """An arc of the target: its radius [mm], whether it is hollow or round, its number along it."""

    radius: float
    hollow: bool
    number: int

    @property
    def said(self) -> str:
        """What a shop calls it."""
        return "hollow" if self.hollow else "round"


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Places of a target that have to be reached.

    ``points`` (n, 2) [mm] in the section plane, those of each piece from ``firsts`` on, then the
    ``corners`` inside corners. ``lengths`` [mm] and ``arches`` are the pieces' own.
    """

    points: Points
    firsts: npt.NDArray[np.intp]
    lengths: npt.NDArray[np.float64]
    arches: tuple[Arch | None, ...]
    corners: int

    @property
    def on_pieces(self) -> int:
        """How many places lie on pieces; those of the corners follow."""
        return len(self.points) - self.corners


def places_of(wanted: Wanted, blank: Blank) -> Places:
    """The places of a target off the blank's outline."""
    outline = shapely.LinearRing(blank.outline().flatten(1e-4))
    shapely.prepare(outline)
    segments = wanted.path.segments
    apart = max(APART, wanted.path.length / MOST)
    points: list[Points] = []
    firsts, lengths, arches = [], [], []
    count = 0
    for number, piece in enumerate(segments):
        along = _along(piece, max(FEWEST, math.ceil(piece.length / apart)))
        free = along[~shapely.dwithin(outline, shapely.points(along), ON_OUTLINE)]
        if len(free) == 0:
            continue
        points.append(free)
        firsts.append(count)
        lengths.append(piece.length * len(free) / len(along))
        arches.append(_arch(piece, number, wanted.region))
        count += len(free)
    corners = _inside_corners(segments, wanted)
    corners = corners[~shapely.dwithin(outline, shapely.points(corners), ON_OUTLINE)]
    return Places(
        np.concatenate((*points, corners)) if points else corners,
        np.array(firsts, dtype=np.intp),
        np.array(lengths),
        tuple(arches),
        len(corners),
    )


def _along(piece: Segment, count: int) -> Points:
    """Even places on a piece, none of them at its ends."""
    shares = (np.arange(count) + 0.5) / count
    if isinstance(piece, Arc):
        angles = piece.start_angle + shares * piece.sweep
        around = np.column_stack((np.cos(angles), np.sin(angles)))
        return np.asarray(np.array(piece.center) + piece.radius * around)
    start, end = np.array(piece.start), np.array(piece.end)
    return np.asarray(start + shares[:, None] * (end - start))


def _arch(piece: Segment, number: int, region: BaseGeometry) -> Arch | None:
    if not isinstance(piece, Arc):
        return None
    middle = _along(piece, 1)[0]
    inward = (np.array(piece.center) - middle) / piece.radius
    x, z = middle + min(BESIDE, piece.radius / 2.0) * inward
    return Arch(piece.radius, not shapely.contains_xy(region, x, z), number)


def _inside_corners(segments: tuple[Segment, ...], wanted: Wanted) -> Points:
    """The corners between two pieces that are open for less than half a turn."""
    found = []
    pairs = list(itertools.pairwise(segments))
    if wanted.path.is_closed:
        pairs.append((segments[-1], segments[0]))
    for before, after in pairs:
        arriving, leaving = _direction(before, at_end=True), _direction(after, at_end=False)
        bend = (leaving - arriving + math.pi) % math.tau - math.pi
        if abs(bend) < FLAT_BEND:
            continue
        # straight on from a corner there is wood where it is an inside one
        corner: Point = before.end
        x, z = (c + BESIDE * f(arriving) for c, f in zip(corner, (math.cos, math.sin), strict=True))
        if shapely.contains_xy(wanted.region, x, z):
            found.append(corner)
    return np.array(found, dtype=np.float64).reshape(-1, 2)


def _direction(piece: Segment, *, at_end: bool) -> float:
    """The direction in which a piece leaves its start, or arrives at its end [rad]."""
    if isinstance(piece, Arc):
        angle = piece.start_angle + (piece.sweep if at_end else 0.0)
        return angle + math.copysign(math.pi / 2.0, piece.sweep)
    return math.atan2(piece.end[1] - piece.start[1], piece.end[0] - piece.start[0])

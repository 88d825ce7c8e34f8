"""What of a target a ball or a cutter meets from above: pieces, inside corners, smallest hollow."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from profilestack.cutting.cut import CHORD
from profilestack.cutting.nearest import Numbers
from profilestack.cutting.stroke import lie_of
from profilestack.cutting.wanted import ON_OUTLINE, Wanted
from profilestack.geometry.path import Arc, Points, Segment
from profilestack.geometry.region import chains_of, polygon_from_points
from profilestack.planning.lowering import Skyline, skyline_of
from profilestack.stack import Blank

BESIDE = 0.02
"""A place is seen from above when it is so little to its side [mm]: upright walls are seen."""

SHARP = 0.35
"""Flattened arcs bend by less at a vertex, corners by more [rad]."""

SPACING = 0.25
"""Pieces are looked at in steps of this [mm]."""


@dataclass(frozen=True, slots=True)
class Piece:
    """A stretch of target met from above: ``length`` [mm] of it.

    ``radius`` is its arc's [mm], 0 on straight pieces; ``convex`` where wood bulges.
    """

    length: float
    radius: float
    convex: bool


@dataclass(frozen=True, slots=True, eq=False)
class Facing:
    """A target from above, as the blank lies on its back.

    ``pieces`` are to be cut from there; ``hidden`` [mm] of target are not seen from above.
    ``points`` (n, 2) [mm] lie along the pieces, ``outward`` (n, 2) are the ways out of the wood.
    ``corners`` (k,) are the open angles [rad] of sharp inside corners seen. ``smallest`` is the
    radius of the smallest hollow [mm], None without one. ``depth`` [mm]: how far below the
    blank's top the lowest piece lies; ``high`` and ``wide``
    [mm] are their extent up and across.
    """

    pieces: tuple[Piece, ...]
    hidden: float
    points: Points
    outward: Points
    hidden_points: Points
    corners: Numbers
    smallest: float | None
    depth: float
    high: float
    wide: float
    skyline: Skyline
    wanted: Wanted

    @property
    def developed(self) -> float:
        """Developed length of what is cut from above [mm]."""
        return math.fsum(piece.length for piece in self.pieces)


def facing_of(blank: Blank, wanted: Wanted, within: tuple[float, float] | None = None) -> Facing:
    """How a target in a blank is seen from above.

    ``within``: only from one place along the target to another [mm].
    """
    sky = skyline_of(chains_of(wanted.region))
    path = wanted.path
    is_left = path.is_closed and path.signed_area > 0.0  # the wood, seen in the path's direction
    outline = shapely.boundary(polygon_from_points(blank.outline().flatten(CHORD)))
    shapely.prepare(outline)
    pieces, seen, ways, hidden = [], [], [], []
    for segment in path.segments:
        points, along = _along(segment)
        own = shapely.distance(outline, np.asarray(shapely.points(points))) <= ON_OUTLINE
        own |= ~_lies_within(wanted, points, within)
        above = _is_seen(sky, points)
        hidden.append(points[~above & ~own])
        free = above & ~own
        if not free.any():
            continue
        convex = isinstance(segment, Arc) and (segment.turn == "cw") != is_left
        radius = segment.radius if isinstance(segment, Arc) else 0.0
        pieces.append(Piece(segment.length * float(free.mean()), radius, convex))
        seen.append(points[free])
        out = np.column_stack((-along[:, 1], along[:, 0])) * (-1.0 if is_left else 1.0)
        ways.append(out[free])
    points = np.concatenate([np.zeros((0, 2)), *seen])
    unseen = np.concatenate([np.zeros((0, 2)), *hidden])
    hollows = [piece.radius for piece in pieces if piece.radius > 0.0 and not piece.convex]
    top = lie_of(blank, 0.0).height
    low, high = (points.min(axis=0), points.max(axis=0)) if len(points) else (np.zeros(2),) * 2
    return Facing(
        tuple(pieces),
        SPACING * len(unseen),
        points,
        np.concatenate([np.zeros((0, 2)), *ways]),
        unseen,
        _corners(wanted, sky, is_left, within),
        min(hollows, default=None),
        top - float(low[1]) if len(points) else 0.0,
        float(high[1] - low[1]),
        float(high[0] - low[0]),
        sky,
        wanted,
    )


def _is_seen(sky: Skyline, points: Points) -> np.ndarray:
    """Whether nothing of the wanted wood hangs over points."""
    beside = points[:, 0][None, :] + np.array([-BESIDE, 0.0, BESIDE])[:, None]
    return np.asarray(sky.over(beside).min(axis=0) <= points[:, 1] + 0.05)


def _lies_within(wanted: Wanted, points: Points, within: tuple[float, float] | None) -> np.ndarray:
    """Whether points of a target lie between two places along it."""
    if within is None:
        return np.ones(len(points), dtype=bool)
    places = wanted.line.nearest(points)[1]
    return np.asarray((places >= within[0] - SPACING) & (places <= within[1] + SPACING))


def _corners(
    wanted: Wanted, sky: Skyline, is_left: bool, within: tuple[float, float] | None
) -> Numbers:
    """The open angles of sharp inside corners that are seen from above [rad]."""
    points = wanted.points[::-1] if is_left else wanted.points
    along = np.diff(points, axis=0)
    angles = np.arctan2(along[:, 1], along[:, 0])
    turns = (np.diff(angles) + np.pi) % (2.0 * np.pi) - np.pi
    inner = np.flatnonzero(turns > SHARP)  # the way leads up: wood ahead
    if len(inner) == 0:
        return np.zeros(0)
    corners = points[inner + 1]
    seen = _is_seen(sky, corners) & _lies_within(wanted, corners, within)
    return np.asarray(np.pi - turns[inner][seen])


def _along(segment: Segment) -> tuple[Points, Points]:
    """Points in the middles of short steps along a line or arc, and the ways they lead."""
    count = max(1, math.ceil(segment.length / SPACING))
    shares = (np.arange(count) + 0.5) / count
    if isinstance(segment, Arc):
        angles = segment.start_angle + segment.sweep * shares
        beside = np.column_stack((np.cos(angles), np.sin(angles)))
        sign = 1.0 if segment.sweep > 0.0 else -1.0
        along = np.column_stack((-beside[:, 1], beside[:, 0])) * sign
        return np.asarray(beside * segment.radius + np.array(segment.center)), along
    start, end = np.array(segment.start), np.array(segment.end)
    way = (end - start) / max(1e-12, segment.length)
    return start + shares[:, None] * (end - start), np.tile(way, (count, 1))


def left_in_corner(radius: float, angle: float) -> tuple[float, float]:
    """What a ball leaves in an inside corner of an open ``angle`` [rad]: how far the corner is
    from the cut [mm], and the area [mm2].

    R (1 / sin(angle / 2) - 1); between the two tangents and the arc: R^2 (cot(angle / 2) -
    (pi - angle) / 2). At a right angle R (sqrt 2 - 1) and (1 - pi/4) R^2.
    """
    half = angle / 2.0
    away = radius * (1.0 / math.sin(half) - 1.0)
    return away, radius**2 * (1.0 / math.tan(half) - (math.pi - angle) / 2.0)

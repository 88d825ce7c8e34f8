"""Which rows of points one line or one arc can stand for, and how few of them make a whole row.

Pieces run from point to point. The least number of pieces is found by reaching as far as possible
from the start; reaching as far as possible from the end gives the other limit of every joint
(any joint of a least cutting lies between the two), and among those the joints are chosen whose
pieces lie nearest to the points.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from itertools import pairwise

import numpy as np

from profilestack.geometry.path import SAME_POINT, Points
from profilestack.targets.bulges import BulgePath, Numbers, carrier_distances, shares_along

LARGEST_BULGE = 2.4
"""No fitted arc turns further than 4 atan of this, 270 degrees."""

LARGEST_RADIUS = 1e5
"""Flatter arcs are lines [mm]."""

MOST_CHOICES = 24
"""So many places are tried for each joint."""


@dataclass(frozen=True, slots=True)
class One:
    """One line or arc over some points: bulge, largest distance [mm], sum of squares [mm2]."""

    bulge: float
    off: float
    squares: float


def one_piece(points: Points, tolerance: float) -> One | None:
    """The line or arc from the first point to the last that passes all within ``tolerance`` [mm].

    None when there is none. A line is taken where an arc would not be twice as good.
    """
    begin, end = points[0], points[-1]
    chord = math.dist(begin, end)
    if len(points) == 2:
        return One(0.0, 0.0, 0.0) if chord > SAME_POINT else None
    if chord <= SAME_POINT:
        return None
    unit = (end - begin) / chord
    away = points[1:-1] - (begin + end) / 2.0
    u = away @ unit
    v = away[:, 1] * unit[0] - away[:, 0] * unit[1]
    over = np.abs(u) - chord / 2.0
    straight = float(np.abs(v).max())
    is_line = straight <= tolerance and float(over.max()) <= tolerance
    if is_line and straight <= tolerance / 2.0:
        return One(0.0, straight, float(v @ v))
    arc = _arc(points, u, v, chord, tolerance)
    if is_line and (arc is None or arc.off > straight / 2.0):
        return One(0.0, straight, float(v @ v))
    return arc


def _arc(points: Points, u: Numbers, v: Numbers, chord: float, tolerance: float) -> One | None:
    """The arc through both ends that passes all points within the tolerance.

    With G = (u^2 + v^2 - c^2/4) / c, the first-order distance from the arc of half sweep b is
    G sin b - v cos b: the distance of the point (G, v) from the line through the origin at angle
    b. So each point allows an interval of b, and the least squares are the line's.
    """
    g = (u * u + v * v - chord * chord / 4.0) / chord
    # points on the arc lie opposite to the direction b: turn them round, so that b is their angle
    angles, radii = np.arctan2(-v, -g), np.hypot(g, v)
    best = math.atan2(2.0 * float(g @ v), float(g @ g - v @ v)) / 2.0
    if float(g.sum()) * math.cos(best) + float(v.sum()) * math.sin(best) > 0.0:
        best += math.pi
    counts = radii > tolerance
    if counts.any():
        slack = np.arcsin(np.minimum(1.0, tolerance / radii[counts]))
        near = (angles[counts] - best + math.pi) % (2.0 * math.pi) - math.pi
        low, high = float((near - slack).max()), float((near + slack).min())
        if low > high:
            return None
        best += min(max(0.0, low), high)
    best = (best + math.pi) % (2.0 * math.pi) - math.pi
    bulge = math.tan(best / 2.0)
    if abs(bulge) > LARGEST_BULGE:
        return None
    if abs(bulge) * LARGEST_RADIUS * 4.0 < chord:
        return None
    inner = points[1:-1]
    off = carrier_distances(inner, points[0], points[-1], np.full(len(inner), bulge))
    worst = float(np.abs(off).max())
    if worst > tolerance or not _between(points, bulge, chord, tolerance):
        return None
    return One(bulge, worst, float(off @ off))


def _between(points: Points, bulge: float, chord: float, tolerance: float) -> bool:
    """Whether no point lies beyond the ends of the arc by more than the tolerance."""
    a = (float(points[0, 0]), float(points[0, 1]))
    b = (float(points[-1, 0]), float(points[-1, 1]))
    shares = shares_along(points[1:-1], a, b, bulge)
    sweep = 4.0 * math.atan(abs(bulge))
    length = chord if sweep < 1e-6 else sweep * chord / (2.0 * math.sin(sweep / 2.0))
    slack = tolerance / length
    return bool((shares >= -slack).all() and (shares <= 1.0 + slack).all())


def fewest_pieces(points: Points, nodes: list[int], tolerance: float) -> list[int]:
    """The nodes that the joints of the fewest pieces lie at, the first and last among them.

    ``points`` are shape (n, 2) [mm]; ``nodes`` are the indexes at which pieces may join, in order.
    Neighbouring nodes are always joined, by a line where nothing better passes.
    """
    last = len(nodes) - 1

    def fits(i: int, j: int) -> bool:
        return one_piece(points[nodes[i] : nodes[j] + 1], tolerance) is not None

    def fits_back(end: int, _: int, reach: int) -> bool:
        return fits(end - reach, end)

    ahead = [0]
    while ahead[-1] < last:
        ahead.append(_farthest(ahead[-1], last, fits))
    back = [last]
    while back[-1] > 0 and len(back) < len(ahead) + 1:
        back.append(back[-1] - _farthest(0, back[-1], partial(fits_back, back[-1])))
    chosen = ahead
    if len(back) == len(ahead):
        chosen = _nearest(points, nodes, ahead, back[::-1], tolerance)
    return [nodes[k] for k in chosen]


def _farthest(begin: int, last: int, fits: Callable[[int, int], bool]) -> int:
    """How far one piece reaches from ``begin``: doubling steps, then halving."""
    good, step = begin + 1, 1
    while good < last:
        ahead = min(last, begin + 2 * step)
        if not fits(begin, ahead):
            break
        good, step = ahead, 2 * step
    bad = min(last, begin + 2 * step)
    while bad - good > 1:
        middle = (good + bad) // 2
        if fits(begin, middle):
            good = middle
        else:
            bad = middle
    return good


def _nearest(
    points: Points, nodes: list[int], ahead: list[int], back: list[int], tolerance: float
) -> list[int]:
    """Of all least cuttings between the two greedy ones, that with the least squares."""
    choices = [
        _spread(min(one, two), max(one, two), (one, two))
        for one, two in zip(back, ahead, strict=True)
    ]
    cost: dict[int, float] = {choices[0][0]: 0.0}
    came: list[dict[int, int]] = []
    for level in choices[1:]:
        reached: dict[int, float] = {}
        origin: dict[int, int] = {}
        for there in level:
            for here, so_far in cost.items():
                if here >= there or so_far >= reached.get(there, math.inf):
                    continue
                piece = one_piece(points[nodes[here] : nodes[there] + 1], tolerance)
                if piece is None and there == here + 1:
                    piece = One(0.0, 0.0, 0.0)
                if piece is None:
                    continue
                # among equals a line
                total = so_far + piece.squares + (1e-4 * tolerance**2 if piece.bulge else 0.0)
                if total < reached.get(there, math.inf):
                    reached[there], origin[there] = total, here
        cost = reached
        came.append(origin)
        if not cost:
            return ahead
    chosen = [ahead[-1]]
    for origin in reversed(came):
        chosen.append(origin[chosen[-1]])
    return chosen[::-1]


def _spread(low: int, high: int, needed: tuple[int, int]) -> list[int]:
    """At most ``MOST_CHOICES`` whole numbers from low to high, the needed ones among them."""
    if high - low < MOST_CHOICES:
        return list(range(low, high + 1))
    even = np.linspace(low, high, MOST_CHOICES).round().astype(int).tolist()
    return sorted({*even, *needed})


def pieces_between(points: Points, joints: list[int], tolerance: float) -> BulgePath:
    """The lines and arcs between the points at ``joints``."""
    bulges = []
    for begin, end in pairwise(joints):
        piece = one_piece(points[begin : end + 1], tolerance)
        bulges.append(0.0 if piece is None else piece.bulge)
    return BulgePath(points[joints].copy(), np.array(bulges))

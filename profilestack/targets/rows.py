"""A chain made ready for fitting: one row of points, and what of it stays as it is."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from profilestack.geometry.path import SAME_POINT, Arc, Line, Point, Points, Segment
from profilestack.geometry.polyline import filled, meeting_of
from profilestack.targets.bulges import BulgePath, bulge_of
from profilestack.targets.segmenting import fewest_pieces, pieces_between
from profilestack.targets.tracing import Chain, Curve, Piece, points_of

SHALLOW = math.radians(10.0)
"""An arc that turns less may be one of the many that some programs make of a free curve; it is
fitted anew with its neighbours, unless it alone is what they would be fitted by."""

SAMPLE = 0.5
"""Lines and arcs of a drawing are looked at in steps of at most this [mm]."""

SIDE = 6
"""So many points on either side tell where a blunt corner would be."""

MOST_NODES = 6000
"""Pieces may join at so many points; of more, every n-th is taken."""


@dataclass(frozen=True, slots=True)
class Corner:
    """A place that is said to be sharp: ``at`` [mm].

    Measured points nearer to it than ``blunt`` [mm] are left out: there the scanner's tip or the
    light has rounded what is sharp, and the neighbouring pieces are led on to where they meet.
    """

    at: Point
    blunt: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Row:
    """Points of a chain, shape (n, 2) [mm], and where and how it was joined before.

    ``marks`` are the points, by index, at which its pieces join; ``own`` has the exact piece
    between two marks, None for a free curve. ``nodes`` are where fitted pieces may join, ``forced``
    where they must; ``sharp`` are those of the forced ones that were said to be corners.
    """

    points: Points
    marks: tuple[int, ...]
    own: tuple[Segment | None, ...]
    nodes: tuple[int, ...]
    forced: tuple[int, ...]
    sharp: frozenset[int]
    measured: bool


def row_of(chain: Chain, corners: tuple[Corner, ...], tolerance: float) -> Row:
    """The row of a chain; a full turn becomes two halves."""
    pieces = [half for piece in chain.pieces for half in _halves(piece)]
    if chain.measured:
        return _measured_row(chain.flatten(), corners)
    parts: list[Points] = [np.array([pieces[0].start])]
    marks, nodes, count = [0], [0], 1
    for piece in pieces:
        inner = _samples(piece, tolerance)[1:]
        parts.append(inner)
        if not isinstance(piece, Line):
            nodes += range(count, count + len(inner) - 1)
        count += len(inner)
        marks.append(count - 1)
        nodes.append(count - 1)
    points = np.concatenate(parts)
    own = tuple(None if isinstance(piece, Curve) else piece for piece in pieces)
    firm = {0, count - 1}
    for k, single in enumerate(own):
        if isinstance(single, Arc) and abs(single.sweep) >= SHALLOW:
            firm |= {marks[k], marks[k + 1]}
    sharp = frozenset(_nearest(points[marks], corner.at, marks) for corner in corners)
    forced = tuple(sorted(firm | sharp))
    step = math.ceil(len(nodes) / MOST_NODES)
    kept = sorted({*nodes[::step], *marks, *forced})
    return Row(points, tuple(marks), own, tuple(kept), forced, sharp, False)


def first_cut(row: Row, tolerance: float) -> tuple[BulgePath, list[int], frozenset[int]]:
    """The fewest lines and arcs along a row.

    Returned with the points between which they stand, and with the pieces, by number, that are
    the chain's own and exact.
    """
    joints = [row.forced[0]]
    for begin, end in pairwise(row.forced):
        nodes = [node for node in row.nodes if begin <= node <= end]
        if _firm(row, begin, end) is not None:
            joints.append(end)
            continue
        found = fewest_pieces(row.points, nodes, tolerance)
        marks = [mark for mark in row.marks if begin <= mark <= end]
        if not row.measured and len(found) >= len(marks) and not _has_curve(row, begin, end):
            found = marks  # nothing is gained: the drawing's own pieces stay
        joints += found[1:]
    joined = pieces_between(row.points, joints, tolerance)
    bulges = joined.bulges.copy()
    exact = set()
    for k, (begin, end) in enumerate(pairwise(joints)):
        piece = _firm(row, begin, end)
        if piece is not None:
            bulges[k] = bulge_of(piece)
            exact.add(k)
    return BulgePath(joined.joints, bulges), joints, frozenset(exact)


def _firm(row: Row, begin: int, end: int) -> Segment | None:
    """The chain's own exact piece from one point to the other, if there is one."""
    if row.measured or begin not in row.marks:
        return None
    k = row.marks.index(begin)
    if k + 1 < len(row.marks) and row.marks[k + 1] == end:
        return row.own[k]
    return None


def _has_curve(row: Row, begin: int, end: int) -> bool:
    return any(
        piece is None and begin <= first and last <= end
        for piece, first, last in zip(row.own, row.marks, row.marks[1:], strict=False)
    )


def _measured_row(points: Points, corners: tuple[Corner, ...]) -> Row:
    """Points as they were measured; a blunt corner's are replaced by where its sides meet."""
    marked: list[Point] = []
    for corner in corners:
        points, place = _sharpened(points, corner)
        marked.append(place)
    last = len(points) - 1
    inner = range(1, last) if last > 1 else range(last)
    sharp = frozenset(_nearest(points[list(inner)], place, list(inner)) for place in marked)
    step = math.ceil(len(points) / MOST_NODES)
    nodes = sorted({*range(0, last, step), last, *sharp})
    forced = tuple(sorted({0, last, *sharp}))
    return Row(points, (0, last), (None,), tuple(nodes), forced, sharp, True)


def _sharpened(points: Points, corner: Corner) -> tuple[Points, Point]:
    """The points without those that a blunt corner has rounded, and where the corner then is."""
    far = np.hypot(*(points - np.array(corner.at)).T)
    nearest = int(np.argmin(far))
    here = (float(points[nearest, 0]), float(points[nearest, 1]))
    if corner.blunt <= 0.0:
        return points, here
    first = last = nearest
    while first > 0 and far[first - 1] < corner.blunt:
        first -= 1
    while last < len(points) - 1 and far[last + 1] < corner.blunt:
        last += 1
    before, after = points[max(0, first - SIDE) : first], points[last + 1 : last + 1 + SIDE]
    if len(before) < 2 or len(after) < 2:
        return points, here
    place = meeting_of(before, after)
    if place is None or math.dist(place, corner.at) > 2.0 * corner.blunt:
        place = corner.at
    return np.concatenate((points[:first], [place], points[last + 1 :])), place


def _nearest(points: Points, at: Point, indexes: list[int] | tuple[int, ...]) -> int:
    return indexes[int(np.argmin(np.hypot(*(points - np.array(at)).T)))]


def _halves(piece: Piece) -> list[Piece]:
    """An arc of more than half a turn in two: a full turn has no bulge."""
    if not isinstance(piece, Arc) or abs(piece.sweep) <= math.pi + 1e-9:
        return [piece] if piece.length > SAME_POINT else []
    angle = piece.start_angle + piece.sweep / 2.0
    radius = piece.radius
    middle = (
        piece.center[0] + radius * math.cos(angle),
        piece.center[1] + radius * math.sin(angle),
    )
    return [
        Arc(piece.start, middle, piece.center, piece.turn),
        Arc(middle, piece.end, piece.center, piece.turn),
    ]


def _samples(piece: Piece, tolerance: float) -> Points:
    points = points_of(piece, min(tolerance / 20.0, 1e-3))
    if isinstance(piece, Line):
        # the middle and the quarters tell whether an arc could stand for it
        return filled(points, max(piece.length / 4.0, SAME_POINT))
    return filled(points, max(SAMPLE, piece.length / 200.0))

"""Where lines and arcs meet, are cut and are nearest: exact, piece by piece.

A place on a piece is its ``share``: 0 at the start, 1 at the end, in proportion to its length.
"""

from __future__ import annotations

import math

from profilestack.geometry.path import SAME_POINT, Arc, ArcTo, Line, LineTo, Path, Point, Segment

TOUCH = 1e-12
"""Lines and circles that miss each other by less than this share of their size touch."""

AT_JOINT = 1e-5
"""Pieces that follow each other may meet so near to their joint [mm] without crossing: where they
touch without a corner, the meeting point is known to the root of the rounding only."""


def point_on(piece: Segment, share: float) -> Point:
    """The point at ``share`` of the piece [mm]; its ends exactly at 0 and 1."""
    if share <= 0.0:
        return piece.start
    if share >= 1.0:
        return piece.end
    if isinstance(piece, Line):
        (x0, z0), (x1, z1) = piece.start, piece.end
        return (x0 + share * (x1 - x0), z0 + share * (z1 - z0))
    angle = piece.start_angle + share * piece.sweep
    radius = piece.radius
    return (
        piece.center[0] + radius * math.cos(angle),
        piece.center[1] + radius * math.sin(angle),
    )


def direction_at(piece: Segment, share: float) -> Point:
    """The unit direction of travel at ``share`` of the piece."""
    if isinstance(piece, Line):
        length = piece.length
        return (
            (piece.end[0] - piece.start[0]) / length,
            (piece.end[1] - piece.start[1]) / length,
        )
    point = point_on(piece, share)
    radius = math.dist(point, piece.center)
    out = ((point[0] - piece.center[0]) / radius, (point[1] - piece.center[1]) / radius)
    return (-out[1], out[0]) if piece.turn == "ccw" else (out[1], -out[0])


def part_of(piece: Segment, begin: float, end: float) -> Segment:
    """The part of a piece between two shares, ``begin`` < ``end``."""
    first, last = point_on(piece, begin), point_on(piece, end)
    if isinstance(piece, Line):
        return Line(first, last)
    return Arc(first, last, piece.center, piece.turn)


def path_of(pieces: list[Segment]) -> Path:
    """The path through pieces that follow each other end to start."""
    steps = tuple(
        LineTo(piece.end) if isinstance(piece, Line) else ArcTo(piece.end, piece.center, piece.turn)
        for piece in pieces
    )
    return Path(pieces[0].start, steps)


def distance_to(piece: Segment, point: Point) -> float:
    """From a point to the nearest point of the piece [mm]."""
    if isinstance(piece, Line):
        (x0, z0), (x1, z1) = piece.start, piece.end
        along = (x1 - x0, z1 - z0)
        squared = along[0] ** 2 + along[1] ** 2
        if squared == 0.0:
            return math.dist(piece.start, point)
        share = ((point[0] - x0) * along[0] + (point[1] - z0) * along[1]) / squared
        share = min(1.0, max(0.0, share))
        return math.hypot(x0 + share * along[0] - point[0], z0 + share * along[1] - point[1])
    share = _share_of_angle(piece, point)
    if share <= 1.0:
        return abs(math.dist(piece.center, point) - piece.radius)
    return min(math.dist(piece.start, point), math.dist(piece.end, point))


def shares_at_level(piece: Segment, axis: int, level: float) -> list[float]:
    """Where a piece has its x (``axis`` 0) or its z (``axis`` 1) at ``level`` [mm], in order.

    A piece that lies along the level meets it nowhere in particular: no share is given.
    """
    if isinstance(piece, Line):
        low, high = piece.start[axis], piece.end[axis]
        if low == high or not min(low, high) <= level <= max(low, high):
            return []
        return [(level - low) / (high - low)]
    radius = piece.radius
    off = level - piece.center[axis]
    if abs(off) > radius * (1.0 + TOUCH):
        return []
    half = math.sqrt(max(0.0, radius * radius - off * off))
    found = []
    for side in {half, -half}:
        vector = (off, side) if axis == 0 else (side, off)
        point = (piece.center[0] + vector[0], piece.center[1] + vector[1])
        share = _snapped(piece, point)
        if share is not None:
            found.append(share)
    return sorted(found)


def shares_of_extremes(piece: Segment, axis: int) -> list[float]:
    """Where inside a piece its x (``axis`` 0) or z (``axis`` 1) turns round, in order."""
    if isinstance(piece, Line):
        return []
    radius, found = piece.radius, []
    for side in (radius, -radius):
        vector = (side, 0.0) if axis == 0 else (0.0, side)
        share = _share_of_angle(
            piece, (piece.center[0] + vector[0], piece.center[1] + vector[1])
        )  # fmt: skip
        if TOUCH < share < 1.0 - TOUCH:
            found.append(share)
    return sorted(found)


def shares_meeting(first: Segment, second: Segment) -> list[tuple[float, float]]:
    """Where two pieces cross or touch, as shares of the first and of the second.

    Pieces that lie on one line or one circle give nothing: they meet everywhere or nowhere.
    """
    found = []
    for point in carriers_meeting(first, second):
        one, two = _snapped(first, point), _snapped(second, point)
        if one is not None and two is not None:
            found.append((one, two))
    return found


def crossings_of(path: Path) -> list[Point]:
    """Where a path crosses or touches itself [mm], its joints and its closing point aside."""
    pieces = path.segments
    found: list[Point] = []
    for i, first in enumerate(pieces):
        for j in range(i + 1, len(pieces)):
            second = pieces[j]
            for one, _ in shares_meeting(first, second):
                point = point_on(first, one)
                joint = j == i + 1 and math.dist(point, first.end) <= AT_JOINT
                closing = i == 0 and j == len(pieces) - 1 and path.is_closed
                closed = closing and math.dist(point, path.start) <= AT_JOINT
                known = any(math.dist(point, other) <= AT_JOINT for other in found)
                if not (joint or closed or known):
                    found.append(point)
    return found


def carriers_meeting(first: Segment, second: Segment) -> list[Point]:
    """Where the whole line or circle under one piece meets that under another [mm]."""
    if isinstance(first, Line):
        return _line_line(first, second) if isinstance(second, Line) else _line_arc(first, second)
    return _line_arc(second, first) if isinstance(second, Line) else _arc_arc(first, second)


def _share_of_angle(arc: Arc, point: Point) -> float:
    """The share at which an arc passes the direction of ``point``; above 1 when it does not."""
    sweep = arc.sweep
    angle = math.atan2(point[1] - arc.center[1], point[0] - arc.center[0])
    turned = angle - arc.start_angle
    turned = turned % math.tau if sweep > 0.0 else -((-turned) % math.tau)
    return turned / sweep


def _snapped(piece: Segment, point: Point) -> float | None:
    """The share of a point known to lie on the carrier, or None when it is off the piece."""
    if math.dist(point, piece.start) <= SAME_POINT:
        return 0.0
    if math.dist(point, piece.end) <= SAME_POINT:
        return 1.0
    if isinstance(piece, Arc):
        share = _share_of_angle(piece, point)
        return share if share <= 1.0 else None
    (x0, z0), (x1, z1) = piece.start, piece.end
    along = (x1 - x0, z1 - z0)
    share = ((point[0] - x0) * along[0] + (point[1] - z0) * along[1]) / (
        along[0] ** 2 + along[1] ** 2
    )
    return share if 0.0 <= share <= 1.0 else None


def _line_line(first: Line, second: Line) -> list[Point]:
    (x0, z0), (x1, z1) = first.start, first.end
    along, other = (x1 - x0, z1 - z0), (
        second.end[0] - second.start[0],
        second.end[1] - second.start[1],
    )  # fmt: skip
    turn = along[0] * other[1] - along[1] * other[0]
    if abs(turn) <= TOUCH * math.hypot(*along) * math.hypot(*other):
        return []
    away = (second.start[0] - x0, second.start[1] - z0)
    share = (away[0] * other[1] - away[1] * other[0]) / turn
    return [(x0 + share * along[0], z0 + share * along[1])]


def _line_arc(line: Line, arc: Arc) -> list[Point]:
    length = line.length
    if length == 0.0:
        return []
    unit = ((line.end[0] - line.start[0]) / length, (line.end[1] - line.start[1]) / length)
    away = (arc.center[0] - line.start[0], arc.center[1] - line.start[1])
    along = away[0] * unit[0] + away[1] * unit[1]
    off = away[0] * unit[1] - away[1] * unit[0]
    radius = arc.radius
    if abs(off) > radius * (1.0 + TOUCH):
        return []
    half = math.sqrt(max(0.0, radius * radius - off * off))
    return [
        (line.start[0] + (along + side) * unit[0], line.start[1] + (along + side) * unit[1])
        for side in {half, -half}
    ]


def _arc_arc(first: Arc, second: Arc) -> list[Point]:
    gap = math.dist(first.center, second.center)
    one, two = first.radius, second.radius
    if gap <= SAME_POINT:
        return []
    slack = TOUCH * (one + two)
    if gap > one + two + slack or gap < abs(one - two) - slack:
        return []
    along = (gap * gap + one * one - two * two) / (2.0 * gap)
    half = math.sqrt(max(0.0, one * one - along * along))
    unit = (
        (second.center[0] - first.center[0]) / gap,
        (second.center[1] - first.center[1]) / gap,
    )
    return [
        (
            first.center[0] + along * unit[0] - side * unit[1],
            first.center[1] + along * unit[1] + side * unit[0],
        )
        for side in {half, -half}
    ]

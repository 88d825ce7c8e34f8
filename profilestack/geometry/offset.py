"""Paths moved square to themselves, exactly: lines stay lines, arcs stay arcs."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Literal

from profilestack.errors import GeometryError
from profilestack.geometry.crossing import (
    TOUCH,
    carriers_meeting,
    direction_at,
    distance_to,
    part_of,
    path_of,
    point_on,
    shares_meeting,
)
from profilestack.geometry.path import SAME_POINT, Arc, Line, Path, Point, Segment

Corners = Literal["round", "sharp"]

SHORT = 1e-3
"""Overlaps of neighbours up to this long [mm] are cut off without asking for distances: at a
nearly smooth joint they differ by less than rounding."""

NEARER = 1e-9
"""A point of the moved path may be nearer to the old path than asked by so much [mm]."""

GAP = 1e-6
"""Neighbouring pieces of the moved path join over at most this gap [mm]: rounding alone."""


def offset_path(path: Path, distance: float, corners: Corners = "round") -> Path:
    """The path moved square to itself by ``distance`` [mm], to the left of travel; < 0: right.

    Every point of the result is ``distance`` away from the nearest point of the path (at corners
    that were extended: more).
    Corners toward which the path moves stay sharp: the moved neighbours are cut where they
    cross. At corners from which it moves away the neighbours part; the gap is closed by an arc
    about the corner ("round"), or, where the extended neighbours meet, by extending them
    ("sharp"). Pieces too small to survive vanish. An open path stays open, its ends square to
    the old ends; a closed one stays closed.

    Raises:
        GeometryError: nothing is left, or what is left falls into several pieces.
    """
    if distance == 0.0 or not path.steps:
        return path
    if distance < 0.0:
        # the left of the way back is the right of the way out
        return offset_path(path.reversed(), -distance, corners).reversed()
    old = [piece for piece in path.segments if piece.length > SAME_POINT]
    moved = _moved_pieces(old, distance, corners, closed=path.is_closed)
    kept = _valid_parts(moved, old, distance, closed=path.is_closed)
    if not kept:
        raise GeometryError(f"nothing is left of the path when it is moved by {distance:g} mm")
    return path_of(_joined(kept, distance, closed=path.is_closed))


def _moved_pieces(
    old: list[Segment], distance: float, corners: Corners, *, closed: bool
) -> list[Segment]:
    moved: list[Segment] = []
    for number, piece in enumerate(old):
        if number or closed:
            moved += _corner(old[number - 1], piece, distance, corners)
        single = _moved(piece, distance)
        if single is not None:
            moved.append(single)
    return moved


def _moved(piece: Segment, distance: float) -> Segment | None:
    """One piece moved to its left, or None when an arc has no radius left."""
    if isinstance(piece, Line):
        along = direction_at(piece, 0.0)
        return Line(_aside(piece.start, along, distance), _aside(piece.end, along, distance))
    radius = piece.radius - distance if piece.turn == "ccw" else piece.radius + distance
    if radius <= SAME_POINT:
        return None
    grown = radius / piece.radius
    return Arc(
        _grown(piece.center, piece.start, grown),
        _grown(piece.center, piece.end, grown),
        piece.center,
        piece.turn,
    )


def _corner(before: Segment, after: Segment, distance: float, corners: Corners) -> list[Segment]:
    """What closes the gap where the path turns away from the side to which it moves."""
    old, new = direction_at(before, 1.0), direction_at(after, 0.0)
    turn = old[0] * new[1] - old[1] * new[0]
    ahead = old[0] * new[0] + old[1] * new[1]
    if turn >= -1e-9 and not (ahead < 0.0 and abs(turn) < 1e-9 and _opens(before, after)):
        return []
    corner = after.start
    first, last = _aside(corner, old, distance), _aside(corner, new, distance)
    if corners == "sharp":
        one, two = _moved(before, distance), _moved(after, distance)
        if one is not None and two is not None:
            meeting = _extension(one, two, corner, distance)
            if meeting:
                return meeting
    return [Arc(first, last, corner, "cw")]


def _opens(before: Segment, after: Segment) -> bool:
    """Whether a path that turns straight back does so over its right (a gap on its left)."""
    bend = [0.0, 0.0]
    for place, piece in enumerate((before, after)):
        if isinstance(piece, Arc):
            bend[place] = (1.0 if piece.turn == "ccw" else -1.0) / piece.radius
    # seen from the corner both pieces go off the same way; the one that arrives bends by
    # -bend[0] on its way back, and the gap is on the left when the other one bends more
    return bend[1] > -bend[0]


def _extension(one: Segment, two: Segment, corner: Point, distance: float) -> list[Segment] | None:
    """Two moved neighbours led on to where they meet, or None when they do not meet near by."""
    old, new = direction_at(one, 1.0), direction_at(two, 0.0)
    meetings = [
        point
        for point in carriers_meeting(one, two)
        if _leads(one.end, old, point) and _leads(point, new, two.start)
    ]
    if not meetings:
        return None
    point = min(meetings, key=lambda place: math.dist(place, corner))
    if math.dist(point, corner) > 10.0 * distance:
        return None
    parts: list[Segment] = []
    for piece, begin, end in ((one, one.end, point), (two, point, two.start)):
        if math.dist(begin, end) <= SAME_POINT:
            continue
        parts.append(_between(piece, begin, end))
    return parts


def _leads(begin: Point, direction: Point, end: Point) -> bool:
    along = (end[0] - begin[0]) * direction[0] + (end[1] - begin[1]) * direction[1]
    return along >= -SAME_POINT


def _valid_parts(
    moved: list[Segment], old: list[Segment], distance: float, *, closed: bool
) -> list[Segment]:
    """The parts of the moved pieces that are nowhere nearer to the old path than asked."""
    cuts: list[set[float]] = [{0.0, 1.0} for _ in moved]
    begins, ends = [0.0] * len(moved), [1.0] * len(moved)
    boxes = [_box(piece) for piece in moved]
    for i, first in enumerate(moved):
        for j in range(i + 1, len(moved)):
            if not _boxes_meet(boxes[i], boxes[j]):
                continue
            for one, two in shares_meeting(first, moved[j]):
                cuts[i].add(one)
                cuts[j].add(two)
                if j == i + 1 and _is_short(first, 1.0 - one) and _is_short(moved[j], two):
                    ends[i], begins[j] = min(ends[i], one), max(begins[j], two)
                closes = closed and i == 0 and j == len(moved) - 1
                if closes and _is_short(moved[j], 1.0 - two) and _is_short(first, one):
                    ends[j], begins[i] = min(ends[j], two), max(begins[i], one)
    kept = []
    for number, (piece, shares) in enumerate(zip(moved, cuts, strict=True)):
        ordered = sorted(share for share in shares if begins[number] <= share <= ends[number])
        for begin, end in pairwise(ordered):
            if (end - begin) * piece.length <= SAME_POINT:
                continue
            middle = point_on(piece, (begin + end) / 2.0)
            near = min(distance_to(other, middle) for other in old)
            if near >= distance - NEARER:
                kept.append(part_of(piece, begin, end))
    return kept


def _is_short(piece: Segment, share: float) -> bool:
    return share * piece.length <= SHORT


def _joined(kept: list[Segment], distance: float, *, closed: bool) -> list[Segment]:
    """The parts with their ends brought together where rounding parted them."""
    joined = [kept[0]]
    for piece in kept[1:]:
        last = joined[-1]
        if math.dist(last.end, piece.start) > GAP:
            raise GeometryError(f"the path falls into pieces when it is moved by {distance:g} mm")
        if _is_same_way(last, piece):
            joined[-1] = _between(last, last.start, piece.end)
        else:
            joined.append(_between(piece, last.end, piece.end))
    if closed:
        if math.dist(joined[-1].end, joined[0].start) > GAP:
            raise GeometryError(f"the path falls into pieces when it is moved by {distance:g} mm")
        joined[0] = _between(joined[0], joined[-1].end, joined[0].end)
    return joined


def _is_same_way(one: Segment, two: Segment) -> bool:
    """Whether two pieces that follow each other are one line or one arc of less than a turn."""
    if isinstance(one, Line) and isinstance(two, Line):
        old, new = direction_at(one, 1.0), direction_at(two, 0.0)
        return math.dist(old, new) <= TOUCH
    if isinstance(one, Arc) and isinstance(two, Arc):
        same = one.turn == two.turn and math.dist(one.center, two.center) <= TOUCH
        return same and abs(one.sweep) + abs(two.sweep) < math.tau - TOUCH
    return False


def _between(piece: Segment, start: Point, end: Point) -> Segment:
    """The same line or circle between other ends."""
    if isinstance(piece, Line):
        return Line(start, end)
    return Arc(start, end, piece.center, piece.turn)


def _aside(point: Point, direction: Point, distance: float) -> Point:
    """The point moved to the left of ``direction``."""
    return (point[0] - distance * direction[1], point[1] + distance * direction[0])


def _grown(center: Point, point: Point, factor: float) -> Point:
    return (
        center[0] + factor * (point[0] - center[0]),
        center[1] + factor * (point[1] - center[1]),
    )


def _box(piece: Segment) -> tuple[float, float, float, float]:
    if isinstance(piece, Line):
        (x0, z0), (x1, z1) = piece.start, piece.end
        return (min(x0, x1), min(z0, z1), max(x0, x1), max(z0, z1))
    (x, z), radius = piece.center, piece.radius
    return (x - radius, z - radius, x + radius, z + radius)


def _boxes_meet(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    slack = SAME_POINT
    return (
        a[0] <= b[2] + slack
        and b[0] <= a[2] + slack
        and a[1] <= b[3] + slack
        and b[1] <= a[3] + slack
    )

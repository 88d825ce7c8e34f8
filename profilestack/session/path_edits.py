"""What a hand does to a path of lines and arcs: from a path to a new one.

Points are counted from 0: the start, then where each piece ends. Pieces are counted from 0 too;
piece k leads from point k to point k + 1.
"""

from __future__ import annotations

import itertools
import math
from typing import Literal

from profilestack.errors import InputError, Problem
from profilestack.geometry.extent import box_of
from profilestack.geometry.path import Arc, ArcTo, Line, LineTo, Path, Point, Segment, Turn
from profilestack.stack import Blank, PathTarget, Target

Kind = Literal["line", "cw", "ccw"]

NEAR = 1e-6
"""Points nearer than this are no two points for a hand [mm]."""

FLAT = 0.02
"""A bow of less than this share of its chord is a line, under the hand."""

DIGITS = 6
"""Decimals of a mm that points under the hand are given with."""


def points_of(path: Path) -> tuple[Point, ...]:
    """The start, and where each piece ends."""
    return (path.start, *(step.to for step in path.steps))


def middle_of(piece: Segment) -> Point:
    """The middle along a piece: where an arc is taken hold of."""
    if isinstance(piece, Line):
        return _between(piece.start, piece.end, 0.5)
    angle = piece.start_angle + piece.sweep / 2.0
    x, z = piece.center
    return (x + piece.radius * math.cos(angle), z + piece.radius * math.sin(angle))


def with_point(path: Path, index: int, to: Point) -> Path:
    """A point in another place; arcs beside it keep the angle that they turn through.

    Of a closed path the first and the last point are one.

    Raises:
        InputError: it would lie on the point before or after.
    """
    points = list(points_of(path))
    places = {index}
    if path.is_closed and index in (0, len(points) - 1):
        places = {0, len(points) - 1}
    for place in places:
        points[place] = _rounded(to)
    return _through(path, points)


def with_kind(path: Path, index: int, kind: Kind) -> Path:
    """A piece as a line, or as an arc that turns "cw" or "ccw"; a new arc is a quarter circle."""
    piece = path.segments[index]
    _refuse_full_circle(piece)
    if kind == "line":
        return _with_piece(path, index, LineTo(piece.end))
    if isinstance(piece, Arc):
        if piece.turn == kind:
            return path
        center = _mirrored(piece.center, piece.start, piece.end)
        return _with_piece(path, index, ArcTo(piece.end, center, kind))
    radius = math.dist(piece.start, piece.end) / math.sqrt(2.0)
    return _with_piece(path, index, _arc(piece.start, piece.end, radius, kind))


def with_radius(path: Path, index: int, radius: float) -> Path:
    """An arc of another radius [mm] between the same ends, on the same side.

    Raises:
        InputError: half the distance between the ends is more.
    """
    piece = path.segments[index]
    assert isinstance(piece, Arc), "only arcs have a radius"
    _refuse_full_circle(piece)
    least = math.dist(piece.start, piece.end) / 2.0
    if radius < least - NEAR:
        text = f"{radius:g} mm does not reach from end to end"
        raise InputError(Problem("radius", text, f"{least:.4g} mm at least"))
    step = _arc(piece.start, piece.end, max(radius, least), piece.turn)
    if abs(piece.sweep) > math.pi + 1e-9:
        step = ArcTo(step.to, _mirrored(step.center, piece.start, piece.end), step.turn)
    return _with_piece(path, index, step)


def with_center(path: Path, index: int, x: float | None = None, z: float | None = None) -> Path:
    """An arc about another centre; one number is typed, the other follows from both ends.

    Raises:
        InputError: no centre with that number is as far from both ends.
    """
    piece = path.segments[index]
    assert isinstance(piece, Arc), "only arcs have a centre"
    _refuse_full_circle(piece)
    middle = _between(piece.start, piece.end, 0.5)
    # along the line of points that are as far from both ends
    across = (piece.start[1] - piece.end[1], piece.end[0] - piece.start[0])
    axis, value = (0, x) if x is not None else (1, z)
    assert value is not None, "one of both is typed"
    if abs(across[axis]) <= NEAR:
        if abs(value - middle[axis]) > 0.01:
            text = f"{value:g} mm is nearer to one end than to the other"
            raise InputError(Problem("center", text, f"{middle[axis]:.4g} mm"))
        return path
    share = (value - middle[axis]) / across[axis]
    center = (middle[0] + share * across[0], middle[1] + share * across[1])
    return _with_piece(path, index, ArcTo(piece.end, center, piece.turn))


def with_bow(path: Path, index: int, through: Point) -> Path:
    """A piece bent so that it leads through a point; nearly straight, it is a line."""
    piece = path.segments[index]
    _refuse_full_circle(piece)
    start, end = piece.start, piece.end
    chord = math.dist(start, end)
    along = ((end[0] - start[0]) / chord, (end[1] - start[1]) / chord)
    rel = (through[0] - start[0], through[1] - start[1])
    off = along[0] * rel[1] - along[1] * rel[0]
    if abs(off) < FLAT * chord:
        return _with_piece(path, index, LineTo(end))
    # the handle stays in the middle: only how far it is from the chord counts
    radius = (off**2 + chord**2 / 4.0) / (2.0 * abs(off))
    turn: Turn = "cw" if off > 0.0 else "ccw"
    step = _arc(start, end, radius, turn)
    if abs(off) > chord / 2.0:
        step = ArcTo(end, _mirrored(step.center, start, end), turn)
    return _with_piece(path, index, step)


def with_point_added(path: Path, index: int) -> Path:
    """A piece parted in its middle; its shape stays."""
    piece = path.segments[index]
    place = middle_of(piece)
    if isinstance(piece, Arc):
        first, second = (ArcTo(to, piece.center, piece.turn) for to in (place, piece.end))
        parts: tuple[LineTo | ArcTo, ...] = (first, second)
    else:
        parts = (LineTo(place), LineTo(piece.end))
    return Path(path.start, (*path.steps[:index], *parts, *path.steps[index + 1 :]))


def without_point(path: Path, index: int) -> Path:
    """A point less; a line takes the place of the two pieces beside it.

    Raises:
        InputError: only one piece is left.
    """
    if len(path.steps) < 2:
        raise InputError(Problem("path", "has one piece only", "two pieces at least"))
    steps = path.steps
    if index == 0:
        return Path(steps[0].to, steps[1:])
    if index == len(steps):
        return Path(path.start, steps[:-1])
    return Path(path.start, (*steps[: index - 1], LineTo(steps[index].to), *steps[index + 1 :]))


def as_closed(target: PathTarget, closed: bool) -> PathTarget:
    """The whole section, led straight back to its start; or an open one, without the last piece."""
    path = target.typed
    if closed and not path.is_closed:
        path = path.line(path.start)
    elif not closed and path.is_closed:
        path = Path(path.start, path.steps[:-1])
    return PathTarget(path, closed)


def as_lines(target: Target) -> PathTarget:
    """Any target as typed lines and arcs, in the same place."""
    path = target.path().moved(lambda point: (round(point[0], 9), round(point[1], 9)))
    return PathTarget(path, target.closed)


def first_path(blank: Blank) -> PathTarget:
    """The least target: level across the blank, three quarters of the way up."""
    box = box_of(blank.outline())
    z = box.bottom + 0.75 * box.height
    middle = (box.left + box.right) / 2.0
    return PathTarget(Path((box.left, z)).line((middle, z)).line((box.right, z)))


def _through(path: Path, points: list[Point]) -> Path:
    """The path with its points in other places."""
    for one, other in itertools.pairwise(points):
        if math.dist(one, other) <= NEAR:
            text = "lies on the point beside it"
            raise InputError(Problem("to", text, "another place"))
    steps: list[LineTo | ArcTo] = []
    for piece, start, end in zip(path.segments, points, points[1:], strict=False):
        if isinstance(piece, Line):
            steps.append(LineTo(end))
        elif (piece.start, piece.end) == (start, end):
            steps.append(ArcTo(end, piece.center, piece.turn))
        else:
            steps.append(ArcTo(end, _carried(piece, start, end), piece.turn))
    return Path(points[0], tuple(steps))


def _refuse_full_circle(piece: Segment) -> None:
    if math.dist(piece.start, piece.end) <= NEAR:
        text = "is a full circle: its ends do not say how it may change"
        raise InputError(Problem("path", text, "a point added in it first"))


def _carried(piece: Arc, start: Point, end: Point) -> Point:
    """The centre of an arc whose chord was moved, turned and stretched."""
    old = complex(piece.end[0] - piece.start[0], piece.end[1] - piece.start[1])
    new = complex(end[0] - start[0], end[1] - start[1])
    off = complex(piece.center[0] - piece.start[0], piece.center[1] - piece.start[1])
    moved = off * new / old
    return (start[0] + moved.real, start[1] + moved.imag)


def _with_piece(path: Path, index: int, step: LineTo | ArcTo) -> Path:
    return Path(path.start, (*path.steps[:index], step, *path.steps[index + 1 :]))


def _arc(start: Point, end: Point, radius: float, turn: Turn) -> ArcTo:
    """The shorter arc of a radius."""
    half = math.dist(start, end) / 2.0
    off = math.sqrt(max(0.0, radius**2 - half**2))
    along = ((end[0] - start[0]) / (2.0 * half), (end[1] - start[1]) / (2.0 * half))
    side = 1.0 if turn == "ccw" else -1.0
    middle = _between(start, end, 0.5)
    center = (middle[0] - side * off * along[1], middle[1] + side * off * along[0])
    return ArcTo(end, center, turn)


def _mirrored(point: Point, start: Point, end: Point) -> Point:
    """A point on the other side of the line through two others."""
    along = complex(end[0] - start[0], end[1] - start[1])
    rel = complex(point[0] - start[0], point[1] - start[1]) / along
    back = rel.conjugate() * along
    return (start[0] + back.real, start[1] + back.imag)


def _between(one: Point, other: Point, share: float) -> Point:
    return (one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1]))


def _rounded(point: Point) -> Point:
    return (round(point[0], DIGITS), round(point[1], DIGITS))

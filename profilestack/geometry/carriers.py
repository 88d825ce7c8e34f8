"""The whole line or circle under a piece: when two are one, and where neighbours meet."""

from __future__ import annotations

import math

from profilestack.geometry.crossing import carriers_meeting
from profilestack.geometry.path import SAME_POINT, Arc, Line, Point, Segment

KEY = 1e-7
"""Lines and circles that agree to this are one [mm]."""

FARTHER = 1000.0
"""Two straight lines may meet so many chord errors from where their flattened sides do."""


def carrier_key(piece: Segment) -> tuple[float, ...]:
    """What names the whole line or circle under a piece."""
    if isinstance(piece, Arc):
        values = (*piece.center, piece.radius)
    else:
        (x0, z0), (x1, z1) = piece.start, piece.end
        length = math.dist(piece.start, piece.end)
        across = ((z0 - z1) / length, (x1 - x0) / length)
        if across < (-KEY, 0.0) or (abs(across[0]) <= KEY and across[1] < 0.0):
            across = (-across[0], -across[1])
        values = (*across, across[0] * x0 + across[1] * z0)
    return tuple(round(value / KEY) * 1.0 for value in values)


def are_one_carrier(first: Segment, second: Segment) -> bool:
    """Whether two pieces lie on one line or one circle."""
    if isinstance(first, Arc) and isinstance(second, Arc):
        apart = math.dist(first.center, second.center) + abs(first.radius - second.radius)
        return apart <= 10.0 * KEY
    if isinstance(first, Line) and isinstance(second, Line):
        return max(distance_off(first, second.start), distance_off(first, second.end)) <= 10.0 * KEY
    return False


def joint_of(before: Segment, after: Segment, place: Point, chord: float) -> Point:
    """Where two pieces that follow each other meet [mm], near the ``place`` where their flattened
    sides do; in the middle between them where they miss each other.

    ``chord`` is how far a flattened side may be off its piece [mm].
    """
    if max(distance_off(before, place), distance_off(after, place)) <= SAME_POINT:
        return place
    radii = [piece.radius for piece in (before, after) if isinstance(piece, Arc)]
    reach = FARTHER * chord
    if radii:  # where circles touch, chords cross as far off as a chord is long
        reach = min(reach, 8.0 * math.sqrt(min(radii) * chord)) + 10.0 * chord
    meetings = carriers_meeting(before, after)
    if meetings:
        nearest = min(meetings, key=lambda point: math.dist(point, place))
        if math.dist(nearest, place) <= reach:
            return nearest
    return _between(before, after, place)


def _between(before: Segment, after: Segment, place: Point) -> Point:
    """In the middle between two pieces that pass each other near a place [mm].

    Between a line and an arc it is on the arc: a line that gives way stays a line.
    """
    for _ in range(50):
        one, two = foot_on(before, place), foot_on(after, place)
        middle = ((one[0] + two[0]) / 2.0, (one[1] + two[1]) / 2.0)
        if math.dist(middle, place) <= SAME_POINT:
            break
        place = middle
    if isinstance(before, Arc) != isinstance(after, Arc):
        return foot_on(before if isinstance(before, Arc) else after, place)
    return place


def foot_on(piece: Segment, point: Point) -> Point:
    """The nearest place on the whole line or circle under a piece [mm]."""
    if isinstance(piece, Arc):
        away = math.dist(piece.center, point)
        share = piece.radius / away if away > 0.0 else 0.0
        return (
            piece.center[0] + share * (point[0] - piece.center[0]),
            piece.center[1] + share * (point[1] - piece.center[1]),
        )
    (x0, z0), (x1, z1) = piece.start, piece.end
    along = (x1 - x0, z1 - z0)
    share = ((point[0] - x0) * along[0] + (point[1] - z0) * along[1]) / (
        along[0] ** 2 + along[1] ** 2
    )
    return (x0 + share * along[0], z0 + share * along[1])


def distance_off(piece: Segment, point: Point) -> float:
    """How far a point lies off the whole line or circle under a piece [mm]."""
    return math.dist(foot_on(piece, point), point)

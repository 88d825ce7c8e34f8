"""Numbered balloons at the ends of the bits' axes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from profilestack.drawing.axes import Axis
from profilestack.drawing.drawing import Mark, circle, line, words
from profilestack.drawing.palette import INK, LEADER_PEN, WHITE, Look, Pen
from profilestack.drawing.placing import Placing, spread
from profilestack.geometry.path import Point

BALLOON = 2.3
"""Radius of a balloon on the paper [mm]."""

REACH = 9.0
"""From the top of the blank as it lies to the middle of a balloon without a label [mm]."""

LABEL_FOOT = 5.5
"""From the top of the blank as it lies to the words of a label [mm]."""

KNEE = 2.0
"""From there to where a leader may bend [mm]."""


@dataclass(frozen=True, slots=True)
class Balloon:
    """A number at the end of an axis; places on the sheet [mm], ``way`` of length 1 outward.

    ``label`` is the room for words between leader and balloon [mm]; 0: none.
    """

    number: int
    way: Point
    knee: Point
    middle: Point
    label: float

    def back(self, distance: float) -> Point:
        """A place that far before the middle, toward the wood [mm]."""
        x, y = self.middle
        return (x - distance * self.way[0], y - distance * self.way[1])

    @property
    def foot(self) -> Point:
        """Where the leader ends: at the label or at the balloon [mm]."""
        return self.back(BALLOON + (self.label + 2.0 if self.label else 0.0))


def balloons_of(axes: Sequence[Axis], placing: Placing, label: float = 0.0) -> list[Balloon]:
    """One balloon a pass, with ``label`` [mm] of room for words where that meets no other one.

    Those of one direction stand in a row, spread where they would touch. The largest row is set
    first; one that would meet it goes without its words, or further out.
    """
    groups: dict[Point, list[Axis]] = {}
    for axis in axes:
        if axis.leads:
            way = placing.direction(axis.direction)
            groups.setdefault((round(way[0], 6), round(way[1], 6)), []).append(axis)
    found: list[Balloon] = []
    for way, members in sorted(groups.items(), key=lambda group: (-len(group[1]), group[0])):
        rows = list(_rows(way, members, placing, label))
        found += next((row for row in rows if not _meets(row, found)), rows[0])
    return found


def _rows(
    way: Point, members: Sequence[Axis], placing: Placing, label: float
) -> Iterator[list[Balloon]]:
    """The row of one direction in all the places where it may stand, the best first."""
    side = (way[1], -way[0])
    mouths = [placing.point(axis.mouth) for axis in members]
    along = [mouth[0] * side[0] + mouth[1] * side[1] for mouth in mouths]
    level = max(mouth[0] * way[0] + mouth[1] * way[1] for mouth in mouths)
    shown = spread(along, 2.0 * BALLOON + 0.7)

    def at(across: float, up: float) -> Point:
        return (across * side[0] + up * way[0], across * side[1] + up * way[1])

    full = LABEL_FOOT + label + 2.4 + BALLOON if label else REACH
    tries = [(full, label), (REACH, 0.0)]
    tries += [(full + 4.0 * step, label) for step in range(1, 6)]
    for reach, room in tries:
        yield [
            Balloon(axis.number, way, at(own, level + KNEE), at(place, level + reach), room)
            for axis, own, place in zip(members, along, shown, strict=True)
        ]


def _meets(row: Sequence[Balloon], taken: Sequence[Balloon]) -> bool:
    places = [place for balloon in taken for place in _spine(balloon)]
    return any(
        math.dist(place, other) < 2.0 * BALLOON + 0.3
        for balloon in row
        for place in _spine(balloon)
        for other in places
    )


def _spine(balloon: Balloon) -> list[Point]:
    """Places along a balloon and its label, 2 mm apart."""
    count = math.ceil(balloon.label / 2.0) + 1
    return [balloon.back(2.0 * step) for step in range(count + (balloon.label > 0.0))]


def balloon_marks(balloons: Sequence[Balloon]) -> list[Mark]:
    """Leaders and numbered circles."""
    marks: list[Mark] = []
    for balloon in balloons:
        marks.append(line(balloon.knee, balloon.foot, pen=LEADER_PEN))
        marks += numbered(balloon.number, balloon.middle)
    return marks


def numbered(number: int, middle: Point, radius: float = BALLOON) -> list[Mark]:
    """A pass's number in a circle."""
    size = 7.0 if number < 100 else 5.5
    return [
        *circle(middle, radius, Look(WHITE, (), Pen(INK, 0.22))),
        words(
            middle, str(number), size * radius / BALLOON, INK, "middle", bold=True, centered=True
        ),
    ]

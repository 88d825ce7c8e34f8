"""The bits' axes in the section plane, and numbered balloons at their ends."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from profilestack.cutting.cut import Cut
from profilestack.drawing.drawing import Mark, circle, extent_of, line, words
from profilestack.drawing.palette import AXIS_PEN, INK, LEADER_PEN, WHITE, Look, Pen
from profilestack.drawing.placing import Placing, spread
from profilestack.geometry.path import Point
from profilestack.geometry.region import rings_of

BALLOON = 2.3
"""Radius of a balloon on the paper [mm]."""


@dataclass(frozen=True, slots=True)
class Axis:
    """One stroke's axis: from the bit's ``tip`` [mm] along ``direction`` out of the wood.

    ``depth`` is how far the tip lies below the top of the blank as it lies [mm]; ``leads`` tells
    the first stroke of a pass, which carries the number.
    """

    number: int
    tip: Point
    direction: Point
    offset: float
    depth: float
    leads: bool

    @property
    def mouth(self) -> Point:
        """Where the axis comes to the top of the blank as it lies [mm]."""
        x, z = self.tip
        return (x + self.depth * self.direction[0], z + self.depth * self.direction[1])


def axes_of(cut: Cut) -> tuple[Axis, ...]:
    """The axes of all strokes, in cutting order."""
    found = []
    for single in cut.passes:
        for place in range(single.first, single.last):
            stroke = cut.strokes[place]
            ends = stroke.to_section(np.array(((0.0, 0.0), (0.0, 1.0))))
            tip = (float(ends[0, 0]), float(ends[0, 1]))
            way = (float(ends[1, 0] - ends[0, 0]), float(ends[1, 1] - ends[0, 1]))
            found.append(
                Axis(single.number, tip, way, stroke.axis, single.cut.depth, place == single.first)
            )
    return tuple(found)


def axes_near(cut: Cut) -> tuple[Axis, ...]:
    """The axes that are worth drawing: those at most half the blank's size, or 25 mm, off it.

    A bit far outside would make everything else small; it stands in the table of passes. The
    first axis that is left of each pass leads.
    """
    low_x, low_z, high_x, high_z = extent_of(rings_of(cut.blank))
    far = max(25.0, 0.5 * max(high_x - low_x, high_z - low_z))
    led: set[int] = set()
    found = []
    for axis in axes_of(cut):
        if all(
            low_x - far <= x <= high_x + far and low_z - far <= z <= high_z + far
            for x, z in (axis.mouth, axis.tip)
        ):
            found.append(replace(axis, leads=axis.number not in led))
            led.add(axis.number)
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Balloon:
    """A number at the end of an axis; places on the sheet [mm], ``way`` of length 1 outward."""

    number: int
    way: Point
    mouth: Point
    knee: Point
    middle: Point


def balloons_of(axes: Sequence[Axis], placing: Placing, reach: float) -> list[Balloon]:
    """One balloon a pass, ``reach`` [mm] on the paper above the blank as it lies.

    Those of one direction stand in a row, spread where they would touch; one number a place
    where several passes share an axis is not enough, so those are spread as well.
    """
    groups: dict[tuple[float, float], list[Axis]] = {}
    for axis in axes:
        if axis.leads:
            way = placing.direction(axis.direction)
            groups.setdefault((round(way[0], 6), round(way[1], 6)), []).append(axis)
    found = []
    for way, members in groups.items():
        side = (way[1], -way[0])
        mouths = [placing.point(axis.mouth) for axis in members]
        along = [mouth[0] * side[0] + mouth[1] * side[1] for mouth in mouths]
        level = max(mouth[0] * way[0] + mouth[1] * way[1] for mouth in mouths)
        for axis, mouth, own, place in zip(
            members, mouths, along, spread(along, 2.0 * BALLOON + 0.7), strict=True
        ):

            def at(across: float, up: float, way: Point = way, side: Point = side) -> Point:
                return (across * side[0] + up * way[0], across * side[1] + up * way[1])

            found.append(
                Balloon(axis.number, way, mouth, at(own, level + 2.0), at(place, level + reach))
            )
    return found


def axis_marks(axes: Sequence[Axis], placing: Placing, pen: Pen = AXIS_PEN) -> list[Mark]:
    """The axes from a little below the tip up to the top of the blank as it lies."""
    marks: list[Mark] = []
    for axis in axes:
        tip, mouth = placing.point(axis.tip), placing.point(axis.mouth)
        way = placing.direction(axis.direction)
        begin = (tip[0] - 2.0 * way[0], tip[1] - 2.0 * way[1])
        end = (mouth[0] + 2.0 * way[0], mouth[1] + 2.0 * way[1])
        # a dashed line too short to show its dashes is drawn unbroken
        shown = pen if math.dist(begin, end) > 14.0 else Pen(pen.color, pen.width)
        marks.append(line(end, begin, pen=shown))
        cross = (1.0 * way[1], -1.0 * way[0])
        marks.append(
            line(
                (tip[0] - cross[0], tip[1] - cross[1]),
                (tip[0] + cross[0], tip[1] + cross[1]),
                pen=Pen(pen.color, 0.2),
            )
        )
    return marks


def balloon_marks(balloons: Sequence[Balloon]) -> list[Mark]:
    """Leaders and numbered circles."""
    marks: list[Mark] = []
    for balloon in balloons:
        reach = math.dist(balloon.knee, balloon.middle)
        share = max(0.0, reach - BALLOON) / reach if reach else 0.0
        touch = (
            balloon.knee[0] + share * (balloon.middle[0] - balloon.knee[0]),
            balloon.knee[1] + share * (balloon.middle[1] - balloon.knee[1]),
        )
        marks.append(line(balloon.knee, touch, pen=LEADER_PEN))
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

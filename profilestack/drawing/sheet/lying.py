"""How the blank lies in one setup, drawn: bed, fence edge, face mark, zeros, axes, clamps."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.drawing.balloons import numbered
from profilestack.drawing.blocks import Block
from profilestack.drawing.drawing import (
    Lines,
    Mark,
    area,
    arrow_head,
    box,
    circle,
    dimension,
    line,
    words,
)
from profilestack.drawing.fonts import text_width
from profilestack.drawing.palette import (
    AXIS_PEN,
    BLANK_PEN,
    INK,
    LEFTOVER,
    QUIET_INK,
    WHITE,
    Hatch,
    Look,
    Pen,
)
from profilestack.drawing.placing import Placing, spread
from profilestack.drawing.sheet.numbers import TINY, WORD
from profilestack.drawing.sheet.stays import Lying, axes_of, no_clamp_zones
from profilestack.drawing.wording import number_text
from profilestack.geometry.path import Point
from profilestack.geometry.region import as_region, subtract
from profilestack.planning.check_dimensions import CheckDimension
from profilestack.stack import Round

WOOD = Look("#E2E2E2", (), Pen(INK, 0.35))
GONE = Look("#F7F7F7", (Hatch(45.0, 1.7, Pen("#8A9299", 0.13)),), Pen(QUIET_INK, 0.15))
WEDGE = Look(None, (Hatch(-45.0, 2.4, Pen("#8A9299", 0.15)),), Pen(QUIET_INK, 0.2))
BED = Look("#C9CED2", (), Pen(INK, 0.25))
NO_CLAMP_PEN = Pen(LEFTOVER, 1.1)

EDGE = 4.5
"""Rings of axes keep so far from the sides of the picture [mm]."""

ROOM_LEFT, ROOM_RIGHT, ROOM_TOP, ROOM_BELOW = 24.0, 22.0, 16.0, 12.5
"""Kept round the section for marks [mm]."""


def lying_block(
    stay: Lying, checks: Sequence[CheckDimension], width: float, height: float, units: str
) -> Block:
    """The picture, ``width`` x ``height`` [mm]."""
    lie = stay.lie
    below = ROOM_BELOW + (5.0 if stay.below else 0.0)
    scale = min(
        (width - ROOM_LEFT - ROOM_RIGHT) / lie.width,
        (height - ROOM_TOP - below) / lie.height, 3.0,
    )  # fmt: skip
    wide, high = scale * lie.width, scale * lie.height
    left = ROOM_LEFT + (width - ROOM_LEFT - ROOM_RIGHT - wide) / 2.0
    bottom = -height + below + (height - ROOM_TOP - below - high) / 2.0
    place = Placing(left, bottom, scale, scale)
    if stay.below:  # turned over, as it lies on the table
        place = Placing(left + wide, bottom + high, -scale, -scale)
    frame = (left, bottom, wide, high)
    marks = _turning_axis(frame) if stay.turned else _bed(frame)
    marks += area(place.rings(_wedge(stay)), WEDGE)
    gone = as_region(subtract(stay.before, stay.after))
    marks += area(place.rings(gone), GONE)
    marks += area(place.rings(as_region(stay.after)), WOOD)
    marks.append(Lines(place.rings(as_region(stay.blank)), BLANK_PEN, closed=True))
    if not stay.turned and not isinstance(stay.plan.stack.blank.stock, Round):
        marks += _face_mark(stay, place)
    marks += _axes(stay, place, frame, width)
    marks += _checks(stay, checks, place)
    marks += _fence(stay, frame)
    marks += _sizes(stay, frame, units)
    marks += _clamps(stay, place, frame)
    return Block(tuple(marks), width, height)


def _bed(frame: tuple[float, float, float, float]) -> list[Mark]:
    left, bottom, wide, _ = frame
    return box(left - 14.0, bottom - 2.2, wide + 28.0, 2.2, BED)


def _turning_axis(frame: tuple[float, float, float, float]) -> list[Mark]:
    left, bottom, wide, _ = frame
    text = "axis of turning"
    return [
        line((left - 12.0, bottom), (left + wide + 12.0, bottom), pen=Pen(INK, 0.4, (5, 1, 1, 1))),
        words((left + wide, bottom - 4.0), text, WORD, INK, "end", bold=True),
    ]


def _wedge(stay: Lying) -> BaseGeometry:
    """What holds a tipped blank: from the bed up to its lower outline."""
    if math.isclose(stay.lie.sin * stay.lie.cos, 0.0, abs_tol=1e-9):
        return as_region(shapely.Polygon())
    hull = shapely.convex_hull(stay.blank)
    low_x, _, high_x, high_z = shapely.bounds(hull)
    points = shapely.get_coordinates(hull)
    left = points[points[:, 0] <= low_x + 1e-6]
    right = points[points[:, 0] >= high_x - 1e-6]
    top = min(float(left[:, 1].min()), float(right[:, 1].min()), 0.6 * float(high_z))
    return as_region(subtract(shapely.box(low_x, 0.0, high_x, max(top, 1.0)), hull))


def _axes(
    stay: Lying, place: Placing, frame: tuple[float, float, float, float], width: float
) -> list[Mark]:
    """The axis of every pass, its number in a ring on the spindle's side."""
    _, bottom, _, high = frame
    axes = axes_of(stay)
    sign = -1.0 if stay.below else 1.0
    out = bottom - 6.2 if stay.below else bottom + high + 5.0
    back = bottom + (0.35 if stay.below else 0.65) * high
    places = [place.point((axis, 0.0))[0] for _, axis in axes]
    room = (EDGE, width - EDGE)
    gap = min(4.6, (room[1] - room[0]) / max(len(axes), 1))
    rings = [min(max(ring, room[0]), room[1]) for ring in spread(places, gap)]
    marks: list[Mark] = []
    for (number, _), at, ring in zip(axes, places, rings, strict=True):
        near = out - sign * 2.6
        if room[0] <= at <= room[1]:
            marks.append(line((ring, out), (at, near), pen=Pen(QUIET_INK, 0.15)))
            marks.append(line((at, near), (at, back), pen=AXIS_PEN))
        else:  # it runs beside the picture
            aside = 1.0 if at > ring else -1.0
            marks.append(arrow_head((ring + aside * 4.4, out), (aside, 0.0), 2.4, QUIET_INK))
        marks += numbered(number, (ring, out), 2.0)
    return marks


def _checks(stay: Lying, checks: Sequence[CheckDimension], place: Placing) -> list[Mark]:
    """The check dimensions' numbers, in small boxes where they are measured."""
    marks: list[Mark] = []
    sign = -1.0 if stay.below else 1.0
    taken: list[Point] = []
    for check in checks:
        laid = stay.lie.to_bench(np.array((check.at,)))[0]
        x, y = place.point((float(laid[0]), float(laid[1])))
        text = str(check.number)
        wide = text_width(text, TINY, bold=True) + 1.2
        away = max(
            ((x + dx, y - sign * dy) for dx, dy in _AWAY),
            key=lambda at: min((_apart(at, other) for other in taken), default=1.0),
        )
        taken.append(away)
        marks += circle((x, y), 0.5, Look(INK))
        marks.append(line((x, y), away, pen=Pen(INK, 0.15)))
        left = away[0] - wide / 2.0
        marks += box(left, away[1] - 1.5, wide, 3.0, Look(WHITE, (), Pen(INK, 0.2)))
        marks.append(words(away, text, TINY, INK, "middle", bold=True, centered=True))
    return marks


_AWAY = ((1.8, 3.6), (-1.8, 3.6), (3.6, 7.0), (-3.6, 7.0), (4.4, 3.4), (-4.4, 3.4), (0.0, 10.4))
"""Where a label may stand from its point, on the wood's side [mm]."""


def _apart(one: Point, other: Point) -> float:
    """How well two labels keep apart: 1 where they do not touch."""
    return min(1.0, max(abs(one[0] - other[0]) / 4.4, abs(one[1] - other[1]) / 3.2))


def _face_mark(stay: Lying, place: Placing) -> list[Mark]:
    """A triangle on the planed face, wherever it now lies."""
    low, _, high, top = shapely.bounds(stay.plan.cut.sections[0])
    rings = [place.point((axis, 0.0))[0] for _, axis in axes_of(stay)]
    spots: list[tuple[float, int, Point, Point]] = []
    for share in (0.5, 0.35, 0.65, 0.2, 0.8, 0.42, 0.58, 0.28, 0.72, 0.12, 0.88):
        on_face = np.array(((low + share * (high - low), top),))
        a, b = (stay.lie.to_bench(on_face + np.array(((0.0, out),)))[0] for out in (0.0, 1.0))
        tip, beyond = (place.point((float(each[0]), float(each[1]))) for each in (a, b))
        # the word stands right of the mark
        free = min((max(tip[0] - 1.0 - x, x - tip[0] - 9.0) for x in rings), default=9.0)
        spots.append((min(free, 3.0), -len(spots), tip, beyond))
    _, _, tip, beyond = max(spots, key=lambda spot: spot[:2])
    size = math.hypot(beyond[0] - tip[0], beyond[1] - tip[1])
    away: Point = ((beyond[0] - tip[0]) / size, (beyond[1] - tip[1]) / size)
    start = (tip[0] + 3.4 * away[0], tip[1] + 3.4 * away[1])
    head = arrow_head(tip, (-away[0], -away[1]), 3.4, INK)
    at = (start[0] + 1.6 + abs(away[1]) * 0.6, start[1])
    wide = text_width("face", WORD, bold=True)
    ground = box(at[0] - 0.4, at[1] - 1.5, wide + 0.8, 3.0, Look(WHITE))
    return [head, *ground, words(at, "face", WORD, bold=True, centered=True)]


def _fence(stay: Lying, frame: tuple[float, float, float, float]) -> list[Mark]:
    """The edge from which offsets run, and the zeros."""
    left, bottom, wide, high = frame
    x, sign = (left + wide, 1.0) if stay.below else (left, -1.0)
    tall = max(high, 12.0)
    marks = box(min(x, x + sign * 1.6), bottom, 1.6, tall, Look(INK))
    turn = -90.0 if stay.below else 90.0
    word = "fence" if stay.below else "left end" if stay.turned else "fence edge"
    at = (x + sign * 4.0, bottom + tall / 2.0)
    marks.append(words(at, word, WORD, INK, "middle", angle=turn, bold=True, centered=True))
    zero = (x, bottom)
    marks += circle(zero, 1.5, Look(WHITE, (), Pen(INK, 0.3)))
    for dx, dy in ((1.0, 0.0), (0.0, 1.0)):
        marks.append(
            line((zero[0] - 2.2 * dx, zero[1] - 2.2 * dy), (zero[0] + 2.2 * dx, zero[1] + 2.2 * dy),
                 pen=Pen(INK, 0.3))
        )  # fmt: skip
    told = "0: fence, table" if stay.below else "0: end, axis" if stay.turned else "0: edge, bed"
    anchor = "start" if stay.below else "end"
    place = (x + sign * 2.8, bottom - 4.6)
    marks.append(words(place, told, WORD, INK, anchor, bold=True, centered=True))  # type: ignore[arg-type]
    return marks


def _sizes(stay: Lying, frame: tuple[float, float, float, float], units: str) -> list[Mark]:
    """Width and height of the box in which the blank lies."""
    left, bottom, wide, high = frame
    down = bottom - (15.4 if stay.below else 10.6)
    side, sign = (left, -1.0) if stay.below else (left + wide, 1.0)
    aside = side + sign * 10.0
    pen = Pen(QUIET_INK, 0.15)
    marks: list[Mark] = [
        line((left, bottom - 2.8), (left, down - 1.0), pen=pen),
        line((left + wide, bottom - 2.8), (left + wide, down - 1.0), pen=pen),
        line((side + sign, bottom), (aside + sign, bottom), pen=pen),
        line((side + sign, bottom + high), (aside + sign, bottom + high), pen=pen),
    ]
    wide_text = number_text(stay.lie.width, units)
    marks += dimension((left, down), (left + wide, down), wide_text, WORD)
    high_text = number_text(stay.lie.height, units)
    marks += dimension((aside, bottom), (aside, bottom + high), high_text, WORD)
    return marks


def _clamps(stay: Lying, place: Placing, frame: tuple[float, float, float, float]) -> list[Mark]:
    """The stretches over which no clamp may stand."""
    _, bottom, _, high = frame
    level = bottom + high + 10.0
    if stay.below:
        level = bottom + high + 7.0
    marks: list[Mark] = []
    for low, top in no_clamp_zones(stay):
        ends = sorted((place.point((low, 0.0))[0], place.point((top, 0.0))[0]))
        marks.append(line((ends[0], level), (ends[1], level), pen=NO_CLAMP_PEN))
        for end in ends:
            marks.append(line((end, level - 1.2), (end, level + 1.2), pen=Pen(LEFTOVER, 0.4)))
    zones = no_clamp_zones(stay)
    if zones:
        middle = place.point(((zones[0][0] + zones[-1][1]) / 2.0, 0.0))[0]
        text = "no clamps, no hold-downs here" if not stay.below else "hands and push blocks off"
        marks.append(words((middle, level + 1.6), text, WORD, LEFTOVER, "middle", bold=True))
    return marks

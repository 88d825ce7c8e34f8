"""The panel of a section picture: the section itself, with everything written around it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.cutting.stroke import lie_of
from profilestack.drawing.axes import Axis, axis_marks, drawn_axes
from profilestack.drawing.balloons import BALLOON, Balloon, balloon_marks, balloons_of
from profilestack.drawing.drawing import (
    Lines,
    Mark,
    box,
    dimension,
    extent_of,
    line,
    tag,
    tag_size,
    words,
)
from profilestack.drawing.free_places import Room
from profilestack.drawing.palette import (
    BODY,
    DIMENSION_PEN,
    DRAWN_PEN,
    INK,
    LEFTOVER,
    OVERCUT,
    PAPER,
    QUIET_INK,
    SMALL,
    WHITE,
    WOOD_LOOK,
    Look,
    Pen,
)
from profilestack.drawing.placing import Placing
from profilestack.drawing.scene import (
    blank_marks,
    difference_marks,
    drawn_chains,
    outline_points,
    pass_number_marks,
    pass_numbers,
    removed_marks,
    removed_regions,
    section_marks,
    spot,
    target_marks,
    waste_direction,
)
from profilestack.drawing.strip import nice_step
from profilestack.drawing.wording import UNIT_WORDS, number_text, signed_text
from profilestack.geometry.path import Path, Point
from profilestack.units import from_units, to_units

MOST_RIDGES = 8
"""So many of the highest ridges are labelled."""

LOWEST_RIDGE = 0.02
"""Ridges lower than this [mm] are not labelled: nobody would find them on the wood."""


@dataclass(frozen=True, slots=True)
class _Note:
    at: Point
    text: str
    color: str
    toward: Point


def panel_marks(
    cut: Cut,
    comparison: Comparison | None,
    axes: Sequence[Axis],
    placing: Placing,
    frame: tuple[float, float, float, float],
    units: str,
    drawn: Path | None = None,
) -> list[Mark]:
    """The section inside ``frame`` = left, bottom, width, height [mm on the sheet].

    ``drawn`` is the wanted profile before it was fitted to the bits at hand.
    """
    left, bottom, width, height = frame
    removed = removed_regions(cut)
    numbers = pass_numbers(removed, placing)
    balloons = balloons_of(axes, placing)
    drawn_lines = drawn_chains(drawn, comparison, placing)
    room = Room(
        (left, bottom + 9.0, left + width, bottom + height),
        np.concatenate((outline_points(cut, comparison, placing), *drawn_lines)),
    )
    for balloon in balloons:
        room.take(balloon.middle, 2.2 * BALLOON, 2.2 * BALLOON)
    for _, middle in numbers:
        room.take(middle, 4.0, 4.0)
    marks = removed_marks(removed, placing)
    marks += blank_marks(cut, placing)
    marks += section_marks(cut, placing, WOOD_LOOK)
    if comparison is not None:
        marks += difference_marks(comparison, placing)
        marks += target_marks(comparison, placing)
    marks += axis_marks(drawn_axes(axes), placing)
    marks += pass_number_marks(numbers)
    if drawn_lines:
        marks.append(Lines(drawn_lines, DRAWN_PEN))
    marks += balloon_marks(balloons)
    marks += _size_marks(cut, placing, room, balloons, units)
    if comparison is not None:
        marks += _note_marks(_notes(comparison, placing, units), room)
    return [*marks, *_scale_bar(placing, left, bottom, units)]


def _size_marks(
    cut: Cut, placing: Placing, room: Room, balloons: Sequence[Balloon], units: str
) -> list[Mark]:
    """Width below and height at the left of the blank, beyond the balloons that stand there."""
    low_x, low_y, high_x, high_y = extent_of(placing.rings(cut.blank))
    size = lie_of(cut.stack.blank, 0.0)
    clear = BALLOON + 4.4  # the words stand over the line
    down = min([low_y - 6.0, *(b.middle[1] - clear for b in balloons if b.middle[1] < low_y)])
    aside = min([low_x - 6.0, *(b.middle[0] - clear for b in balloons if b.middle[0] < low_x)])
    marks: list[Mark] = []
    for begin, end in (
        ((low_x, low_y - 1.0), (low_x, down - 1.0)),
        ((high_x, low_y - 1.0), (high_x, down - 1.0)),
        ((low_x - 1.0, low_y), (aside - 1.0, low_y)),
        ((low_x - 1.0, high_y), (aside - 1.0, high_y)),
    ):
        marks.append(line(begin, end, pen=DIMENSION_PEN))
    marks += dimension((low_x, down), (high_x, down), number_text(size.width, units), BODY)
    marks += dimension((aside, low_y), (aside, high_y), number_text(size.height, units), BODY)
    room.take(((low_x + high_x) / 2.0, down + 1.5), high_x - low_x, 4.0)
    room.take((aside - 1.5, (low_y + high_y) / 2.0), 4.0, high_y - low_y)
    return marks


def _notes(comparison: Comparison, placing: Placing, units: str) -> list[_Note]:
    """What is written at places of the section: the worst first."""
    found: list[_Note] = []

    def add(at: Point, value: float, color: str) -> None:
        toward = waste_direction(comparison, at, placing)
        found.append(_Note(placing.point(at), signed_text(value, units), color, toward))

    said: list[Point] = []
    for side, color, sign in (
        (comparison.leftover, LEFTOVER, 1.0),
        (comparison.overcut, OVERCUT, -1.0),
    ):
        if side.at is not None and side.max >= 0.005:
            add(side.at, sign * side.max, color)
            said.append(side.at)
    for corner in comparison.corners[:3]:
        if corner.distance >= LOWEST_RIDGE and _is_new(corner.at, said, 2.0):
            add(corner.at, corner.distance, LEFTOVER)
            said.append(corner.at)
    ridges = sorted(comparison.ridges, key=lambda ridge: -ridge.height)
    for ridge in ridges[:MOST_RIDGES]:
        if ridge.height >= LOWEST_RIDGE and _is_new(ridge.at, said, 2.0):
            add(ridge.at, ridge.height, LEFTOVER)
            said.append(ridge.at)
    return found


def _is_new(at: Point, said: Sequence[Point], near: float) -> bool:
    return all(math.dist(at, other) > near for other in said)


def _note_marks(notes: Sequence[_Note], room: Room) -> list[Mark]:
    leaders: list[Mark] = []
    tags: list[Mark] = []
    for note in notes:
        width, height = tag_size(note.text, BODY)
        middle = room.place(note.at, width, height, note.toward)
        if middle is None:
            continue
        leaders += [*spot(note.at, note.color), _leader(note.at, middle, note.color)]
        tags += tag(middle, note.text, BODY, note.color, WHITE)
    return [*leaders, *tags]


def _leader(at: Point, middle: Point, color: str) -> Mark:
    """From the ring around a place to the middle of its label, which will cover the end."""
    length = math.dist(at, middle)
    share = 0.9 / length if length > 0.9 else 0.0
    begin = (at[0] + share * (middle[0] - at[0]), at[1] + share * (middle[1] - at[1]))
    return line(begin, middle, pen=Pen(color, 0.2))


def _scale_bar(placing: Placing, left: float, bottom: float, units: str) -> list[Mark]:
    """A bar of a round length in the document's units, and the scale in words."""
    length = nice_step(to_units(22.0 / placing.across, units))
    paper = from_units(length, units) * placing.across
    height = 1.4
    y = bottom + 3.2
    marks: list[Mark] = []
    for part in range(4):
        look = Look(INK if part % 2 == 0 else PAPER, (), Pen(INK, 0.15))
        marks += box(left + part * paper / 4.0, y, paper / 4.0, height, look)
    text = f"{length:g} {units}"
    marks.append(words((left + paper + 1.5, y + height / 2.0), text, SMALL, centered=True))
    scale = placing.across
    said = f"drawn {scale:g} : 1" if scale >= 1.0 else f"drawn 1 : {1.0 / scale:.3g}"
    at = (left, y - 3.6)
    return [*marks, words(at, f"{said}, lengths in {UNIT_WORDS[units]}", SMALL, QUIET_INK)]

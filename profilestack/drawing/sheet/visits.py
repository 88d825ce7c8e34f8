"""One bit in one setup: silhouette, shank, stick-out, measured diameter, rpm, and its passes."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, largest_radius, silhouette_path
from profilestack.cutting.caution import Caution
from profilestack.drawing.balloons import numbered
from profilestack.drawing.blocks import Block, paragraph, stacked
from profilestack.drawing.drawing import Mark, area, box, line, moved, words
from profilestack.drawing.fonts import fitted, line_height, text_width
from profilestack.drawing.palette import (
    FRAME_PEN,
    INK,
    LEFTOVER,
    QUIET_INK,
    STEEL,
    WHITE,
    Look,
    Pen,
)
from profilestack.drawing.placing import Placing
from profilestack.drawing.sheet.numbers import (
    BIG,
    EACH,
    LARGE,
    NAME,
    TINY,
    WORD,
    depths_text,
    feeds_text,
    fence_number,
    heights_above,
    machine_number,
    way_text,
)
from profilestack.drawing.sheet.stays import Lying
from profilestack.planning.plan import Rest, Step
from profilestack.stack import Round
from profilestack.units import format_length

BIT_WIDTH = 58.0
"""Width of the column that shows the bit [mm]."""

SILHOUETTE = (17.0, 23.0)
"""Room for the silhouette [mm]."""

BODY_LOOK = Look(STEEL, (), Pen(INK, 0.3))
SHANK_LOOK = Look("#E9EBEC", (), Pen(INK, 0.25))
WARN_WORDS = {"stop": "STOP", "warn": "MIND"}


@dataclass(frozen=True, slots=True, eq=False)
class Visit:
    """The steps of one bit in one setup, and a rest that comes before them."""

    stay: Lying
    steps: tuple[Step, ...]
    rest: Rest | None

    @property
    def passes(self) -> list[tuple[Step, ...]]:
        """The steps of each pass."""
        groups = itertools.groupby(self.steps, key=lambda step: step.pass_number)
        return [tuple(group) for _, group in groups]


def visits_of(stay: Lying) -> list[Visit]:
    """The visits of one stay, in order."""
    rests = {rest.before_step: rest for rest in stay.plan.rests}
    found = []
    for _, group in itertools.groupby(stay.steps, key=lambda step: step.bit.id):
        steps = tuple(group)
        found.append(Visit(stay, steps, rests.get(steps[0].number)))
    return found


def visit_blocks(visit: Visit, width: float, units: str) -> list[Block]:
    """A visit in parts that may stand on two sheets: the bit with its first passes, then more."""
    rows = [_pass_row(visit, steps, width - BIT_WIDTH, units) for steps in visit.passes]
    bit = _bit_block(visit, units)
    first: list[Block] = []
    used = 0.0
    while rows and used < bit.height - 6.0:
        used += rows[0].height
        first.append(rows.pop(0))
    parts = [_beside(bit, stacked(first), width)]
    parts += [_beside(None, row, width) for row in rows]
    if visit.rest is not None:
        parts[0] = stacked([_rest_block(visit.rest, width), parts[0]])
    return parts


def _beside(bit: Block | None, rows: Block, width: float) -> Block:
    marks: list[Mark] = [*moved(rows.marks, BIT_WIDTH, 0.0)]
    if bit is not None:
        marks += bit.marks
        marks.append(line((0.0, 0.0), (width, 0.0), pen=Pen(INK, 0.3)))
    return Block(tuple(marks), width, max(rows.height, bit.height if bit else 0.0))


def _rest_block(rest: Rest, width: float) -> Block:
    text = (
        f"REST: {rest.share:.0%} of the blank has left this side. Let it lie overnight if you can, "
        "plane the other side flat again, and set up anew: what is planed off there comes off "
        "every height above the bed from here on."
    )
    inner = paragraph(text, width - 3.0, NAME, INK, bold=True)
    marks = box(0.0, -inner.height - 2.4, width, inner.height + 1.6, Look("#F1F1F1", (), FRAME_PEN))
    return Block((*marks, *inner.at(1.5, -1.4)), width, inner.height + 3.4)


def _bit_block(visit: Visit, units: str) -> Block:
    bit, rpm = visit.steps[0].bit, visit.steps[0].rpm
    left = SILHOUETTE[0] + 3.0
    room = BIT_WIDTH - left - 3.0
    told = [
        f"shank, collet {format_length(bit.shank, units)}",
        f"sticks out {machine_number(bit.reach, units)}, grip {machine_number(bit.grip, units)}",
    ]
    name = paragraph(bit.name, room, NAME, INK, bold=True, most=3)
    facts = stacked([name, *(paragraph(text, room, TINY, INK, most=1) for text in told)])
    top = -1.6
    marks: list[Mark] = _silhouette(bit, top)
    marks += facts.at(left, top)
    down = top - facts.height - 0.72 * line_height(BIG)
    marks.append(words((left, down), f"{rpm:,.0f}", BIG, bold=True))
    beside = left + text_width(f"{rpm:,.0f}", BIG, bold=True) + 1.2
    marks.append(words((beside, down), "rpm", WORD, bold=True))
    marks += _measured_box(bit, left, down - 1.8, units)
    return Block(tuple(marks), BIT_WIDTH, max(SILHOUETTE[1] + 2.6, -down + 8.0))


def _measured_box(bit: Bit, left: float, top: float, units: str) -> list[Mark]:
    """A box for the diameter that the bit has when it is measured."""
    marks = box(left, top - 5.2, 15.0, 5.2, Look(WHITE, (), Pen(INK, 0.3)))
    nominal = machine_number(2.0 * largest_radius(bit), units)
    said = "as measured" if bit.measured is not None else "nominal"
    at = left + 16.0
    marks.append(words((at, top - 2.0), "Ø measured", 5.6, QUIET_INK))
    marks.append(words((at, top - 4.9), f"({said} {nominal})", 5.6, QUIET_INK))
    return marks


def _silhouette(bit: Bit, top: float) -> list[Mark]:
    """Edge and shank up to the collet nut."""
    wide, high = SILHOUETTE
    half = max(largest_radius(bit), bit.shank / 2.0)
    low = bit.pilot_length or 0.0
    scale = min(wide / (2.0 * half), high / (bit.reach + low), 1.0)
    place = Placing(wide / 2.0, top - scale * (bit.reach), scale, scale)
    shank = bit.shank / 2.0
    corners = np.array(
        ((-shank, edge_height(bit)), (shank, edge_height(bit)), (shank, bit.reach),
         (-shank, bit.reach))
    )  # fmt: skip
    marks = area((place.points(corners),), SHANK_LOOK)
    if bit.pilot_diameter is not None:
        pilot = bit.pilot_diameter / 2.0
        ring = np.array(((-pilot, -low), (pilot, -low), (pilot, 0.0), (-pilot, 0.0)))
        marks += area((place.points(ring),), SHANK_LOOK)
    marks += area((place.points(silhouette_path(bit).flatten(0.02)),), BODY_LOOK)
    nut = place.point((0.0, bit.reach))[1]
    marks.append(line((1.0, nut), (wide - 1.0, nut), pen=Pen(INK, 0.6)))
    return marks


def _pass_row(visit: Visit, steps: Sequence[Step], width: float, units: str) -> Block:
    """Offset, depth, each depth, and the cautions of one pass."""
    first = steps[0]
    left = 6.8
    room = width - left - 1.0
    marks: list[Mark] = [*numbered(first.pass_number, (2.6, -4.0), 2.5)]
    purpose = _purpose(first, units)
    more = feeds_text(steps, units)
    if not visit.stay.turned:
        more = f"{more} · {way_text(steps, visit.stay.below)}"
    beside = text_width(purpose, WORD, bold=True) + text_width(more, TINY) + 3.0 <= room
    named = paragraph(purpose, room, WORD, bold=True, most=2)
    marks += named.at(left, -1.2)
    height = 0.9 + named.height
    if beside:
        marks.append(words((left + room, -3.9), more, TINY, INK, "end"))
    else:
        marks.append(words((left, -height - 2.5), fitted(more, TINY, room), TINY))
        height += 3.2
    at = left
    for text, word, space in _settings(visit, first, units):
        size = BIG if text_width(text, BIG, bold=True) <= space - 2.0 else LARGE
        marks.append(words((at, -height - 5.2), text, size, bold=True))
        marks.append(words((at, -height - 8.0), word, TINY, QUIET_INK))
        at += space
    height += 9.2
    if len(first.depths) > 1:
        each = _depths_lines(visit, first, room, units)
        marks += each.at(left, -height)
        height += each.height
    for caution in _line_cautions(steps):
        block = _caution(caution, room, units)
        marks += block.at(left, -height - 0.4)
        height += block.height + 0.4
    return Block(tuple(marks), width, height + 0.8)


def _depths_lines(visit: Visit, first: Step, room: float, units: str) -> Block:
    """Each depth below the face, and each height above the bed, beside it or below."""
    word = "heights" if visit.stay.below else "depths"
    text = f"in {len(first.depths)} {word}: {depths_text(first.depths, units)}"
    lines = paragraph(text, room, EACH, bold=True, most=3)
    if visit.stay.below:
        return stacked([lines, Block((), room, 0.6)])
    word = "radius" if visit.stay.turned else "above bed"
    above = f"{word} {', '.join(heights_above(first.depths, visit.stay.lie.height, units))}"
    at = text_width(text, EACH, bold=True) + 3.0
    if at + text_width(above, WORD) > room:
        return stacked([lines, paragraph(above, room, WORD, most=2), Block((), room, 0.6)])
    beside = words((at, -0.77 * line_height(EACH)), above, WORD)
    return Block((*lines.marks, beside), room, lines.height + 0.6)


def _purpose(first: Step, units: str) -> str:
    told = [first.purpose]
    if first.document_pass is None:
        told = [f"added: {first.purpose}"]
    if first.count > 1:
        told.append(f"{first.count} lanes, {machine_number(abs(first.pitch), units)} apart")
    copies = first.travels // first.count
    if copies > 1:
        told.append(f"{copies} times round, {360 / copies:g}° each")
    if first.begin is not None or first.end is not None:
        begin = machine_number(first.begin or 0.0, units)
        end = "the end" if first.end is None else machine_number(first.end, units)
        told.append(f"from {begin} to {end}")
    return "; ".join(told)


def _settings(visit: Visit, first: Step, units: str) -> list[tuple[str, str, float]]:
    """What is set: text, what it is, room [mm]."""
    depth, lie = first.depths[-1], visit.stay.lie
    (above,) = heights_above((depth,), lie.height, units)
    if visit.stay.below:
        return [
            (fence_number(first.offset, units), f"fence to bit centre, {units}", 46.0),
            (machine_number(depth, units), f"height above table, {units}", 40.0),
            (above, "wood left above the tip", 36.0),
        ]
    if visit.stay.turned:
        return [
            (machine_number(first.offset, units), f"left end to bit centre, {units}", 44.0),
            (machine_number(depth, units), f"below the surface, {units}", 42.0),
            (above, "radius that stays", 36.0),
        ]
    return [
        (machine_number(first.offset, units), f"edge to bit centre, {units}", 44.0),
        (machine_number(depth, units), f"{_from_where(visit)}, {units}", 42.0),
        (above, f"above bed, {units}", 36.0),
    ]


def _from_where(visit: Visit) -> str:
    """From where depths run in this setup."""
    setup = visit.stay.plan.stack.setup(visit.steps[0].setup)
    if isinstance(visit.stay.plan.stack.blank.stock, Round):
        return "below the top"
    if setup.angle % 90.0 != 0.0:
        return "below top corner"
    return "below face" if setup.angle % 360.0 == 0.0 else "below top side"


def _line_cautions(steps: Sequence[Step]) -> list[Caution]:
    """The grave cautions of a pass: on the line of its cut."""
    found = [c for step in steps for c in step.cautions if c.severity in WARN_WORDS]
    return list({(c.code, c.words): c for c in found}.values())


def _caution(caution: Caution, width: float, units: str) -> Block:
    word = WARN_WORDS[caution.severity]
    text = paragraph(f"{word}: {caution.say(units)}", width - 3.0, WORD, INK, bold=True, most=3)
    color = LEFTOVER if caution.severity == "stop" else INK
    bar = line((0.0, -0.4), (0.0, -text.height), pen=Pen(color, 0.9))
    return Block((bar, *moved(text.marks, 2.0, 0.0)), width, text.height)

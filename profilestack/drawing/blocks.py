"""Blocks of words that stand beside a section: legend, passes, cautions.

A block is drawn downward from (0, 0), its upper left; it says how much room it takes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from profilestack.cutting.caution import Caution
from profilestack.cutting.cut import Cut, PassCut
from profilestack.drawing.balloons import numbered
from profilestack.drawing.drawing import Mark, box, line, moved, words
from profilestack.drawing.fonts import fitted, line_height, text_width, wrapped
from profilestack.drawing.palette import (
    BODY,
    FRAME_PEN,
    HEADING,
    INK,
    LEFTOVER,
    QUIET_INK,
    SMALL,
    pass_look,
)
from profilestack.drawing.wording import number_text, repeat_text, setup_text


@dataclass(frozen=True, slots=True, eq=False)
class Block:
    """Marks below and right of (0, 0), ``width`` x ``height`` [mm]."""

    marks: tuple[Mark, ...]
    width: float
    height: float

    def at(self, left: float, top: float) -> list[Mark]:
        """The marks with the block's upper left at that place of the sheet [mm]."""
        return moved(self.marks, left, top)


def heading(text: str, width: float) -> Block:
    """A heading over a thin rule."""
    top = line_height(HEADING)
    shown = fitted(text, HEADING, width, bold=True)
    marks = (
        words((0.0, -0.75 * top), shown, HEADING, bold=True),
        line((0.0, -top), (width, -top), pen=FRAME_PEN),
    )
    return Block(marks, width, top + 1.2)


def stacked(blocks: Sequence[Block], gap: float = 0.0) -> Block:
    """Blocks one under the other."""
    marks: list[Mark] = []
    down = 0.0
    for number, block in enumerate(blocks):
        down += gap if number else 0.0
        marks += block.at(0.0, -down)
        down += block.height
    return Block(tuple(marks), max((block.width for block in blocks), default=0.0), down)


def paragraph(
    text: str,
    width: float,
    size: float = BODY,
    color: str = INK,
    *,
    bold: bool = False,
    most: int | None = None,
) -> Block:
    """Text in lines no wider than ``width`` [mm]."""
    step = line_height(size)
    lines = wrapped(text, size, width, bold, most)
    marks = tuple(
        words((0.0, -(k + 0.77) * step), text, size, color, bold=bold)
        for k, text in enumerate(lines)
    )
    return Block(marks, width, step * len(lines))


@dataclass(frozen=True, slots=True)
class _Columns:
    """Right ends of the two numbers and left end of the words of a pass table [mm]."""

    name: float
    name_room: float
    offset: float
    depth: float


def pass_rows(cut: Cut, width: float, units: str) -> list[Block]:
    """The table of passes in cutting order, its head first: number, hatch, bit, edge to bit
    centre, depth below face.
    """
    columns = _Columns(15.0, width - 15.0 - 36.0, width - 18.0, width)
    rows = [_pass_row(cut, single, columns, width, units) for single in cut.passes]
    return [_table_head(columns, width, units), *rows] if rows else []


def passes_block(cut: Cut, width: float, units: str, most: int = 40) -> Block:
    """The table of passes under its heading; more than ``most`` passes are only counted."""
    rows = pass_rows(cut, width, units)
    if len(rows) > most + 1:
        rest = len(rows) - most
        rows = [*rows[:most], paragraph(f"and {rest} more passes", width, SMALL, QUIET_INK)]
    if not rows:
        rows = [paragraph("none", width, BODY, QUIET_INK)]
    return stacked([heading("Passes, in this order", width), *rows])


def flowed(head: Block, rows: Sequence[Block], height: float) -> list[Block]:
    """Rows in as many columns as they need, none higher than ``height`` [mm], each headed."""
    columns: list[list[Block]] = [[head]]
    used = head.height
    for row in rows:
        if used + row.height > height and len(columns[-1]) > 1:
            columns.append([head])
            used = head.height
        columns[-1].append(row)
        used += row.height
    return [stacked(column) for column in columns]


def _table_head(columns: _Columns, width: float, units: str) -> Block:
    step = line_height(SMALL)
    marks: list[Mark] = [words((columns.name, -1.75 * step), "bit", SMALL, QUIET_INK)]
    for at, upper, lower in (
        (columns.offset, "edge to", "bit centre"),
        (columns.depth, "below", f"face [{units}]"),
    ):
        marks.append(words((at, -0.77 * step), upper, SMALL, QUIET_INK, "end"))
        marks.append(words((at, -1.75 * step), lower, SMALL, QUIET_INK, "end"))
    return Block(tuple(marks), width, 2.0 * step + 0.8)


def _pass_row(cut: Cut, single: PassCut, columns: _Columns, width: float, units: str) -> Block:
    step = line_height(BODY)
    base = first = -0.78 * step - 0.5
    marks: list[Mark] = box(5.6, -step - 0.2, 7.2, step - 0.3, pass_look(single.number))
    marks += numbered(single.number, (2.2, -0.5 * step - 0.4), 1.9)
    names = wrapped(single.bit.name, BODY, columns.name_room, most=2)
    for row, name in enumerate(names):
        marks.append(words((columns.name, base - row * step), name, BODY))
    base -= (len(names) - 1) * step
    for at, value in ((columns.offset, single.cut.offset), (columns.depth, single.cut.depth)):
        marks.append(words((at, first), number_text(value, units), BODY, anchor="end"))
    more = [repeat_text(single, units)]
    if cut.stack.setup(single.cut.setup).angle or single.cut.setup != "face":
        more.append(setup_text(cut.stack, single.cut.setup))
    if single.cut.relief:
        more.append("rough out")
    if single.removed_area <= 0.0:
        more.append("cuts nothing")
    extra = "; ".join(part for part in more if part)
    height = len(names) * step + 0.9
    if extra:
        small = line_height(SMALL)
        text = fitted(extra, SMALL, width - columns.name)
        marks.append(words((columns.name, base - small), text, SMALL, QUIET_INK))
        height += small
    return Block(tuple(marks), width, height)


SEVERITY_WORDS = {"stop": "STOP", "warn": "MIND", "note": "note"}


def caution_block(
    caution: Caution, width: float, units: str, size: float = BODY, most: int = 4
) -> Block:
    """One caution: its gravity, its pass, what is so and what to do."""
    word = SEVERITY_WORDS[caution.severity]
    color = {"stop": LEFTOVER, "warn": INK, "note": QUIET_INK}[caution.severity]
    indent = text_width("STOP", size, bold=True) + 1.8
    about = f"Pass {caution.number}: " if caution.number else ""
    text = paragraph(f"{about}{caution.say(units)}", width - indent, size, INK, most=most)
    base = -0.77 * line_height(size)
    mark = words((0.0, base), word, size, color, bold=caution.severity != "note")
    return Block((mark, *moved(text.marks, indent, 0.0)), width, text.height + 0.7)


def caution_rows(
    cautions: Sequence[Caution], width: float, units: str, most: int = 12
) -> list[Block]:
    """All cautions, the gravest first, each in at most ``most`` lines."""
    order = {"stop": 0, "warn": 1, "note": 2}
    graded = sorted(cautions, key=lambda caution: order[caution.severity])
    return [caution_block(caution, width, units, most=most) for caution in graded]


def cautions_block(
    cautions: Sequence[Caution], width: float, units: str, most: int = 8
) -> Block | None:
    """The gravest cautions, and how many more there are; None where there are none."""
    rows = caution_rows(cautions, width, units, most=4)
    if not rows:
        return None
    if len(rows) > most:
        text = f"and {len(rows) - most + 1} more: see the report"
        rows = [*rows[: most - 1], paragraph(text, width, SMALL, QUIET_INK)]
    return stacked([heading("Mind before cutting", width), *rows])

"""The table of a plan's steps: where, how deep, how fast, how long, and why."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from profilestack.cutting.stroke import lie_of
from profilestack.drawing.blocks import Block
from profilestack.drawing.drawing import Mark, line, words
from profilestack.drawing.fonts import fitted, line_height, wrapped
from profilestack.drawing.palette import BODY, FRAME_PEN, HEADING, QUIET_INK, SMALL
from profilestack.drawing.wording import setup_text
from profilestack.planning.plan import Plan, Rest, Step
from profilestack.units import to_units

WHY = 205.0
"""Where the column of reasons begins [mm]."""

BIT, BIT_ROOM = 9.0, 48.0
"""Where the bits' names begin and how wide they may be [mm]."""


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of numbers: its right end [mm] and its head in two rows."""

    right: float
    upper: str
    lower: str


def step_rows(plan: Plan, units: str, width: float) -> tuple[Block, list[Block]]:
    """The head of the table, and its rows in order, setups and rests headed."""
    rests = {rest.before_step: rest for rest in plan.rests}
    rows: list[Block] = []
    for setup, group in itertools.groupby(plan.steps, key=lambda step: step.setup):
        rows.append(_setup_row(plan, setup, width))
        for step in group:
            if step.number in rests:
                rows.append(_rest_row(rests[step.number], width))
            rows.append(_step_row(plan, step, units, width))
    return _head(units, width), rows


def _columns(units: str) -> tuple[_Column, ...]:
    feed = "m/min" if units == "mm" else "in/min"
    return (
        _Column(76.0, "edge to", f"centre [{units}]"),
        _Column(95.0, "below", f"face [{units}]"),
        _Column(114.0, "above", f"bed [{units}]"),
        _Column(130.0, "speed", "[rpm]"),
        _Column(146.0, "feed", f"[{feed}]"),
        _Column(163.0, "removes", f"[{units}2]"),
        _Column(180.0, "chip", f"[{units}]"),
        _Column(198.0, "all pieces", "[min]"),
    )


def _head(units: str, width: float) -> Block:
    step = line_height(SMALL)
    marks: list[Mark] = [
        words((0.0, -1.75 * step), "pass", SMALL, QUIET_INK),
        words((BIT, -1.75 * step), "bit", SMALL, QUIET_INK),
        words((WHY, -1.75 * step), "why", SMALL, QUIET_INK),
        line((0.0, -2.1 * step), (width, -2.1 * step), pen=FRAME_PEN),
    ]
    for column in _columns(units):
        marks.append(words((column.right, -0.77 * step), column.upper, SMALL, QUIET_INK, "end"))
        marks.append(words((column.right, -1.75 * step), column.lower, SMALL, QUIET_INK, "end"))
    return Block(tuple(marks), width, 2.4 * step)


def _setup_row(plan: Plan, name: str, width: float) -> Block:
    step = line_height(HEADING)
    text = fitted(f"Setup {setup_text(plan.stack, name)}", HEADING, width, bold=True)
    return Block((words((0.0, -1.2 * step), text, HEADING, bold=True),), width, 1.6 * step)


def _rest_row(rest: Rest, width: float) -> Block:
    step = line_height(BODY)
    text = (
        f"Rest: {rest.share:.0%} of the blank has left this side. Let it lie, plane the other side "
        "flat again, set up anew (not counted); what is planed comes off heights above the bed."
    )
    return Block((words((BIT, -0.8 * step), fitted(text, BODY, width - BIT), BODY),), width, step)


def _step_row(plan: Plan, step: Step, units: str, width: float) -> Block:
    height, first = line_height(BODY), -0.78 * line_height(BODY)
    marks: list[Mark] = []
    if step.place == 1:
        marks.append(words((0.0, first), str(step.pass_number), BODY, bold=True))
        marks.append(words((BIT, first), fitted(step.bit.name, BODY, BIT_ROOM), BODY))
    for column, text in zip(_columns(units), _numbers(plan, step, units), strict=True):
        marks.append(words((column.right, first), text, BODY, anchor="end"))
    rows = list(_reasons(step, units, width - WHY))
    small = line_height(SMALL)
    for number, row in enumerate(rows):
        marks.append(words((WHY, -0.85 * small - number * small), row, SMALL, QUIET_INK))
    return Block(tuple(marks), width, max(height, small * len(rows)) + 0.5)


def _reasons(step: Step, units: str, room: float) -> Iterator[str]:
    how = step.how.say(units)
    yield from wrapped(f"{step.purpose}; {how}" if step.place == 1 else how, SMALL, room, most=4)


def _numbers(plan: Plan, step: Step, units: str) -> Sequence[str]:
    """Edge to centre, below face, above bed, speed, feed, removed, chip, minutes."""
    fine = 3 if units == "mm" else 4
    height = lie_of(plan.stack.blank, plan.stack.setup(step.setup).angle).height
    lengths = [step.offset, step.depth, height - step.depth]
    feed = step.feed / 1000.0 if units == "mm" else to_units(step.feed, units)
    return (
        *(_fixed(to_units(value, units), fine) for value in lengths),
        f"{step.rpm:,.0f}",
        _fixed(feed, 2 if units == "mm" else 0),
        _fixed(step.removed_area * to_units(1.0, units) ** 2, 1 if units == "mm" else 3),
        _fixed(to_units(step.chip, units), 2 if units == "mm" else 4),
        _fixed(step.minutes, 1),
    )


def _fixed(number: float, digits: int) -> str:
    """So many decimals; halves of the decimal that it shows go away from 0, as in the text."""
    shown = Decimal(repr(float(number))).quantize(Decimal(1).scaleb(-digits), ROUND_HALF_UP)
    return f"{abs(shown) if shown == 0 else shown:f}"

"""A plan in the words of a list: setups, bits, and for each pass its depths and why."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence

from profilestack.planning.plan import Plan, Rest, Step
from profilestack.reports.layout import fixed
from profilestack.reports.text_plan import (
    SURENESS,
    decided_lines,
    driver_lines,
    feed_text,
    grouped_cautions,
    minutes_lines,
    pass_words,
    rest_words,
    setup_lines,
)
from profilestack.reports.text_report import SEVERITY_WORDS
from profilestack.session.page_row import PageRow
from profilestack.stack import Stack
from profilestack.units import to_units

HEADS = ("below face", "removes", "chip", "power", "feed", "all pieces")
"""The columns of the depths of a pass."""

UNITS = {
    "mm": ("mm", "mm²", "mm", "W", "m/min", "min"),
    "in": ("in", "in²", "in", "W", "in/min", "min"),
}
"""What they are in, by the units of lengths."""


def plan_rows(plan: Plan, units: str) -> tuple[PageRow, ...]:
    """What says stop, the rows in the order of the work, what else is to be minded or known."""
    cautions = list(_cautions(plan, units))
    return (
        *(row for row in cautions if row.grave),
        *_steps(plan, units),
        *(row for row in cautions if not row.grave),
        PageRow("said", "How it was decided", unwrapped(decided_lines(plan, units))),
        PageRow("said", "Assumed", _assumptions(plan, units)),
        PageRow("said", "Before you cut", SURENESS),
    )


def plan_summary(plan: Plan) -> tuple[str, str]:
    """What it takes in all, and what that goes into."""
    head, _, parts = unwrapped(minutes_lines(plan)).partition(": ")
    return f"{head}.", f"{parts[:1].upper()}{parts[1:]}"


def _assumptions(plan: Plan, units: str) -> str:
    """What the answer rests on; the app lists the figures and their sources itself."""
    told = unwrapped(driver_lines(plan, units)).partition("; --assumptions")[0]
    return f"{told.removeprefix('Assumed, all to be edited in a shop file: ')}."


def unwrapped(lines: Iterable[str]) -> str:
    """Lines of a report as one paragraph."""
    return " ".join(line.strip() for line in lines)


def _steps(plan: Plan, units: str) -> Iterator[PageRow]:
    rests = {rest.before_step: rest for rest in plan.rests}
    for setup, group in itertools.groupby(plan.steps, key=lambda step: step.setup):
        yield PageRow("setup", unwrapped(setup_lines(plan, setup)))
        for _, visit in itertools.groupby(group, key=lambda step: step.bit.id):
            steps = list(visit)
            yield from _rest(rests.get(steps[0].number))
            head = f"{steps[0].bit.id}, {steps[0].rpm:,.0f} rpm"
            yield PageRow("bit", head, _speed(steps), columns=_columns(units), names_columns=True)
            for _, depths in itertools.groupby(steps, key=lambda step: step.pass_number):
                yield _pass(list(depths), units)


def _rest(rest: Rest | None) -> Iterator[PageRow]:
    if rest is not None:
        head, _, words = rest_words(rest).partition(": ")
        yield PageRow("rest", head, words[:1].upper() + words[1:])


def _speed(steps: Sequence[Step]) -> str:
    return steps[0].speed_why.split(";")[0]


def _pass(steps: Sequence[Step], units: str) -> PageRow:
    first = steps[0]
    place = None if first.document_pass is None else first.document_pass - 1
    head = f"{first.pass_number}"
    if first.document_pass is None:
        head += " (added)"
    elif first.document_pass != first.pass_number:
        head += f" (pass {first.document_pass} of the stack)"
    head += f": edge to centre {_machine(first.offset, units)}"
    cells = tuple(_cells(step, units) for step in steps)
    return PageRow(
        "pass",
        head,
        pass_words(steps, units),
        cells,
        place,
        columns=_columns(units),
    )


def _columns(units: str) -> tuple[tuple[str, str], ...]:
    return tuple(zip(HEADS, UNITS[units], strict=True))


def _cells(step: Step, units: str) -> tuple[str, ...]:
    millimetres = units == "mm"
    square = step.removed_area * to_units(1.0, units) ** 2
    return (
        fixed(to_units(step.depth, units), 3 if millimetres else 4),
        fixed(square, 1 if millimetres else 3),
        fixed(to_units(step.chip, units), 2 if millimetres else 4),
        fixed(step.power, 0),
        feed_text(step.feed, units).partition(" ")[0],
        fixed(step.minutes, 1),
    )


def _machine(mm: float, units: str) -> str:
    """A length as it is set on a machine."""
    return f"{fixed(to_units(mm, units), 3 if units == 'mm' else 4)} {units}"


def _cautions(plan: Plan, units: str) -> Iterator[PageRow]:
    passes = {step.pass_number: step.document_pass for step in plan.steps}
    for severity, numbers, place, sentence in grouped_cautions(plan.cautions, plan, units):
        own = [passes.get(number) for number in numbers]
        only = own[0] if len(own) == 1 and own[0] is not None else None
        yield PageRow(
            "caution",
            SEVERITY_WORDS[severity].strip(),
            f"{place}{sentence}",
            place=None if only is None else only - 1,
            grave=severity == "stop",
        )


def why_no_plan(stack: Stack) -> str:
    """What to do where there is no pass to be planned; "" where there is one."""
    if any(single.on for single in stack.passes):
        return ""
    if stack.passes:
        return "All passes are switched off: switch one on, and it is planned."
    return "There is no pass yet: place a bit, and its cuts are planned."

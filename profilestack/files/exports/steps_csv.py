"""The plan's steps as a table for spreadsheets."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable

from profilestack.cutting.stroke import lie_of
from profilestack.planning.plan import Plan, Step
from profilestack.units import to_units

FORMULA = ("=", "+", "-", "@", "\t", "\r")
"""A cell that begins so is taken for a formula by spreadsheets."""

Cell = str | int | float | None


def steps_csv(plan: Plan, units: str) -> bytes:
    """The steps, one a row, as UTF-8: headers with units, full stops, lengths in ``units``.

    A text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    columns = _columns(plan, units)
    kept = io.StringIO(newline="")
    writer = csv.writer(kept, lineterminator="\r\n")
    writer.writerow(list(columns))
    for step in plan.steps:
        writer.writerow([_shown(value(step)) for value in columns.values()])
    return kept.getvalue().encode("utf-8")


def _columns(plan: Plan, units: str) -> dict[str, Callable[[Step], Cell]]:
    """What stands under which header."""
    stack = plan.stack

    def length(mm: float | None) -> float | None:
        return None if mm is None else round(to_units(mm, units), 4 if units == "mm" else 5)

    def above_bed(step: Step) -> float | None:
        return length(lie_of(stack.blank, stack.setup(step.setup).angle).height - step.depth)

    return {
        "step": lambda step: step.number,
        "pass": lambda step: step.pass_number,
        "pass in the document": lambda step: step.document_pass,
        "setup": lambda step: step.setup,
        "blank turned by [deg]": lambda step: stack.setup(step.setup).angle,
        "bit": lambda step: step.bit.id,
        "flutes": lambda step: step.bit.flutes,
        "kind": lambda step: "rough out" if step.relief else "profile",
        f"edge to bit centre [{units}]": lambda step: length(step.offset),
        f"below face [{units}]": lambda step: length(step.depth),
        f"above bed [{units}]": above_bed,
        "depth number": lambda step: step.place,
        "depths": lambda step: len(step.depths),
        "times across": lambda step: step.count,
        f"apart [{units}]": lambda step: length(step.pitch) if step.count > 1 else None,
        f"from [{units}]": lambda step: length(step.begin),
        f"to [{units}]": lambda step: length(step.end),
        "travels": lambda step: step.travels,
        "speed [rpm]": lambda step: round(step.rpm),
        f"feed [{units}/min]": lambda step: round(to_units(step.feed, units), 2),
        f"removed area [{units}2]": lambda step: round(
            step.removed_area * to_units(1.0, units) ** 2, 6
        ),
        f"thickest chip [{units}]": lambda step: length(step.chip),
        "power [W]": lambda step: round(step.power, 1),
        "minutes for all pieces [min]": lambda step: round(step.minutes, 3),
        "cuts": lambda step: step.way,
        "starts at": lambda step: "left end" if step.from_left else "right end",
        "why": lambda step: step.why_in(units),
        "note": lambda step: step.note,
    }


def _shown(value: Cell) -> str:
    """A cell: numbers with a full stop and no exponent, texts on one line and harmless."""
    if value is None:
        return ""
    if isinstance(value, float):
        text = f"{value:.6f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text
    if isinstance(value, int):
        return str(value)
    return f"'{value}" if value.startswith(FORMULA) and not _is_number(value) else value


def _is_number(text: str) -> bool:
    try:
        float(text)
    except ValueError:
        return False
    return True

"""How a target was fitted to the bits at hand, as a person reads it, in 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence
from itertools import groupby

from profilestack.finding.adapting.adaptation import Adaptation, Change
from profilestack.units import format_length

WIDTH = 80

NOTHING = "Nothing to fit: the bits at hand have every radius, and go into every quirk."


def adaptation_lines(adaptation: Adaptation, units: str) -> Iterator[str]:
    """Every change, and what stays as drawn; lengths in ``units`` ("mm" or "in")."""
    if not (adaptation.changes or adaptation.unfitted):
        yield NOTHING
        return
    limit = _length(adaptation.limit, units)
    yield f"Fitted to the bits at hand, by up to {limit} (radii by 10 % at most)"
    for (number, name), group in groupby(adaptation.changes, key=lambda c: (c.number, c.name)):
        changes = list(group)
        text = f"{_place(number, name)}{_reason(changes)}: {_sizes(changes, units)}"
        yield from _wrapped(text)
    for each in adaptation.unfitted:
        place = _place(each.number, each.name)
        yield from _wrapped(f"{place} stays as drawn: {each.say(units)}")
    if adaptation.changes:
        yield "  Overall height and projection are as drawn. Check mating pieces, and what the"
        yield "  new work stands beside, before you cut it so."


def _place(number: int, name: str) -> str:
    if number == 0:
        return f"the {name}"
    return f"{name} {number}" if name in ("arc", "line") else f"member {number}, {name}"


def _reason(changes: Sequence[Change]) -> str:
    bits = dict.fromkeys(change.bit for change in changes if change.bit)
    whose = dict.fromkeys(number for change in changes for number in change.slack_of)
    reasons = [f"fits {', '.join(bits)}"] if bits else []
    if whose:
        kind = "arc" if changes[0].name == "line" else "member"
        several = "s" if len(whose) > 1 else ""
        numbers = " and ".join(map(str, whose))
        reasons.append(f"takes up the slack of {kind}{several} {numbers}")
    return f", {' and '.join(reasons)}" if reasons else ""


def _sizes(changes: Sequence[Change], units: str) -> str:
    said = dict.fromkeys(
        f"{change.key} {_length(change.drawn, units)} becomes {_length(change.fitted, units)}"
        for change in changes
    )
    return ", ".join(said)


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="      ")


def _length(mm: float, units: str) -> str:
    return format_length(mm, units, 0.001 if units == "mm" else 0.0001)

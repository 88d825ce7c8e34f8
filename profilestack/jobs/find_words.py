"""What was found, in the words of the shop: shared by all doors."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from profilestack.finding.adapting.adaptation import Adaptation, Change
from profilestack.finding.advice import Stretch
from profilestack.finding.options import WORDS, Option
from profilestack.jobs.find import FindResult
from profilestack.units import format_length, to_units

COST_WORDS = {"passes": ("pass", "passes"), "bits": ("bit", "bits"), "minutes": ("min", "min")}
"""What a way costs, one and many."""

NOTHING_TO_FIT = "Nothing to fit: the bits at hand have every radius, and go into every quirk."


def best_at(option: Option) -> str:
    """What no other way is better at: "fewest passes, least time"."""
    return ", ".join(WORDS[name] for name in option.best) or "in between"


def no_way(result: FindResult) -> str:
    """That there is no way, and what would be needed."""
    needs = result.needs
    if needs is None:
        return "No way to cut it was found with these bits and setups."
    passes = f"{needs.passes} finishing pass{'es' if needs.passes != 1 else ''}"
    bits = f"{needs.bits} bit{'s' if needs.bits != 1 else ''}"
    if needs.together:
        return (
            f"No way keeps both limits at once: it takes at least {passes}, and more of them with "
            f"few bits; at least {bits}, and more of them with few passes."
        )
    return f"No way keeps these limits: it takes at least {passes}, and at least {bits}."


def proof(option: Option, units: str) -> str:
    """Whether nothing better exists, or at least what."""
    if option.objective == "leftover":
        bound = fine_length(option.bound, units)
        return f"no proof (at least {bound})" if option.bound else "no proof"
    one, many = COST_WORDS[option.objective]
    unit = one if option.cost == 1 else many
    if option.proved:
        return f"proved: nothing under {option.cost:g} {unit} on the grid used"
    return f"not proved: {option.cost:.3g} {unit}, at least {option.bound:.3g}"


def way_name(number: int, option: Option) -> str:
    """What a way is called: "the way of fewest bits", or its number."""
    return f"the way of {WORDS[option.best[0]]}" if option.best else f"way {number}"


def way_takes(option: Option) -> str:
    """What a way takes: "2 bits, 3 passes and 1 to rough out, 25 min"."""
    assembled = option.assembled
    bits, passes = len(assembled.bit_ids), assembled.finishing
    rough = len(assembled.stack.passes) - passes
    more = f" and {rough} to rough out" if rough else ""
    return (
        f"{bits} bit{'s' if bits != 1 else ''}, {passes} pass{'es' if passes != 1 else ''}{more}, "
        f"{assembled.minutes.total:.0f} min"
    )


def way_verdict(option: Option, units: str) -> tuple[bool, str]:
    """Whether a way keeps its tolerances and nothing stops it, and that in words."""
    assembled = option.assembled
    tolerance, comparison = assembled.stack.tolerance, assembled.comparison
    proud, gouged = comparison.leftover_worst, comparison.overcut_worst
    stops = sum(caution.severity == "stop" for caution in assembled.cautions)
    wrong = []
    if proud > tolerance.leftover:
        wrong.append(f"stands {fine_length(proud, units)} proud")
    if gouged > tolerance.overcut:
        wrong.append(f"gouges {fine_length(gouged, units)}")
    if stops:
        wrong.append(f"{stops} caution{'s' if stops != 1 else ''} to stop for")
    if wrong:
        return False, ", ".join(wrong)
    return True, f"fits: {fine_length(proud, units)} proud, {fine_length(gouged, units)} gouged"


def stretch_place(stretch: Stretch, units: str) -> str:
    """Where a stretch lies: "x 29.84, z 13.18 mm to x 30.2, z 13 mm"."""
    digits = 2 if units == "mm" else 3
    ends = dict.fromkeys(
        f"x {to_units(x, units):.{digits}f}, z {to_units(z, units):.{digits}f} {units}"
        for x, z in (stretch.begin, stretch.end)
    )
    return " to ".join(ends)


def stretch_stays(stretch: Stretch, units: str) -> str:
    """What stays there, and why."""
    return f"{fine_length(stretch.leftover, units)} stays; {stretch.why}"


def change_lines(adaptation: Adaptation, units: str) -> Iterator[str]:
    """Every change, and what stays as drawn: one line each."""
    for (number, name), group in groupby(adaptation.changes, key=lambda c: (c.number, c.name)):
        changes = list(group)
        yield f"{_place(number, name)}{_reason(changes)}: {_sizes(changes, units)}"
    for each in adaptation.unfitted:
        yield f"{_place(each.number, each.name)} stays as drawn: {each.say(units)}"


def fine_length(mm: float, units: str) -> str:
    """A length to the thousandth of a mm, or the ten-thousandth of an inch."""
    return format_length(mm, units, 0.001 if units == "mm" else 0.0001)


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
        f"{change.key} {fine_length(change.drawn, units)} becomes "
        f"{fine_length(change.fitted, units)}"
        for change in changes
    )
    return ", ".join(said)

"""Ways of making one molding side by side, as a person reads them, in 80 columns."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from profilestack.jobs.methods import MethodsReport
from profilestack.planning.ball_nose import BallRows
from profilestack.planning.made_to_order import Cutter
from profilestack.planning.method_ratio import COMMON, FINE_STEP, Moved, Ratios
from profilestack.planning.methods import Method
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.work import break_even
from profilestack.reports.layout import columns, fixed, joined, paragraph, plain
from profilestack.stack import CurvedRun, TurnedRun
from profilestack.units import format_length, to_units

CALLED = {
    "stacked": "stacked bits",
    "ball-nose": "3D ball-nose",
    "made-to-order": "made to order",
    "hybrid": "hybrid",
}
"""What people call the ways."""

MOST_MOVED = 3
"""So many assumptions are named that change the ratio most."""

LONG = 1e7
"""Beyond this length [mm] no shop breaks even."""

_WIDTHS = (13, -8, -7, -8, -8, -8, -6, -7, -6)


def methods_text(report: MethodsReport, units: str) -> str:
    """The comparison as text."""
    stack = report.stack
    pieces = stack.run.pieces
    lines = [*_head(report, units), ""]
    lines += _table(report, pieces, units)
    if pieces > 1:
        lines += ["", *_table(report, 1, units)]
    lines.append("")
    for method in report.methods.methods:
        lines += about_lines(report, method, units)
    lines += hidden_lines(report, units)
    lines += ["", *break_even_lines(report, units)]
    if report.ratios is not None:
        lines += ["", *ratio_lines(report, report.ratios, units)]
    lines += ["", *_sureness(report)]
    return "\n".join(lines)


def _head(report: MethodsReport, units: str) -> Iterator[str]:
    stack, shop = report.stack, report.methods.plan.shop
    length = length_of_travel(stack)
    count = stack.run.pieces
    round_it = {TurnedRun: " once round", CurvedRun: " along the bend"}.get(type(stack.run), "")
    yield from paragraph(plain(stack.title) or "Untitled stack")
    yield from paragraph(
        f"{count} piece{'s' if count != 1 else ''} of {format_length(length, units)}{round_it}: "
        f"{run_length(count * length, units)}. {shop.machine.called}; {shop.rate:g} an hour."
    )


def _table(report: MethodsReport, pieces: int, units: str) -> Iterator[str]:
    shop, stack = report.methods.plan.shop, report.stack
    yield "For one piece" if pieces == 1 else f"For all {pieces} pieces"
    rows: list[tuple[str, ...]] = [
        ("", "changes", "setups", "cutting", "sanding", "together", "ridge", "cost", "per"),
        ("", "min", "min", "min", "min", "min", units, "", "m" if units == "mm" else "ft"),
    ]
    for method in report.methods.methods:
        name = CALLED[method.name]
        if not method.is_possible:
            rows.append((name, *(["-"] * 8)))
            continue
        parts = method.work.parts(stack, shop, pieces)
        cost = method.work.cost(stack, shop, pieces)
        times = (parts.changes, parts.setups, parts.cutting, parts.sanding, parts.total)
        ridge = fixed(to_units(method.ridge_max, units), 2 if units == "mm" else 3)
        rows.append(
            (name, *(fixed(minutes, 1) for minutes in times), ridge, fixed(cost, 0),
             fixed(cost / long_length(pieces * length_of_travel(stack), units), 1))
        )  # fmt: skip
    yield from columns(rows, _WIDTHS)


def about_lines(
    report: MethodsReport, method: Method, units: str, finder: str = "profilestack find"
) -> Iterator[str]:
    """How one way goes; ``finder`` is what the reader knows the finder as."""
    name = CALLED[method.name]
    lead = f"{name[:1].upper()}{name[1:]}: "
    if not method.is_possible:
        text = f"{lead}cannot be: {method.trouble}."
        if method.cutter is not None:
            text += f" It would be {_cutter_size(method.cutter, units)}."
        yield from paragraph(text, indent=2)
    elif method.ball is not None:
        text = _ball(method.ball, units)
        if (roughing := method.roughing) is not None:
            text += (
                f" Before: {roughing.bit.id} roughs out in {roughing.travels} travels on "
                f"{roughing.levels} level{'s' if roughing.levels != 1 else ''} (an estimate)."
            )
        yield from paragraph(f"{lead}{text}", indent=2)
    elif method.cutter is not None:
        yield from paragraph(f"{lead}{_cutter(method, method.cutter, units)}", indent=2)
    elif report.leaves:
        tolerance = format_length(report.stack.tolerance.leftover, units)
        yield from paragraph(
            f"{lead}leaves more than the {tolerance} allowed, though bits at hand reach it: "
            f"{finder} looks for passes that do.",
            indent=2,
        )


def _ball(ball: BallRows, units: str) -> str:
    text = (
        f"{ball.ball.id} (radius {fine_length(ball.radius, units)}), {ball.rows} rows over "
        f"{fine_length(ball.developed, units)} of developed length, "
        f"{fine_length(ball.step, units)} apart on a "
        f"flat for a cusp of {fine_length(ball.cusp, units)}; {ball.speed.feed / 1000:g} m/min: "
        f"{ball.speed.why.partition('; ')[2] or ball.speed.why}."
    )
    if ball.left_aside:
        what = "corner is" if ball.left_aside == 1 else "corners are"
        text += (
            f" {ball.left_aside} sharp inside {what} left aside: the cut stays up to "
            f"{fine_length(ball.corner, units)} short, for a chisel or a last pass."
        )
    if ball.narrow > 0.5:
        text += f" It does not get into {fine_length(ball.narrow, units)} of the profile."
    return text


def _cutter(method: Method, cutter: Cutter, units: str) -> str:
    times = f"{cutter.steps} times" if cutter.steps != 1 else "once"
    text = (
        f"{_cutter_size(cutter, units)}, taken {times} over the whole profile"
        f"{', the last one light' if cutter.steps > 1 else ''}; it needs {cutter.power:.0f} W of "
        f"the {cutter.power_there:.0f} W there. Price {method.work.price:.0f}, wait about "
        f"{method.wait:.0f} days"
    )
    if cutter.setting:
        text += f", {cutter.setting:.0f} min to set"
    return f"{text} (common practice: ask your maker)."


def _cutter_size(cutter: Cutter, units: str) -> str:
    lies = "the blank on edge" if cutter.on_edge else "over the blank on its back"
    return (
        f"{fine_length(cutter.diameter, units)} across (the spindle turns up to "
        f"{fine_length(cutter.largest, units)}), edge {fine_length(cutter.edge, units)}, {lies}"
    )


def hidden_lines(report: MethodsReport, units: str) -> Iterator[str]:
    """What cannot be seen from above."""
    hidden = fine_length(report.methods.facing.hidden, units)
    if report.methods.kept:
        setups = dict.fromkeys(step.setup for step in report.methods.kept)
        yield from paragraph(
            f"{hidden} of the profile cannot be seen from "
            f"above: in every way it is cut as planned (setup {joined(list(setups))})."
        )
    elif report.methods.facing.hidden > 1.0:
        yield from paragraph(
            f"{hidden} of the profile cannot be seen from "
            "above, and no pass makes it: neither does any of these ways."
        )


def break_even_lines(report: MethodsReport, units: str) -> Iterator[str]:
    """From which length on which way costs less."""
    shop = report.methods.plan.shop
    able = [method for method in report.methods.methods if method.is_possible]
    for first, second in itertools.combinations(able, 2):
        for one, other in ((first, second), (second, first)):
            length = break_even(one.work, other.work, report.stack, shop)
            if length is None:
                continue
            less, more = CALLED[other.name], CALLED[one.name]
            if length <= 0.0:
                yield from paragraph(f"{_costs(less)} less than {more} at any length.")
            elif length < LONG:
                text = f"{_costs(less)} less than {more} from {run_length(length, units)} on."
                yield from paragraph(text)
            else:
                yield from paragraph(f"{_costs(more)} less than {less} at any length made.")


def _costs(name: str) -> str:
    verb = "cost" if name.endswith("s") else "costs"
    return f"{name[:1].upper()}{name[1:]} {verb}"


def ratio_lines(report: MethodsReport, ratios: Ratios, units: str) -> Iterator[str]:
    """How many times as long 3D takes, beside what is commonly said, and what changes it."""
    pieces = report.stack.run.pieces
    one = f" ({_times(ratios.one)} for one piece)" if pieces > 1 else ""
    yield from paragraph(
        f"3D takes {_times(ratios.batch)} times the machine minutes of stacked bits{one}: changes, "
        f"setups, all depths, no sanding. Cutting alone {_times(ratios.cutting)} times, finishing "
        f"alone {_times(ratios.finishing)} times; with rows of "
        f"{fine_length(FINE_STEP, units)} {_times(ratios.fine)} times."
    )
    yield from paragraph(_against_custom(report, ratios, units))
    told = "; ".join(_moved(moved, units) for moved in ratios.moved[:MOST_MOVED])
    yield from paragraph(f"What changes it most: {told}.")


def _against_custom(report: MethodsReport, ratios: Ratios, units: str) -> str:
    """The ratio beside what is commonly said, with the reason where it differs."""
    low, high = COMMON
    said = f"Common practice says {low:g} to {high:g} times, without saying what is counted"
    if low <= ratios.batch <= high:
        return f"{said}; here it agrees."
    share = f"{100.0 * ratios.shared:.0f} %"
    if ratios.batch > high:
        return (
            f"{said}. Here it is more: only {share} of the stacked way is changes and setups, and "
            f"the cusp of {fine_length(report.methods.cusp, units)} asks for many rows."
        )
    reasons = [f"changes and setups, which both ways need, are {share} of the stacked way"]
    depths = report.methods.plan.steps
    finishing = sum(step.finishing for step in depths)
    cuts = f"{finishing} finishing cut{'s' if finishing != 1 else ''}"
    reasons.append(f"it takes {len(depths)} depths in all for its {cuts}")
    if report.methods.cusp > 0.1:
        reasons.append(
            f"the rows may leave {fine_length(report.methods.cusp, units)}, as the stacked cut does"
        )
    more = ""
    if ratios.finishing >= low:
        more = ", beyond that range" if ratios.finishing > high else ", within that range"
    return (
        f"{said}. Here it is less: {joined(reasons)}. Counted by finishing alone it is "
        f"{_times(ratios.finishing)} times{more}."
    )


def _moved(moved: Moved, units: str) -> str:
    low, high = moved.low, moved.high
    if moved.lengths is not None:
        low, high = (fine_length(length, units) for length in moved.lengths)
    return f"{moved.words} ({low}: {_times(moved.low_ratio)}, {high}: {_times(moved.high_ratio)})"


def _sureness(report: MethodsReport) -> Iterator[str]:
    yield from paragraph(
        "Minutes, feeds, prices and the rate are the shop's figures: assumptions where no shop "
        "file says otherwise (common practice, from memory), told with their sources by "
        "profilestack plan --assumptions. Cutters, knives and machines differ: the maker's marks, "
        "local rules and a qualified operator come first."
    )


def _times(ratio: float) -> str:
    return fixed(ratio, 1)


def fine_length(mm: float, units: str) -> str:
    """A length with a digit more than format_length has."""
    return f"{fixed(to_units(mm, units), 2 if units == 'mm' else 3)} {units}"


def long_length(mm: float, units: str) -> float:
    """Metres, or feet."""
    return mm / 1000.0 if units == "mm" else to_units(mm, units) / 12.0


def run_length(mm: float, units: str) -> str:
    """A length of many pieces, in m or ft."""
    return f"{fixed(long_length(mm, units), 1)} {'m' if units == 'mm' else 'ft'}"

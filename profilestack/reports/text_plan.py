"""The answer of ``plan`` as a person reads it, in 80 columns."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from profilestack.cutting.caution import Caution
from profilestack.planning.figures import CHIP_SOURCE, Shown, figures_of, source_of
from profilestack.planning.plan import Plan, Rest, Step
from profilestack.planning.reasons import ALL_BUT_LAST
from profilestack.planning.said import area_text
from profilestack.planning.shop import USUAL_SHOPS
from profilestack.reports.layout import columns, fixed, joined, paragraph, plain
from profilestack.reports.text_report import SEVERITY_WORDS, head_lines
from profilestack.stack import TurnedRun
from profilestack.units import format_length, to_units

ABOUT_BITS = ("too-fast", "short-grip", "no-collet", "long-reach", "thin-chip")
"""Cautions of these codes are about a bit, whatever the pass."""

COUNTS = ("", "one depth", "two depths", "three depths", "four depths", "five depths")
"""How many depths, in words."""

_WIDTHS = (-6, -10, -9, -7, -9, -7, -7, -7)


def plan_text(plan: Plan, units: str, assumptions: bool = False) -> str:
    """The plan as text; ``units`` are "mm" or "in"; with every figure where asked for."""
    lines = [*head_lines(plan.document, units), *_machine(plan), ""]
    rests = {rest.before_step: rest for rest in plan.rests}
    for setup, group in itertools.groupby(plan.steps, key=lambda step: step.setup):
        lines += [*setup_lines(plan, setup), *columns(_heads(units), _WIDTHS)]
        lines += [*_bits(list(group), rests, units, isinstance(plan.stack.run, TurnedRun)), ""]
    lines += [*minutes_lines(plan), *decided_lines(plan, units), ""]
    lines += [*caution_lines(plan.cautions, plan, units), ""]
    lines += _all_figures(plan, units) if assumptions else driver_lines(plan, units)
    lines += ["", *paragraph(SURENESS)]
    return "\n".join(lines)


def _machine(plan: Plan) -> Iterator[str]:
    machine, shop = plan.shop.machine, plan.shop
    usual = "usual small-shop figures" if shop in USUAL_SHOPS.values() else "your shop file"
    named = shop.name or usual
    text = (
        f"{named[:1].upper()}{named[1:]}: {machine.called}, {machine.power / 1000:g} kW at "
        f"{machine.rated_speed:,.0f} rpm, {machine.slowest:,.0f} to {machine.fastest:,.0f} rpm."
    )
    yield from paragraph(text)


def setup_lines(plan: Plan, name: str) -> Iterator[str]:
    """How the blank lies in a setup."""
    setup = plan.stack.setup(name)
    lies = "as drawn, its top up"
    if setup.angle % 90.0 != 0.0:
        lies = f"tipped by {_tip_words(setup.angle)}"
    elif setup.angle % 360.0 == 180.0:
        lies = "turned over"
    elif setup.angle % 360.0 != 0.0:
        lies = f"turned by {setup.angle:g} degrees"
    copies = f"; each cut {setup.copies} times round" if setup.copies > 1 else ""
    yield from paragraph(f"Setup {plain(name)}: the blank {lies}{copies}")


def _tip_words(angle: float) -> str:
    """An angle as one turns a blank by it: the shorter way round."""
    turn = (angle + 180.0) % 360.0 - 180.0
    way = "counter-clockwise" if turn > 0.0 else "clockwise"
    return f"{abs(turn):g} degrees {way}, seen from the left end"


def _bits(steps: Sequence[Step], rests: dict[int, Rest], units: str, turned: bool) -> Iterator[str]:
    for place, (_, group) in enumerate(itertools.groupby(steps, key=lambda step: step.bit.id)):
        visit = list(group)
        if place:
            yield ""
        if (rest := rests.get(visit[0].number)) is not None:
            yield from paragraph(rest_words(rest), "  ")
        told = f"{plain(visit[0].bit.id)}, {visit[0].rpm:,.0f} rpm"
        yield from paragraph(f"{told}: {visit[0].speed_why.split(';')[0]}", "  ")
        for _, rows in itertools.groupby(visit, key=lambda step: step.pass_number):
            yield from _pass(list(rows), units, turned)


def rest_words(rest: Rest) -> str:
    """What to do where the wood is let rest."""
    return (
        f"Rest: {rest.share:.0%} of the blank has left this side, and the wood moves. Let it lie "
        "overnight if you can, then plane the other side flat again and set up anew (this time is "
        "not counted). What is planed off there comes off every height above the bed from now on."
    )


def _heads(units: str) -> tuple[tuple[str, ...], ...]:
    feed = "m/min" if units == "mm" else "in/min"
    return (
        ("", "edge to", "below", "", "", "", "", ""),
        ("pass", "centre", "face", "feed", "removes", "chip", "power", "all"),
        ("", units, units, feed, f"{units}2", units, "W", "min"),
    )


def _pass(steps: Sequence[Step], units: str, turned: bool) -> Iterator[str]:
    fine = 3 if units == "mm" else 4
    rows = []
    for step in steps:
        feed = step.feed / 1000.0 if units == "mm" else to_units(step.feed, units)
        square = step.removed_area * to_units(1.0, units) ** 2
        rows.append(
            (
                str(step.pass_number) if step.place == 1 else "",
                fixed(to_units(step.offset, units), fine) if step.place == 1 else "",
                fixed(to_units(step.depth, units), fine),
                fixed(feed, 2 if units == "mm" else 0),
                fixed(square, 1 if units == "mm" else 3),
                fixed(to_units(step.chip, units), 2 if units == "mm" else 4),
                fixed(step.power, 0),
                fixed(step.minutes, 1),
            )
        )
    yield from columns(rows, _WIDTHS)
    yield from paragraph(pass_words(steps, units, turned), "       ")


def pass_words(steps: Sequence[Step], units: str, turned: bool = False) -> str:
    """What a pass is for, in how many depths it is taken and why, which way it runs.

    A ``turned`` part has no end from which a travel could start.
    """
    first = steps[0]
    told = [first.purpose]
    if first.document_pass is None:
        told[0] = f"added: {told[0]}"
    elif first.document_pass != first.pass_number:
        told.append(f"pass {first.document_pass} of the document")
    if first.travels > 1:
        told.append(f"{first.travels} travels")
    count = len(first.depths)
    if count > 1:
        listed = ", ".join(shown_depth(depth, units) for depth in first.depths)
        number = COUNTS[count] if count < len(COUNTS) else f"{count} depths"
        told.append(f"in {number}: {listed}")
    hows = dict.fromkeys(step.how.say(units) for step in steps)
    told += [how for how in hows if how != ALL_BUT_LAST]
    if not turned:
        ways = {(step.way, step.from_left) for step in steps}
        told += dict.fromkeys(way_words(step, len(ways) > 1) for step in steps)
    return f"{'; '.join(told)}."


def shown_depth(depth: float, units: str) -> str:
    """A depth in a list, without its unit: 4.0, 7.9."""
    text = format_length(depth, units).removesuffix(f" {units}")
    return text if "." in text or "/" in text else f"{text}.0"


def way_words(step: Step, changes: bool) -> str:
    """Which way a step runs, and how the edge meets the wood; ``changes``: not each the same."""
    end = "left" if step.from_left else "right"
    if step.way == "both":
        return "cuts on both sides"
    last = " in the last cut" if changes and step.finishing and len(step.depths) > 1 else ""
    return f"{step.way}{last}, from the {end} end"


def minutes_lines(plan: Plan) -> Iterator[str]:
    """Minutes and money for all pieces, and what they go into."""
    minutes, pieces = plan.minutes, plan.document.run.pieces
    all_pieces = "1 piece" if pieces == 1 else f"all {pieces} pieces"
    money = minutes.total / 60.0 * plan.shop.rate
    each = "" if pieces == 1 else f", {minutes.total / pieces:.0f} a piece"
    yield from paragraph(
        f"{minutes.total:.0f} minutes for {all_pieces}{each}: bits {minutes.changes:.0f}, setups "
        f"and test pieces {minutes.setups:.0f}, cutting {minutes.cutting:.0f}, sanding "
        f"{minutes.sanding:.0f}. At {plan.shop.rate:g} an hour that is {money:.0f}."
    )
    if pieces > 1:
        ways = ("each bit through all pieces", "all bits on each piece")
        first, second = ways if plan.through == "each bit" else ways[::-1]
        yield from paragraph(
            f"Take {first} before the next; {second} would take {plan.other_way:.0f} minutes."
        )


def decided_lines(plan: Plan, units: str) -> Iterator[str]:
    """How the order was found."""
    yield from paragraph(" ".join(sentence.say(units) for sentence in plan.sentences))


def caution_lines(cautions: Sequence[Caution], plan: Plan, units: str) -> Iterator[str]:
    """The cautions, the gravest first; the same sentence of several passes is said once."""
    if not cautions:
        yield "No cautions."
        return
    yield "Cautions"
    for severity, _, place, sentence in grouped_cautions(cautions, plan, units):
        yield from paragraph(f"{place}{sentence}", f"  {SEVERITY_WORDS[severity]}  ")


def grouped_cautions(
    cautions: Sequence[Caution], plan: Plan, units: str
) -> Iterator[tuple[str, list[int], str, str]]:
    """Severity, passes of the plan, the words for them, the sentence; each sentence once."""
    bits = {step.pass_number: step.bit.id for step in plan.steps}
    alike: dict[tuple[str, str, bool], list[Caution]] = {}
    for caution in cautions:
        key = (caution.severity, caution.say(units), caution.code in ABOUT_BITS)
        alike.setdefault(key, []).append(caution)
    for (severity, sentence, about_bits), group in alike.items():
        numbers = [each.number for each in group if each.number]
        place = f"pass{'es' if len(numbers) > 1 else ''} {joined([*map(str, numbers)])}: "
        if about_bits:
            place = f"{joined([*dict.fromkeys(bits[number] for number in numbers)])}: "
        yield severity, numbers, place if numbers else "", sentence


def driver_lines(plan: Plan, units: str) -> Iterator[str]:
    """What the answer rests on, in a few lines."""
    shop, species = plan.shop, plan.species
    feeds = [feed_text(feed, units) for feed in (shop.finish_feed, shop.rough_feed)]
    force = shop.force_in(species)
    yield from paragraph(
        f"Assumed, all to be edited in a shop file: {plain(species.word)} of "
        f"{species.density:.0f} kg/m3 with a cutting force of {force:.0f} N/mm2 (scaled from "
        "particle board by density: no verified constant for solid wood); finishing at "
        f"{feeds[0]}, roughing at {feeds[1]}; {area_text(shop.machine.chip_section, units)} at "
        f"most in one travel; {shop.change:g} min a bit change, {shop.refix:g} min to put a piece "
        "back. Common practice, from memory; --assumptions lists every figure and its source."
    )


def feed_text(feed: float, units: str) -> str:
    """A feed [mm/min] with its unit."""
    if units == "mm":
        return f"{feed / 1000:g} m/min"
    return f"{to_units(feed, units):.0f} in/min"


def _all_figures(plan: Plan, units: str) -> Iterator[str]:
    species = plan.species
    yield "Figures of the shop, and where they come from"
    for shown in figures_of(plan.shop):
        value = figure_text(shown, units)
        yield from paragraph(f"{shown.figure.words}: {value}; {shown.source}", "  ", indent=4)
    text = f"{plain(species.word)}: {species.density:.0f} kg/m3; {source_of(species)}"
    yield from paragraph(text, "  ", indent=4)
    yield from paragraph(f"feed per tooth by bit size and wood; {CHIP_SOURCE}", "  ", indent=4)


def figure_text(shown: Shown, units: str) -> str:
    """A figure's value with its unit."""
    value, unit = shown.value, shown.figure.unit
    if isinstance(value, tuple):
        return ", ".join(format_length(each, units) for each in value)
    if not isinstance(value, float):
        return str(value)
    if unit == "length":
        return format_length(value, units)
    if unit == "feed":
        return feed_text(value, units)
    if unit == "length/s2":
        return f"{format_length(value, units)}/s2"
    return f"{value:,g} {unit}"


SURENESS = (
    "A plan is no promise: measure your bits, make a test cut in scrap, well held, and stop where "
    "it sounds or smells wrong. The marks on your bits, your machine's manual, local rules and a "
    "qualified operator come first."
)

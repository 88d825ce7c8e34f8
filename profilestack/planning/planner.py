"""Planning a stack for a shop's machine."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from profilestack.bits.bit import NUT_DIAMETER, NUT_HEIGHT, Bit
from profilestack.cutting.caution import Caution
from profilestack.cutting.cautions import cautions_of, clearance
from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import Cut, cut_stack
from profilestack.planning.drafting import Chosen, Draft, chosen_order, drafts_of, minutes_in
from profilestack.planning.fits import machine_cautions
from profilestack.planning.minutes import change_minutes, sanding_minutes, setup_minutes
from profilestack.planning.plan import Plan, PlanMinutes, Rest, Step, Through
from profilestack.planning.roughing import Added
from profilestack.planning.said import Said
from profilestack.planning.shop import USUAL_SHOP, Shop
from profilestack.planning.steps import stack_in_order, steps_of
from profilestack.stack import CurvedRun, Rectangle, Stack, StraightRun

REST_SHARE = 1.0 / 3.0
"""When more than this share of the area has left one side, the wood is let rest (common
practice: a strip of 2.4 m then bows by 1 to 3 mm)."""

SAME_AREA = 1e-6
"""Sections whose areas differ by less [mm2] are the same."""

_ORDER = {"stop": 0, "warn": 1, "note": 2}


def plan_stack(
    stack: Stack,
    bits: Mapping[str, Bit],
    shop: Shop = USUAL_SHOP,
    offered: Sequence[Bit] = (),
) -> Plan:
    """The steps in which a stack is cut on a shop's machine.

    Args:
        stack: the document; passes that are not ``on`` are left out.
        bits: every bit that its passes name, by its id.
        shop: machine, woods, minutes.
        offered: bits from the drawer that may rough out where the stack's own cannot.

    Raises:
        InputError: nothing to plan, a wood that nobody knows, a bit that the machine cannot turn
            slowly enough, a cut that its spindle cannot take; each with the nearest that can.
    """
    species = shop.wood(stack.blank.species)
    plain, draft, added = drafts_of(stack, bits, shop, species, offered)
    draft, chosen, steps, cut = _true_to(stack, bits, plain, draft)
    if draft is plain:
        added = ()
    planned = stack_in_order(draft.costs, chosen.places)
    whole = cut_stack(planned, draft.bits)
    comparison = compare(whole)
    rests = _rests(planned, steps, draft.blank_area)
    sanding = sanding_minutes(stack, comparison, shop)
    minutes, through, other = _minutes(planned, steps, shop, sanding)
    cautions = [*_cut_cautions(whole, cautions_of(whole, comparison), shop)]
    cautions += [caution for step in steps for caution in step.cautions]
    cautions += machine_cautions(whole, shop)
    cautions.sort(key=lambda each: (_ORDER[each.severity], each.number or 0))
    trouble = _trouble(plain)
    own = _plain_minutes(plain, shop, sanding)
    return Plan(
        document=stack,
        stack=planned,
        shop=shop,
        species=species,
        cut=cut,
        steps=_with_cautions(steps, cautions),
        rests=rests,
        minutes=minutes,
        through=through,
        other_way=other,
        plain=own,
        plain_trouble=trouble,
        orders=chosen.orders,
        proved=chosen.proved,
        sentences=tuple(_sentences(chosen, added, minutes, own, trouble)),
        cautions=tuple(cautions),
    )


def _true_to(
    stack: Stack, bits: Mapping[str, Bit], plain: Draft, draft: Draft
) -> tuple[Draft, Chosen, tuple[Step, ...], Cut]:
    """Order and steps that leave the very section of the document.

    Plans are made on coarse outlines: where a sliver was overlooked, it is looked for anew, and
    at last nothing is added.
    """
    wanted = cut_stack(stack, bits).section.area
    for trial, strict in ((draft, False), (draft, True), (plain, True)):
        if strict:
            trial.costs.be_strict()
        chosen = chosen_order(trial)
        steps, cut = steps_of(trial.costs, chosen.places, trial.bits)
        if abs(cut.sections[-1].area - wanted) < SAME_AREA:
            break
    return trial, chosen, steps, cut


def _cut_cautions(cut: Cut, found: Sequence[Caution], shop: Shop) -> list[Caution]:
    """The engine's cautions, the nut's with the shop's nut; speeds are in the plan itself."""
    machine = shop.machine
    kept = [each for each in found if not (each.code == "too-fast" and each.severity == "note")]
    nut = (machine.nut_diameter, machine.nut_height)
    if nut == (NUT_DIAMETER, NUT_HEIGHT):
        return kept
    own = clearance.nut(cut, *nut, known=True)
    return [*(each for each in kept if each.code != "nut-rubs"), *own]


def _with_cautions(steps: Sequence[Step], cautions: Sequence[Caution]) -> tuple[Step, ...]:
    """Every step with the cautions of its pass; those are said where the pass begins."""
    told = []
    for step in steps:
        own = tuple(each for each in cautions if each.number == step.pass_number)
        told.append(replace(step, cautions=own if step.place == 1 else ()))
    return tuple(told)


def _minutes(
    stack: Stack, steps: Sequence[Step], shop: Shop, sanding: float
) -> tuple[PlanMinutes, Through, float]:
    """Minutes for all pieces the quicker way, which that is, and what the other way takes."""
    pieces = stack.run.pieces
    each_piece, each_bit = change_minutes(_runs([(s.bit.id, s.setup) for s in steps]), pieces, shop)
    cutting = sum(step.minutes for step in steps)
    setups = setup_minutes(stack, tuple(dict.fromkeys(step.setup for step in steps)), shop)
    minutes = PlanMinutes(min(each_piece, each_bit), setups, cutting, sanding)
    through: Through = "each bit" if each_bit < each_piece else "each piece"
    other = minutes.total + abs(each_bit - each_piece)
    return minutes, "one piece" if pieces == 1 else through, other


def _runs(keys: Sequence[tuple[str, str]]) -> int:
    """How often a bit is taken up."""
    return sum(now != before for before, now in zip([None, *keys], keys, strict=False))


def _plain_minutes(plain: Draft, shop: Shop, sanding: float) -> PlanMinutes:
    """Minutes of the document's own order, nothing added."""
    tasks = plain.ground.tasks
    places = range(len(tasks))
    pieces = plain.stack.run.pieces
    runs = _runs([task.key for task in tasks])
    cutting = minutes_in(plain, places) - runs * shop.bit_minutes(pieces)
    setups = tuple(dict.fromkeys(task.single.setup for task in tasks))
    changes = min(change_minutes(runs, pieces, shop))
    return PlanMinutes(changes, setup_minutes(plain.stack, setups, shop), cutting, sanding)


def _trouble(plain: Draft) -> str:
    """What is wrong with the document's own order, if anything."""
    mask, hindered, heavy = 0, [], []
    for place, task in enumerate(plain.ground.tasks):
        if not plain.ground.is_free(place, mask):
            hindered.append(str(task.document_pass))
        if not plain.costs.taking(place, mask).depths.kept:
            heavy.append(str(task.document_pass))
        mask |= 1 << place
    found = []
    if hindered:
        found.append(f"shank or nut would meet standing stock in pass {', '.join(hindered)}")
    if heavy:
        found.append(f"pass {', '.join(heavy)} would take too heavy a cut")
    return "; ".join(found)


def _rests(stack: Stack, steps: Sequence[Step], blank_area: float) -> tuple[Rest, ...]:
    """Where the wood is let rest: at the next change of bit once a third has left one side."""
    movable = isinstance(stack.run, StraightRun | CurvedRun)
    if not movable or not isinstance(stack.blank.stock, Rectangle):
        return ()
    gone: dict[str, float] = {}
    rests: list[Rest] = []
    due = ""
    rested: set[str] = set()
    for before, step in zip([None, *steps], steps, strict=False):
        changed = before is None or (before.bit.id, before.setup) != (step.bit.id, step.setup)
        if due and changed:
            rests.append(Rest(step.number, gone[due] / blank_area))
            rested.add(due)
            due = ""
        gone[step.setup] = gone.get(step.setup, 0.0) + step.removed_area
        if gone[step.setup] > REST_SHARE * blank_area and step.setup not in rested:
            due = step.setup
    return tuple(rests)


def _sentences(
    chosen: Chosen, added: Sequence[Added], minutes: PlanMinutes, own: PlanMinutes, trouble: str
) -> list[Said]:
    """What was decided."""
    found = [_order_words(chosen)]
    count = sum(len(each.passes) for each in added)
    if count:
        saved = sum(each.saved for each in added)
        what = "1 rough-out pass was" if count == 1 else f"{count} rough-out passes were"
        gain = "which keeps cuts within the usual"
        if saved > 0.5:
            gain = f"which saves about {saved:.0f} min"
        elif saved < -0.5:
            gain = f"which takes about {-saved:.0f} min more and spares wide bits heavy cuts"
        found.append(Said(f"{what} added, {gain}."))
    less = own.total - minutes.total
    if trouble:
        found.append(Said(f"In the document's own order {trouble}."))
    elif less > 0.5:
        found.append(Said(f"The document's own order takes {own.total:.0f} min, {less:.0f} more."))
    elif less < -0.5:
        words = f"The document as it stands takes {own.total:.0f} min, {-less:.0f} less, with "
        what = "heavier cuts." if count else "the blank on faces that were cut before."
        found.append(Said(words + what))
    else:
        found.append(Said("The document's own order takes as long."))
    return found


def _order_words(chosen: Chosen) -> Said:
    if not chosen.clear:
        words = "No order keeps every tool clear, so that the document's own is kept: see below."
        return Said(words)
    if chosen.orders == 1:
        return Said("There is one order that keeps every tool clear: this one.")
    if chosen.proved:
        return Said(
            f"{chosen.orders} orders were looked at, each bit taking all it can reach; of those "
            "that keep every tool clear and rest the blank best, none takes fewer minutes."
        )
    return Said(f"{chosen.orders} orders were looked at, not all there are.")

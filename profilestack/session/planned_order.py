"""A stack put in the order of its plan, with the passes that the plan adds to rough out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from profilestack.bits.bit import Bit
from profilestack.planning.plan import Plan
from profilestack.session.pass_edits import Edited, with_bits_carried
from profilestack.stack import Pass

LABEL = "Put passes in the planned order"


def in_planned_order(plan: Plan, bit_at_hand: Callable[[str], Bit | None]) -> Edited | None:
    """The document's stack in the planned order; None where that is its own order already.

    A pass that is switched off stays behind the one that it followed. A bit that the plan took
    and ``bit_at_hand`` does not give is carried in the document from now on.
    """
    stack = plan.document
    planned: dict[int, tuple[Pass, int | None]] = {}
    for step in plan.steps:
        own = step.document_pass
        single = plan.stack.passes[step.pass_number - 1] if own is None else stack.passes[own - 1]
        planned.setdefault(step.pass_number, (single, None if own is None else own - 1))
    off = _followers(plan)
    passes = [stack.passes[place] for place in off.get(None, [])]
    for single, place in planned.values():
        passes.append(single)
        if place is not None:
            passes += [stack.passes[follower] for follower in off.get(place, [])]
    if tuple(passes) == stack.passes:
        return None
    added = {step.bit.id: step.bit for step in plan.steps if step.document_pass is None}
    known = {bit.id: bit for bit in stack.bits}
    lacking = [bit for word, bit in added.items() if (known.get(word) or bit_at_hand(word)) != bit]
    return with_bits_carried(replace(stack, passes=tuple(passes)), lacking), LABEL


def planned_order_said(plan: Plan) -> str:
    """What taking the planned order changes, in words; "" where it changes nothing."""
    edited = in_planned_order(plan, lambda _: None)
    if edited is None:
        return ""
    added = len(edited[0].passes) - len(plan.document.passes)
    kept = [step.document_pass for step in plan.steps if step.document_pass is not None]
    told = []
    if kept != sorted(kept):
        told.append("the passes change places")
    if added:
        told.append(f"{added} rough-out pass{'es are' if added > 1 else ' is'} added")
    return " and ".join(told)


def _followers(plan: Plan) -> dict[int | None, list[int]]:
    """The passes that the plan leaves out, by the one before them that it keeps."""
    kept = {step.document_pass - 1 for step in plan.steps if step.document_pass is not None}
    found: dict[int | None, list[int]] = {}
    last: int | None = None
    for place in range(len(plan.document.passes)):
        if place in kept:
            last = place
        else:
            found.setdefault(last, []).append(place)
    return found

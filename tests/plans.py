"""Plans made by hand from a stack: what is written from a plan does not wait for the planner."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from profilestack.bits.bit import Bit
from profilestack.cutting.cut import cut_stack
from profilestack.planning.plan import Plan, PlanMinutes, Rest, Step
from profilestack.planning.said import Said
from profilestack.planning.shop import USUAL_SHOP, Shop
from profilestack.planning.species import species_called
from profilestack.stack import Stack

NO_MINUTES = PlanMinutes(0.0, 0.0, 0.0, 0.0)


def step_of(stack: Stack, bits: Mapping[str, Bit], number: int, **other: Any) -> Step:
    """A step for the whole of one pass, counted from 1."""
    single = stack.passes[number - 1]
    keys: dict[str, Any] = {
        "number": number, "pass_number": number, "document_pass": number,
        "bit": bits[single.bit], "setup": single.setup, "offset": single.offset,
        "depth": single.depth, "depths": (single.depth,), "place": 1, "relief": single.relief,
        "finishing": not single.relief, "rpm": 16000.0, "feed": 2400.0, "tooth": 0.075,
        "travels": single.count * stack.setup(single.setup).copies, "removed_area": 1.0,
        "removed_volume": 1.0, "section": 1.0, "chip": 0.05, "power": 100.0,
        "power_there": 1000.0, "minutes": 1.0, "side": "both", "way": "both", "from_left": True,
        "purpose": "the test asks for it", "how": Said("at once"), "speed_why": "as asked",
        "begin": single.begin, "end": single.end, "count": single.count, "pitch": single.pitch,
        "note": single.note,
    }  # fmt: skip
    return Step(**(keys | other))


def plan_of(
    stack: Stack,
    bits: Mapping[str, Bit],
    steps: Sequence[Step] | None = None,
    shop: Shop = USUAL_SHOP,
    rests: Sequence[Rest] = (),
) -> Plan:
    """A plan: one step a pass in the document's order, unless ``steps`` are given."""
    if steps is None:
        steps = [step_of(stack, bits, number) for number in range(1, len(stack.passes) + 1)]
    steps = tuple(replace(step, number=number) for number, step in enumerate(steps, 1))
    return Plan(
        document=stack, stack=stack, shop=shop, species=species_called(None, ()),
        cut=cut_stack(stack, bits), steps=steps, rests=tuple(rests), minutes=NO_MINUTES,
        through="one piece", other_way=0.0, plain=None, plain_trouble="", orders=1, proved=True,
        sentences=(), cautions=(),
    )  # fmt: skip


def in_depths(step: Step, *depths: float) -> list[Step]:
    """A step taken in several depths, the last its own."""
    every = (*depths, step.depth)
    return [
        replace(step, depth=depth, depths=every, place=place)
        for place, depth in enumerate(every, 1)
    ]

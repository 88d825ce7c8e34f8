"""A stack with its tasks and costs, and the order that is chosen for them."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from profilestack.bits.bit import Bit
from profilestack.cutting.cautions import stock
from profilestack.cutting.cut import cut_stack
from profilestack.errors import InputError, Problem
from profilestack.planning.costs import Costs
from profilestack.planning.order import first_order
from profilestack.planning.roughing import Added, added_passes
from profilestack.planning.sequence import TooMany, quickest
from profilestack.planning.shop import Shop
from profilestack.planning.species import Species
from profilestack.planning.tasks import CHORD, Ground, tasks_of
from profilestack.stack import Pass, Stack

MOST_SETUPS = 4
"""Of more setups than this only the usual and the document's sequence are looked at."""


@dataclass(frozen=True, slots=True, eq=False)
class Chosen:
    """An order of all tasks, what cutting and changing take [min], how it was found."""

    places: tuple[int, ...]
    minutes: float
    orders: int
    proved: bool
    clear: bool


@dataclass(frozen=True, slots=True, eq=False)
class Draft:
    """A stack with its tasks and costs, before an order is chosen."""

    stack: Stack
    bits: dict[str, Bit]
    ground: Ground
    costs: Costs
    blank_area: float


def drafts_of(
    stack: Stack, bits: Mapping[str, Bit], shop: Shop, species: Species, offered: Sequence[Bit]
) -> tuple[Draft, Draft, tuple[Added, ...]]:
    """The stack as it is, the same with the rough-out passes that it needs, and these.

    Raises:
        InputError: nothing to plan.
    """
    passes = tuple(single for single in stack.passes if single.on)
    numbers = [number for number, single in enumerate(stack.passes, 1) if single.on]
    if not passes:
        problem = Problem("pass", "there is none: nothing to plan", "at least one [[pass]]")
        raise InputError(problem)
    known = dict(bits)
    plain = _draft(replace(stack, passes=passes), known, shop, species, numbers)
    added = tuple(added_passes(plain.costs, known, offered))
    if not added:
        return plain, plain, ()
    named = {single.bit for each in added for single in each.passes}
    known |= {bit.id: bit for bit in offered if bit.id in named and bit.id not in known}
    before = {each.before: each.passes for each in added}
    together: list[Pass] = []
    origins: list[int | None] = []
    for place, single in enumerate(passes):
        extra = before.get(place, ())
        together += [*extra, single]
        origins += [*(None for _ in extra), numbers[place]]
    whole = replace(stack, passes=tuple(together))
    return plain, _draft(whole, known, shop, species, origins), added


def _draft(
    stack: Stack,
    bits: dict[str, Bit],
    shop: Shop,
    species: Species,
    origins: Sequence[int | None],
) -> Draft:
    document = dict(enumerate(origins, 1))
    tasks, cut = tasks_of(stack, bits, shop.machine, document)
    ground = Ground(tasks, cut.sections[0])
    costs = Costs(stack, ground, shop, species)
    return Draft(stack, bits, ground, costs, float(cut.sections[0].area))


def chosen_order(draft: Draft) -> Chosen:
    """The order to take: the safest sequence of setups, in it the quickest order of bits."""
    tasks, shop = draft.ground.tasks, draft.costs.shop
    change = shop.bit_minutes(draft.stack.run.pieces)
    best: tuple[tuple[int, float, int], Chosen] | None = None
    orders, proved = 0, True
    for rank, setups in enumerate(_sequences(draft)):
        try:
            found = _in_sequence(draft, setups, change)
        except TooMany:
            proved = False
            continue
        if found is None:
            continue
        orders += found.orders
        judged = (_rests(draft, found.places), round(found.minutes, 6), rank)
        if best is None or judged < best[0]:
            best = (judged, found)
    if best is None:
        places = tuple(range(len(tasks)))
        return Chosen(places, minutes_in(draft, places), 1, False, False)
    return replace(best[1], orders=orders, proved=proved)


def _in_sequence(draft: Draft, setups: Sequence[str], change: float) -> Chosen | None:
    """The quickest order for a sequence of setups; None where tools cannot keep clear."""
    tasks = draft.ground.tasks
    places: tuple[int, ...] = ()
    done, minutes, orders = 0, 0.0, 1
    for name in setups:
        members = [place for place, task in enumerate(tasks) if task.single.setup == name]
        order = quickest(draft.ground, members, done, draft.costs.minutes, change)
        if order is None:
            return None
        places += order.places
        minutes += order.minutes
        orders *= order.looked_at
        done |= sum(1 << place for place in members)
    return Chosen(places, minutes, orders, True, True)


def _sequences(draft: Draft) -> list[tuple[str, ...]]:
    """The sequences of setups that are looked at: the document's, the usual one, then all."""
    stack = draft.stack
    own = tuple(dict.fromkeys(task.single.setup for task in draft.ground.tasks))
    usual_passes = first_order([task.single for task in draft.ground.tasks], draft.bits, stack)
    usual = tuple(dict.fromkeys(single.setup for single in usual_passes))
    every = itertools.permutations(own) if len(own) <= MOST_SETUPS else ()
    return list(dict.fromkeys((own, usual, *every)))


def _rests(draft: Draft, places: Sequence[int]) -> int:
    """How often the blank would lie on faces that were cut before."""
    ordered = tuple(draft.ground.tasks[place].single for place in places)
    if len({single.setup for single in ordered}) < 2:
        return 0
    return len(list(stock.resting(cut_stack(replace(draft.stack, passes=ordered), draft.bits,
                                            CHORD))))  # fmt: skip


def minutes_in(draft: Draft, places: Sequence[int]) -> float:
    """Minutes of cutting and changing in any order."""
    shop, pieces = draft.costs.shop, draft.stack.run.pieces
    minutes, mask = 0.0, 0
    before: tuple[str, str] | None = None
    for place in places:
        minutes += draft.costs.minutes(place, mask)
        key = draft.ground.tasks[place].key
        minutes += shop.bit_minutes(pieces) if key != before else 0.0
        before, mask = key, mask | 1 << place
    return minutes

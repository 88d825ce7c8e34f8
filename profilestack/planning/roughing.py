"""Rough-out passes that are added: where a bit would take too heavy a cut or too many depths.

They leave an allowance for the last light cut, and are taken only where that is quicker, or
where the bit cannot be taken otherwise. A wide bit is meant for light cuts: each of its heavy
rough depths is weighed as three.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import shapely

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.errors import InputError
from profilestack.geometry.region import intersect, subtract
from profilestack.planning.costs import Costs, Taking
from profilestack.planning.relief import relief_passes
from profilestack.planning.tasks import Ground, Task, tasks_of
from profilestack.stack import Pass

MANY = 4
"""From so many depths on it is looked at whether roughing out is quicker."""

LANES = 6
"""So many rough-out passes are tried for one pass."""

WIDEST = 0.8
"""A bit that roughs out is at most so wide as a share of the one it helps (judgement)."""

OFFERED = 2
"""So many bits from the drawer are looked at: a change has to pay for itself."""

WIDE = 35.0
"""Profile bits wider than this [mm] are spared rough cuts (common practice: 3 to 5 mm deep)."""

HEAVY = 0.4
"""A rough cut of this share of the largest section is heavy for a wide bit (judgement)."""

STRAIN = 3.0
"""Each heavy rough depth of a wide bit is weighed as so many (judgement)."""

QUICKER = 0.95
"""Rough-out has to take less than this share of the minutes without it."""


@dataclass(frozen=True, slots=True)
class Added:
    """Passes that rough out for the task at ``before``, and what they save [min].

    ``saved`` is below 0 where they take longer but spare a wide bit its rough cuts; ``gain``
    weighs these.
    """

    before: int
    passes: tuple[Pass, ...]
    saved: float
    gain: float


def added_passes(costs: Costs, bits: Mapping[str, Bit], offered: Sequence[Bit]) -> list[Added]:
    """Rough-out passes for the heavy tasks of a stack, in the order in which they stand.

    ``offered`` are bits from the drawer, taken where none of the stack's own helps.
    """
    found = []
    for place, task in enumerate(costs.ground.tasks):
        if not _may_be_helped(task):
            continue
        mask = (1 << place) - 1
        taken = costs.taking(place, mask)
        if len(taken.depths.depths) < MANY and taken.depths.kept:
            continue
        own = _able(task, bits.values())
        for choice in (own, _able(task, offered)[:OFFERED]):
            choice = [bit for bit in choice if _may_pay(costs, place, taken, bit)]
            if choice and (added := _best(costs, place, mask, choice, bits)) is not None:
                found.append(added)
                break
    return found


def _may_pay(costs: Costs, place: int, taken: Taking, bit: Bit) -> bool:
    """Whether roughing out with a bit can be quicker: even one travel takes the bit's change."""
    if not taken.depths.kept:
        return True
    task = costs.ground.tasks[place]
    count = len(taken.depths.depths)
    # a rough and a last depth stay at least, and one more travel comes in
    saved = taken.minutes * (count - 3) / count
    saved += _weighed(costs, task, taken) - taken.minutes
    here = {each.key for each in costs.ground.tasks}
    change = costs.shop.bit_minutes(costs.stack.run.pieces)
    return saved > (0.0 if (bit.id, task.single.setup) in here else change)


def _may_be_helped(task: Task) -> bool:
    single = task.single
    whole = single.begin is None and single.end is None
    return not single.relief and whole and len(task.first) == task.travels


def _able(task: Task, bits: Iterable[Bit]) -> list[Bit]:
    """Straight bits that plunge and are narrower than the task's own, the widest first."""
    return sorted(
        (
            bit
            for bit in bits
            if bit.shape.word == "straight"
            and bit.pilot_diameter is None
            and bit.plunges
            and 2.0 * largest_radius(bit) <= WIDEST * task.diameter
        ),
        key=lambda bit: -largest_radius(bit),
    )


def _best(
    costs: Costs, place: int, mask: int, choice: list[Bit], bits: Mapping[str, Bit]
) -> Added | None:
    ground, stack = costs.ground, costs.stack
    task = ground.tasks[place]
    stock = ground.stock(mask)
    kept = shapely.buffer(ground.stock(ground.everything), costs.shop.allowance, quad_segs=4)
    unwanted = subtract(intersect(stock, task.swept), kept)
    if unwanted.area < 1.0:
        return None
    used = frozenset(single.bit for single in stack.passes)
    setup = stack.setup(task.single.setup)
    passes = relief_passes(stack.blank, setup, kept, stock, unwanted, choice, used, 0.1)[:LANES]
    known = {**bits, **{bit.id: bit for bit in choice}}
    before = costs.taking(place, mask)
    weight = _weighed(costs, task, before)
    best: Added | None = None
    for count in range(1, len(passes) + 1):
        trial = tuple(replace(each, note="added to rough out") for each in passes[:count])
        taken = _with(costs, place, mask, trial, known)
        if taken is None:
            continue
        changes = {(each.bit, each.setup) for each in trial} - {t.key for t in ground.tasks}
        extra = len(changes) * costs.shop.bit_minutes(stack.run.pieces)
        extra += sum(each.minutes for each in taken[:-1])
        after = extra + _weighed(costs, task, taken[-1])
        kept_limits = all(each.depths.kept for each in taken)
        pays = after < QUICKER * weight or (kept_limits and not before.depths.kept)
        gain = weight - after
        if pays and (best is None or gain > best.gain + 1e-6):
            saved = before.minutes - extra - taken[-1].minutes
            best = Added(place, trial, saved, gain)
    return best


def _is_spared(task: Task) -> bool:
    """Whether the bit is a wide profile bit; flats are what wide straight bits are for."""
    return task.diameter > WIDE and task.bit.shape.word != "straight"


def _weighed(costs: Costs, task: Task, taking: Taking) -> float:
    """Minutes of a task, each heavy rough depth of a wide bit weighed as several."""
    if not _is_spared(task):
        return taking.minutes
    least = HEAVY * costs.limits(task).section
    heavy = sum(section >= least for section in taking.sections[:-1])
    return taking.minutes * (1.0 + (STRAIN - 1.0) * heavy / len(taking.sections))


def _with(
    costs: Costs, place: int, mask: int, passes: tuple[Pass, ...], bits: Mapping[str, Bit]
) -> list[Taking] | None:
    """How some passes and then the task are taken; None where that cannot be."""
    task = costs.ground.tasks[place]
    small = replace(costs.stack, passes=(*passes, task.single))
    try:
        tasks, _ = tasks_of(small, bits, costs.shop.machine)
    except InputError:
        return None
    here = Ground(tasks, costs.ground.stock(mask))
    trial = Costs(small, here, costs.shop, costs.species)
    return [trial.taking(k, (1 << k) - 1) for k in range(len(tasks))]

"""From finishing passes to a stack that can be cut: relief, order, and the engine's verdict."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import NUT_DIAMETER, NUT_HEIGHT, Bit
from profilestack.bits.edge import edge_height, largest_radius
from profilestack.cutting.caution import Caution
from profilestack.cutting.cautions import cautions_of
from profilestack.cutting.cautions.fit import culprit
from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import Cut, cut_stack
from profilestack.cutting.wanted import wanted_in
from profilestack.finding.bench import Aim
from profilestack.geometry.region import intersect, pieces_of, subtract, unite
from profilestack.planning.minutes import Minutes, minutes_of
from profilestack.planning.order import first_order, free_order, rubbing
from profilestack.planning.relief import relief_passes
from profilestack.planning.shop import Shop
from profilestack.stack import Pass, Stack

ROUNDS = 4
"""Relief is planned again so often where the engine still finds stock standing or rubbing."""

EASED = 12
"""So many times a pass may be raised by a resolution to keep the overcut."""

CRUMB = 0.05
"""Waste smaller than this [mm2] close to the target is left to a finishing pass."""

NEAR = 1.0
"""So close to the target [mm] a finishing pass has to see to crumbs."""

DUST = 1e-4
"""Waste smaller than this [mm2] is rounding."""


@dataclass(frozen=True, slots=True, eq=False)
class Assembled:
    """A stack that was cut and judged by the engine."""

    stack: Stack
    cut: Cut
    comparison: Comparison
    cautions: tuple[Caution, ...]
    minutes: Minutes

    @property
    def finishing(self) -> int:
        """How many passes are not relief."""
        return sum(not single.relief for single in self.stack.passes)

    @property
    def bit_ids(self) -> tuple[str, ...]:
        """The bits in the order they are taken."""
        return tuple(dict.fromkeys(single.bit for single in self.stack.passes))


def is_worse(one: Assembled, other: Assembled) -> bool:
    """Whether the one takes longer by a tenth, or is stopped where the other is not."""
    stops = [sum(caution.severity == "stop" for caution in each.cautions) for each in (one, other)]
    return stops[0] > stops[1] or one.minutes.total > 1.1 * other.minutes.total


def assemble(
    stack: Stack,
    finishing: Sequence[Pass],
    bits: Mapping[str, Bit],
    aim: Aim,
    waste: BaseGeometry,
    resolution: float,
    shop: Shop,
) -> Assembled:
    """Add the relief that finishing passes need, order all, cut and compare them.

    ``stack`` gives blank, run, target and setups; ``bits`` are all that relief may take.
    """
    ordered = _ordered(stack, finishing, bits)
    for _ in range(ROUNDS):
        cut = cut_stack(ordered, bits)
        unwanted = _unwanted(cut, waste)
        if unwanted is None:
            break
        own = {single.bit for single in finishing}
        few = {bit_id: bit for bit_id, bit in bits.items() if bit_id in own}
        # a bit that is in the collet anyway costs no change
        added = _relief(ordered, cut, aim, unwanted, few, bits, resolution)
        if not added:
            added = _relief(ordered, cut, aim, unwanted, bits, bits, resolution)
        if not added:
            break
        passes = [*_relief_of(ordered), *added, *finishing]
        ordered = _ordered(stack, passes, bits)
    ordered = _without_idle_relief(ordered, bits)
    cut, comparison = _within_overcut(ordered, bits, resolution)
    cautions = cautions_of(cut, comparison)
    return Assembled(cut.stack, cut, comparison, cautions, minutes_of(cut, comparison, shop))


def _within_overcut(
    stack: Stack, bits: Mapping[str, Bit], resolution: float
) -> tuple[Cut, Comparison]:
    """The stack cut, its passes raised by a resolution where they go deeper than is allowed."""
    for trial in itertools.count():
        cut = cut_stack(stack, bits)
        comparison = _compared(cut)
        number = culprit(cut, comparison)
        within = comparison.overcut_worst <= stack.tolerance.overcut
        if within or number is None or trial == EASED:
            break
        raised = list(stack.passes)
        single = raised[number - 1]
        depth = round(single.depth - resolution, 9)
        if depth <= 0.0:
            break
        raised[number - 1] = replace(single, depth=depth)
        stack = replace(stack, passes=tuple(raised))
    return cut, comparison


def _compared(cut: Cut) -> Comparison:
    comparison = compare(cut)
    assert comparison is not None, "the finder has a target"
    return comparison


def _relief_of(stack: Stack) -> tuple[Pass, ...]:
    return tuple(single for single in stack.passes if single.relief)


def _ordered(stack: Stack, passes: Sequence[Pass], bits: Mapping[str, Bit]) -> Stack:
    ordered = first_order(passes, bits, stack)
    return free_order(replace(stack, passes=tuple(ordered)), bits)


def _unwanted(cut: Cut, waste: BaseGeometry) -> BaseGeometry | None:
    """Waste that still stands at the end, or that a shank or nut would rub on the way."""
    assert cut.stack.target is not None, "the finder has a target"
    wood = wanted_in(cut.stack.blank, cut.stack.target, cut.chord).region
    found: list[BaseGeometry] = [
        piece
        for piece in pieces_of(intersect(cut.sections[-1], waste))
        if piece.area > CRUMB or (piece.area > DUST and piece.distance(wood) > NEAR)
    ]
    for number in rubbing(cut):
        single = next(each for each in cut.passes if each.number == number)
        for k in range(single.first, single.last):
            room = cut.strokes[k].to_section(_room_needed(single.bit, cut, k))
            body = unite(shapely.polygons(part) for part in room)
            rubbed = intersect(intersect(cut.sections[k + 1], body), waste)
            found += [rubbed] if rubbed.area > CRUMB else []
    return unite(found) if found else None


def _room_needed(bit: Bit, cut: Cut, index: int) -> np.ndarray:
    """Boxes that shank, nut and the way above the edge take, about the bit's axis and tip [mm]."""
    sky = cut.strokes[index].lie.height + 1.0
    edge, radius = edge_height(bit), max(largest_radius(bit), bit.shank / 2.0)
    nut = NUT_DIAMETER / 2.0
    boxes = ((radius, edge, max(edge + 0.1, sky)), (nut, bit.reach, bit.reach + NUT_HEIGHT))
    return np.array([((-r, low), (r, low), (r, high), (-r, high)) for r, low, high in boxes])


def _relief(
    stack: Stack,
    cut: Cut,
    aim: Aim,
    unwanted: BaseGeometry,
    offered: Mapping[str, Bit],
    bits: Mapping[str, Bit],
    resolution: float,
) -> list[Pass]:
    """Relief passes in the setups that the stack uses, most of it in the first that helps."""
    used = frozenset(single.bit for single in stack.passes)
    able = [
        bit
        for bit in offered.values()
        if bit.pilot_diameter is None and (bit.plunges or bit.id in used)
    ]
    setups = dict.fromkeys(["face", *(single.setup for single in stack.passes)])
    found: list[Pass] = []
    relieved = _relief_of(stack)
    stock = cut_stack(replace(stack, passes=relieved), bits, 0.005).sections[-1]
    for name in setups:
        setup = stack.setup(name)
        if setup.name == "face" and not any(single.setup == "face" for single in stack.passes):
            continue
        added = relief_passes(stack.blank, setup, aim.kept, stock, unwanted, able, used, resolution)
        if added:
            found += added
            done = cut_stack(replace(stack, passes=(*relieved, *found)), bits, 0.005)
            stock, unwanted = done.sections[-1], intersect(unwanted, done.sections[-1])
        if unwanted.area < CRUMB:
            break
    return found


def _without_idle_relief(stack: Stack, bits: Mapping[str, Bit]) -> Stack:
    """The stack less relief passes without which nothing stands and nothing rubs."""
    before = cut_stack(stack, bits, 0.005)
    area, rubs = before.sections[-1].area, len(rubbing(before))
    for single in [single for single in stack.passes if single.relief]:
        fewer = list(stack.passes)
        fewer.remove(single)
        trial = replace(stack, passes=tuple(fewer))
        after = cut_stack(trial, bits, 0.005)
        if after.sections[-1].area < area + 1e-6 and len(rubbing(after)) <= rubs:
            stack = trial
    return stack


def standing_outside(cut: Cut, waste: BaseGeometry) -> float:
    """Area of waste that stands at the end [mm2]."""
    return float(subtract(cut.sections[-1], subtract(cut.sections[0], waste)).area)

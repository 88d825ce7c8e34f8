"""The order of passes: relief before finish, no shank or nut in standing stock."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut, largest_radius
from profilestack.cutting.cautions import clearance
from profilestack.cutting.cut import Cut, cut_stack
from profilestack.stack import FACE, Pass, Stack

CHORD = 0.005
"""Order is tried on outlines of this chord error [mm]: finer would only take longer."""

RUBS = frozenset({"shank-rubs", "nut-rubs", "too-deep"})
"""Cautions that another order, or a relief pass, may do away with."""


def first_order(passes: Sequence[Pass], bits: Mapping[str, Bit], stack: Stack) -> list[Pass]:
    """A good order to begin with (common practice in the trade).

    Setups other than the face first, while the blank still lies well; tipped ones last. In each
    the relief passes top down, then by bit: the ones that enter from the end last, wide before
    narrow, so that flats and hollows come before rounds and quirks.
    """

    def rank(single: Pass) -> tuple[float, ...]:
        angle = stack.setup(single.setup).angle % 360.0
        place = 1.0 if single.setup == FACE.name else 0.0 if angle % 90.0 == 0.0 else 2.0
        bit = bits[single.bit]
        if single.relief:
            return (place, angle, 0.0, 0.0, 0.0)
        return (place, angle, 1.0, float(has_undercut(bit)), -largest_radius(bit))

    # sorting is stable: relief passes keep the order in which they were planned
    return sorted(sorted(passes, key=lambda each: "" if each.relief else each.bit), key=rank)


def rubbing(cut: Cut) -> set[int]:
    """Numbers of the passes whose shank, nut or edge meets standing stock."""
    rules = (clearance.shank_and_depth, clearance.nut)
    return {
        caution.number
        for rule in rules
        for caution in rule(cut)
        if caution.number is not None and caution.severity == "stop"
    }


def free_order(stack: Stack, bits: Mapping[str, Bit]) -> Stack:
    """The stack with passes that rub put after those of their setup that do not.

    A pass that rubs whatever comes before it stays last: it needs relief.
    """
    for _ in range(4):
        rubs = rubbing(cut_stack(stack, bits, CHORD))
        if not rubs:
            return stack
        moved = _moved_back(stack.passes, rubs)
        if moved == stack.passes:
            return stack
        stack = replace(stack, passes=moved)
    return stack


def _moved_back(passes: tuple[Pass, ...], rubs: set[int]) -> tuple[Pass, ...]:
    numbered = list(enumerate(passes, 1))
    setups = list(dict.fromkeys(single.setup for single in passes))
    ordered: list[Pass] = []
    for setup in setups:
        here = [(number, single) for number, single in numbered if single.setup == setup]
        later = {number for number, single in here if number in rubs and not single.relief}
        ordered += [single for number, single in here if number not in later]
        ordered += [single for number, single in here if number in later]
    return tuple(ordered)

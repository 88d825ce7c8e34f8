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


KINDS = {
    "straight": 0, "core-box": 1, "cove": 1, "taper-ball": 1, "bullnose": 1,
    "roundover": 2, "ogee": 2, "reverse-ogee": 2, "outline": 2, "v-groove": 3, "dovetail": 4,
}  # fmt: skip
"""Flats first, then hollows, rounds, V and quirks; what enters from the end last."""


def first_order(passes: Sequence[Pass], bits: Mapping[str, Bit], stack: Stack) -> list[Pass]:
    """A good order to begin with (common practice in the trade).

    Setups other than the face first, while the blank still lies well; tipped ones last. In each
    the relief passes top down, then flats, hollows, rounds and quirks, wide bits before narrow
    ones, each bit's passes together.
    """

    def rank(single: Pass) -> tuple[float, float, float, float, float, str]:
        angle = stack.setup(single.setup).angle % 360.0
        place = 1.0 if single.setup == FACE.name else 0.0 if angle % 90.0 == 0.0 else 2.0
        if single.relief:  # sorting is stable: these keep the order in which they were planned
            return (place, angle, 0.0, 0.0, 0.0, "")
        bit = bits[single.bit]
        kind = KINDS.get(bit.shape.word, 2) if not has_undercut(bit) else 4
        return (place, angle, 1.0, float(kind), -largest_radius(bit), bit.id)

    return sorted(passes, key=rank)


def rubbing(cut: Cut) -> set[int]:
    """Numbers of the passes whose shank, nut or edge meets standing stock."""
    return {number for number, grave in _crowded(cut).items() if grave}


def _crowded(cut: Cut) -> dict[int, bool]:
    """Numbers of the passes with stock in their way, and whether it stops them."""
    found: dict[int, bool] = {}
    for rule in (clearance.shank_and_depth, clearance.nut):
        for caution in rule(cut):
            if caution.number is not None:
                grave = caution.severity == "stop"
                found[caution.number] = found.get(caution.number, False) or grave
    return found


def free_order(stack: Stack, bits: Mapping[str, Bit]) -> Stack:
    """The stack with passes that have stock in their way put after those that do not.

    A pass that is hindered whatever comes before it stays last: it needs relief.
    """
    best, worst = stack, _crowded(cut_stack(stack, bits, CHORD))
    for _ in range(4):
        if not worst:
            break
        trial = replace(best, passes=_moved_back(best.passes, set(worst)))
        after = _crowded(cut_stack(trial, bits, CHORD))
        if (sum(after.values()), len(after)) >= (sum(worst.values()), len(worst)):
            break
        best, worst = trial, after
    return best


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

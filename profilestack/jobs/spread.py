"""How far the fit spreads when the stack is cut with usual errors."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.jobs.cut import CutReport
from profilestack.stack import Pass

TOUCH_OFF = 0.08
"""Standard deviation of one touch-off per bit and setup [mm]."""
EDGE_ZERO = 0.05
"""Standard deviation of the edge zero, one per setup [mm]."""
SINGLE_CUT = 0.02
"""Standard deviation of each cut's offset and depth [mm]."""
BIT_MEAN, BIT_SPREAD = -0.06, 0.05
"""Bits measure so much less than nominal, give or take [mm of diameter].
All four are common practice on a small CNC, from memory: judge your own machine by a test cut."""

CUTS = 200
CHORD = 0.005


@dataclass(frozen=True, slots=True)
class Spread:
    """Median and 95th percentile over ``cuts`` cuts: stock left proud, and overcut [mm]."""

    cuts: int
    leftover: tuple[float, float]
    overcut: tuple[float, float]


def spread_of(report: CutReport, bits: Mapping[str, Bit], seed: int = 1) -> Spread | None:
    """Cut the stack many times with usual errors; None without a target.

    The same ``seed`` gives the same errors. Bits that were measured are taken as measured.
    """
    if report.comparison is None:
        return None
    stack = report.stack
    chance = np.random.default_rng(seed)
    worst = []
    for _ in range(CUTS):
        worn = {single.bit: _worn(bits[single.bit], chance) for single in stack.passes}
        touch = {
            (single.bit, single.setup): chance.normal(0.0, TOUCH_OFF) for single in stack.passes
        }
        zero = {single.setup: chance.normal(0.0, EDGE_ZERO) for single in stack.passes}
        moved = tuple(
            _moved(single, zero[single.setup], touch[single.bit, single.setup], chance)
            for single in stack.passes
        )
        comparison = compare(cut_stack(replace(stack, passes=moved), worn, CHORD))
        if comparison is not None:
            worst.append((comparison.leftover.max, comparison.overcut_worst))
    leftover, overcut = np.percentile(np.array(worst), (50.0, 95.0), axis=0).T.tolist()
    return Spread(CUTS, tuple(leftover), tuple(overcut))


def _worn(bit: Bit, chance: np.random.Generator) -> Bit:
    less = min(0.0, chance.normal(BIT_MEAN, BIT_SPREAD))
    return bit if bit.measured is not None else replace(bit, measured=bit.shape.size + less)


def _moved(single: Pass, across: float, down: float, chance: np.random.Generator) -> Pass:
    offset = single.offset + across + chance.normal(0.0, SINGLE_CUT)
    depth = max(1e-3, single.depth + down + chance.normal(0.0, SINGLE_CUT))
    return replace(single, offset=offset, depth=depth)

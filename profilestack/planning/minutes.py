"""How long a cut stack takes: changes, setups, travels, sanding."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from profilestack.bits.edge import largest_radius
from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut, PassCut
from profilestack.geometry.region import chains_of
from profilestack.planning.shop import USUAL_SHOP, Shop, step_depth
from profilestack.stack import CurvedRun, Rectangle, Round, Stack, StraightRun


@dataclass(frozen=True, slots=True)
class Minutes:
    """Minutes for all pieces of a stack, by what they go into."""

    changes: float
    setups: float
    cutting: float
    sanding: float

    @property
    def total(self) -> float:
        """All together [min]."""
        return self.changes + self.setups + self.cutting + self.sanding


def minutes_of(cut: Cut, comparison: Comparison | None, shop: Shop = USUAL_SHOP) -> Minutes:
    """Minutes for all pieces, with the shop's figures."""
    pieces = cut.stack.run.pieces
    length = length_of(cut)
    runs, before = 0, None
    for single in cut.passes:
        now = (single.bit.id, single.cut.setup)
        runs += now != before
        before = now
    setups = list(dict.fromkeys(single.cut.setup for single in cut.passes))
    cutting = 0.0
    for single in cut.passes:
        feed = shop.rough_feed if single.cut.relief else shop.finish_feed
        travels = steps_of(cut, single) * (single.last - single.first)
        cutting += pieces * travels * shop.pass_minutes(length, feed)
    return Minutes(
        min(change_minutes(runs, pieces, shop)),
        setup_minutes(cut.stack, setups, shop),
        cutting,
        sanding_minutes(cut.stack, comparison, shop),
    )


def change_minutes(runs: int, pieces: int, shop: Shop) -> tuple[float, float]:
    """Changing bits and fixing pieces when bits are taken up ``runs`` times [min].

    All bits on each piece, or each bit through all pieces.
    """
    each_piece = pieces * (runs * shop.change + shop.refix)
    return each_piece, runs * (shop.change + pieces * shop.refix)


def setup_minutes(stack: Stack, setups: Sequence[str], shop: Shop) -> float:
    """Laying all pieces in setups, with wedges and test pieces [min]."""
    tilted = sum(stack.setup(name).angle % 90.0 != 0.0 for name in setups)
    extra = max(0, len(setups) - 1)
    fixing = extra * (shop.setup_once + stack.run.pieces * shop.setup_piece)
    return fixing + tilted * shop.wedge + len(setups) * shop.test


def sanding_minutes(stack: Stack, comparison: Comparison | None, shop: Shop) -> float:
    """Sanding all pieces [min]."""
    metres = stack.run.pieces * length_of_travel(stack) / 1000.0
    ridge_area = comparison.leftover.area if comparison else 0.0
    return metres * (shop.sanding + shop.sanding_area * ridge_area)


def steps_of(cut: Cut, single: PassCut) -> int:
    """In how many depths a pass is taken: the tallest stretch that it cuts, by usual steps."""
    tallest = 0.0
    for k in range(single.first, single.last):
        # the same as what two sections differ by, and much quicker
        removed = shapely.intersection(cut.sections[k], cut.strokes[k].region)
        for chain in chains_of(removed):
            z = cut.strokes[k].to_bench(chain)[:, 1]
            tallest = max(tallest, float(np.ptp(z)))
    return max(1, math.ceil(tallest / step_depth(2.0 * largest_radius(single.bit)) - 1e-6))


def length_of(cut: Cut) -> float:
    """Length of one travel [mm]: along the part, or once round it at the blank's middle."""
    return length_of_travel(cut.stack)


def length_of_travel(stack: Stack) -> float:
    """The same for a stack that is not cut yet."""
    run, blank = stack.run, stack.blank.stock
    if isinstance(run, StraightRun):
        return run.length
    across = blank.width if isinstance(blank, Rectangle) else 0.0
    if isinstance(blank, Round):
        across = blank.diameter
    if isinstance(run, CurvedRun):
        return math.radians(run.angle) * (run.radius + across / 2.0)
    high = blank.thickness if isinstance(blank, Rectangle) else across
    return math.tau * high

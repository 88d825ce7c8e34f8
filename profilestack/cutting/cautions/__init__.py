"""Cautions: what to mind before a stack is cut. One rule a function, one line in ``RULES``."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from profilestack.cutting.caution import Caution
from profilestack.cutting.cautions import bit_limits, clearance, entry, fit, stock
from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut

Rule = Callable[[Cut], Iterator[Caution]]

RULES: tuple[Rule, ...] = (
    clearance.shank_and_depth,
    clearance.nut,
    clearance.pilot,
    clearance.bed,
    entry.from_the_end,
    entry.plunging,
    bit_limits.grip,
    bit_limits.speed,
    bit_limits.curve,
    stock.nothing_cut,
    stock.loose_pieces,
    stock.resting,
    stock.support,
    stock.fins_and_necks,
)
"""Rules that look at the cut alone; :func:`fit.tolerances` looks at the comparison too."""

_ORDER = {"stop": 0, "warn": 1, "note": 2}


def cautions_of(cut: Cut, comparison: Comparison | None) -> tuple[Caution, ...]:
    """Every caution of a cut, the gravest first, then in the order of the passes."""
    found = [caution for rule in RULES for caution in rule(cut)]
    if comparison is not None:
        found += fit.tolerances(cut, comparison)
    return tuple(sorted(found, key=lambda each: (_ORDER[each.severity], each.number or 0)))

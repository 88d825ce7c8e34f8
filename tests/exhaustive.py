"""Small covering problems solved by looking at everything, without any solver."""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.finding.columns import Table, table_of
from profilestack.finding.coverage import Coverage
from profilestack.finding.problem import Problem, problem_of
from profilestack.finding.request import FindRequest
from profilestack.stack import Stack


def fewest_columns(rows: np.ndarray, most: int) -> int | None:
    """The fewest of some sets that cover all points; None if it takes more than ``most``.

    ``rows`` (n sets, m points) are booleans. The point that fewest sets reach is covered by each of
    them in turn; that tries everything.
    """
    # a set inside another one is never needed: that keeps the search small, and is plain to see
    kept: list[np.ndarray] = []
    for row in sorted(np.unique(rows, axis=0), key=lambda row: -int(row.sum())):
        if not any((row <= other).all() for other in kept):
            kept.append(row)
    sets = np.array(kept)
    everything = (1 << rows.shape[1]) - 1
    masks = [int("".join("1" if hit else "0" for hit in row), 2) for row in sets.tolist()]
    if rows.shape[1] == 0:
        return 0
    best = most + 1

    def go(left: int, used: int) -> None:
        nonlocal best
        if left == 0:
            best = min(best, used)
            return
        if used + 1 >= best:
            return
        largest = max((mask & left).bit_count() for mask in masks)
        if largest == 0 or used + -(-left.bit_count() // largest) >= best:
            return
        rarest, fewest = 0, len(masks) + 1
        bit = left
        while bit:
            point = bit & -bit
            bit ^= point
            count = sum(1 for mask in masks if mask & point)
            if count < fewest:
                rarest, fewest = point, count
        for mask in masks:
            if mask & rarest:
                go(left & ~mask, used + 1)

    go(everything, 0)
    return best if best <= most else None


def cheapest_by_hand(
    table: Table, points: np.ndarray, a_pass: float, a_bit: float, most: int
) -> float | None:
    """The least cost of a cover, over every set of bits; None without one of ``most`` columns."""
    best = None
    bits = table.bits[table.tools]
    names = np.unique(bits).tolist()
    for count in range(1, len(names) + 1):
        for chosen in itertools.combinations(names, count):
            rows = table.full(np.flatnonzero(np.isin(bits, chosen)))[:, points]
            if not rows.any(axis=0).all():
                continue
            passes = fewest_columns(rows, most)
            if passes is None:
                continue
            cost = a_pass * passes + a_bit * count
            best = cost if best is None else min(best, cost)
    return best


def coarse_problem(
    stack: Stack, bits: Sequence[Bit], leftover: float, overcut: float, every: float
) -> Problem:
    """A problem with candidates about ``every`` [mm] only, as few as can be searched wholly."""
    request = FindRequest(stack, tuple(bits), leftover, overcut, 0.01)
    whole = problem_of(request, spacing=1.0)
    coverages = []
    for coverage in whole.table.coverages:
        axes = coverage.candidates.axes
        chosen = np.flatnonzero(np.diff(np.floor(axes / every), prepend=np.nan) != 0)
        candidates = replace(
            coverage.candidates, axes=axes[chosen], tips=coverage.candidates.tips[chosen]
        )
        coverages.append(Coverage(candidates, coverage.rows[chosen]))
    old = whole.table
    table = table_of(coverages, old.bits.tolist(), old.setups.tolist(), old.count)
    return replace(whole, table=table, points=np.flatnonzero(table.reached))


def some_bits(chance: random.Random, bits: Sequence[Bit], count: int) -> list[Bit]:
    """Different bits that may be let down from above."""
    able = [bit for bit in bits if bit.pilot_diameter is None]
    return chance.sample(able, count)

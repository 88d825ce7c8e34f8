"""Covers with very few bits, looked for by trying the sets of bits that reach every point.

What a few bits reach together, in as many passes as one likes, is soon known. No smaller number of
bits can do, so a cover by a set of that size is proved at once; which sets are worth trying is told
by how many passes a greedy cover of a few points takes.
"""

from __future__ import annotations

import math

import numpy as np

from profilestack.bits.edge import largest_radius
from profilestack.finding.columns import Booleans, Indices, Table
from profilestack.finding.cover import FIRST_POINTS, some_of, with_these_bits
from profilestack.finding.coverage import Packed
from profilestack.finding.solver import Costs, Cover
from profilestack.progress import Progress

MOST_SETS = 400
"""The greedy cover is made for so many sets at most."""

MOST_COUNTED = 100_000
"""Where there are more sets than this they are not looked through."""

MOST_SETTLED = 40
"""So many sets are solved to show that they need too many passes, before that is given up."""

TRIES = 4
"""Once there is a cover, so many more sets are looked at for one of fewer passes."""

LARGEST_SET = 3


def with_few_bits(
    table: Table, points: Indices, costs: Costs, progress: Progress
) -> tuple[Cover | None, int]:
    """A cover with the fewest bits, and how many bits are needed at least.

    Of the sets that were tried the cover takes that of fewest passes. It is None where the sets
    are too many or too large to be looked through, or the progress was stopped.
    """
    names, reach = _reach_of_bits(table, points)
    few = some_of(points, 2 * FIRST_POINTS)
    shares: dict[int, Packed] = {}
    for name in names:
        if progress.is_stopped():
            return None, 1
        shares[int(name)] = _packed_columns(table, name, few)
    most = min(LARGEST_SET, costs.most_bits or LARGEST_SET)
    for size in range(1, most + 1):
        if math.comb(len(names), size) > MOST_COUNTED:
            return None, size
        sets = names[_reaching_sets(reach, size)]
        sets = _promising(table, sets, shares, progress)
        if costs.most_passes is not None:
            sets = _not_too_few(sets, shares, len(few), costs.most_passes, progress)
        if progress.is_stopped():  # then the sets were not looked at
            return None, size
        best, settled = _fewest_passes(table, points, costs, sets, progress)
        if best is not None or not settled:
            return best, size
    return None, most + 1


def _fewest_passes(
    table: Table, points: Indices, costs: Costs, sets: Indices, progress: Progress
) -> tuple[Cover | None, bool]:
    """The best of the covers by the first few sets of bits, its cost the number of bits.

    Also whether all of the sets are known to need more passes than ``costs`` allow.
    """
    best, upper, tries = None, np.inf, 0
    passes = Costs(1.0, 0.0, step=1.0, most_passes=costs.most_passes)
    for bits in sets[:MOST_SETTLED]:
        columns = np.flatnonzero(np.isin(table.bits[table.tools], bits))
        found = with_these_bits(table, points, columns, passes, progress, upper)
        if found.columns is not None and found.cost < upper:
            upper = found.cost
            best = Cover(found.columns, float(len(bits)), float(len(bits)), found.points)
        elif best is None and not np.isinf(found.bound):
            return None, False
        tries += best is not None
        if tries > TRIES:
            break
    return best, best is None and len(sets) <= MOST_SETTLED


def _reach_of_bits(table: Table, points: Indices) -> tuple[Indices, Booleans]:
    """The bits, and which different kinds of points each reaches in any pass: (bits, kinds)."""
    names = np.unique(table.bits[table.tools])
    packed = []
    for name in names:
        own = np.isin(table.tools, np.flatnonzero(table.bits == name))
        packed.append(np.bitwise_or.reduce(table.packed[own], axis=0))
    reach = np.unpackbits(np.array(packed), axis=1, count=table.count).view(bool)[:, points]
    kinds: Booleans = np.unique(reach, axis=1)
    return names, kinds


def _reaching_sets(reach: Booleans, size: int) -> Indices:
    """All sets of so many bits that reach every point together: (sets, size)."""
    missed = (~reach).astype(np.float32)
    sets = np.arange(len(reach))[:, None]
    together = missed
    for _ in range(size - 1):
        # a set grows by bits after its last one only, so that each is met once
        first, second = np.nonzero(sets[:, -1:] < np.arange(len(reach)))
        sets = np.concatenate((sets[first], second[:, None]), axis=1)
        together = together[first] * missed[second]
    return sets[~together.any(axis=1)]


def _packed_columns(table: Table, bit: int, few: Indices) -> Packed:
    """The different columns of a bit over a few points, packed."""
    own = np.flatnonzero(np.isin(table.tools, np.flatnonzero(table.bits == bit)))
    bytes_, places = few // 8, 7 - few % 8
    rows = ((table.packed[own][:, bytes_] >> places.astype(np.uint8)) & 1).astype(bool)
    return np.unique(np.packbits(rows, axis=1), axis=0)


def _promising(
    table: Table, sets: Indices, shares: dict[int, Packed], progress: Progress
) -> Indices:
    """The sets in the order of the passes that a greedy cover of a few points takes.

    Of sets that seem alike the one with the larger bits comes first, which need fewer relief
    passes, and the others last.
    """
    if len(sets) == 0:
        return sets
    widest = {bit: int(np.bitwise_count(rows).sum(axis=1).max()) for bit, rows in shares.items()}
    radii = {
        int(table.bits[tool]): largest_radius(coverage.candidates.bit)
        for tool, coverage in enumerate(table.coverages)
    }
    together = np.array([sum(widest[int(bit)] for bit in bits) for bits in sets])
    sizes = np.array([sum(radii[int(bit)] for bit in bits) for bits in sets])
    looked_at = np.argsort(-together, kind="stable")[:MOST_SETS]
    counts = np.full(len(sets), len(table.packed))
    for k in looked_at:
        if progress.is_stopped():
            return sets
        counts[k] = _greedy_passes([shares[int(bit)] for bit in sets[k]])
    order = np.lexsort((-sizes, counts))
    alike = np.column_stack((counts, together))[order]
    _, first = np.unique(alike, axis=0, return_index=True)
    leading = np.sort(first)
    return sets[np.concatenate((order[leading], np.delete(order, leading)))]


def _not_too_few(
    sets: Indices, shares: dict[int, Packed], count: int, most_passes: int, progress: Progress
) -> Indices:
    """The sets without the first ones that surely need more passes than ``most_passes``.

    Of points that no column reaches two at once each needs a pass of its own.
    """
    together = {}
    for bit, packed in shares.items():
        rows = np.unpackbits(packed, axis=1, count=count).astype(np.float32)
        together[bit] = rows.T @ rows > 0.5
    kept: list[int] = []
    for k, bits in enumerate(sets[:MOST_SETS]):
        if progress.is_stopped():
            return sets
        if _apart(np.logical_or.reduce([together[int(bit)] for bit in bits])) <= most_passes:
            kept.append(k)
    return sets[np.concatenate((kept, np.arange(MOST_SETS, len(sets)))).astype(np.intp)]


def _apart(together: Booleans) -> int:
    """How many points are found of which no two are reached ``together``."""
    free = np.ones(len(together), dtype=bool)
    count = 0
    for point in np.argsort(together.sum(axis=1), kind="stable"):
        if free[point]:
            free &= ~together[point]
            count += 1
    return count


def _greedy_passes(rows: list[Packed]) -> int:
    """How many columns cover all, taking the one that covers most of what is left."""
    packed = np.concatenate(rows)
    left = np.bitwise_or.reduce(packed, axis=0)
    count = 0
    while left.any():
        gains = np.bitwise_count(packed & left).sum(axis=1)
        left &= ~packed[int(np.argmax(gains))]
        count += 1
    return count

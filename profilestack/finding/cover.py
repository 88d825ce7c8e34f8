"""The cheapest set of candidates that reaches every point, with proof.

Cost: so much a pass, a bit and a setup used. The whole problem is large, but few points decide it:
the cover is proved on a growing choice of points. On few points most columns and most bits are
dominated and go. A cover of few points costs no more than one of all, so its proven cost is a
bound for the whole; the bits that it uses, solved on all points, give a real answer. Points that
the cheap cover misses are added until both meet.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from profilestack.finding.columns import (
    Booleans,
    Indices,
    Table,
    undominated,
    undominated_tools,
)
from profilestack.finding.solver import Costs, Cover, cost_of, solve_rows
from profilestack.progress import SILENT, Progress

FIRST_POINTS = 80
ADDED_POINTS = 24


def cheapest(
    table: Table,
    points: Indices,
    costs: Costs,
    known: Indices | None = None,
    progress: Progress = SILENT,
    before: Cover | None = None,
    lower: float = 0.0,
) -> Cover:
    """The cheapest cover of ``points``, which is known to cost at least ``lower``.

    ``known`` is a cover to start from, if there is one; ``before`` an answer of the same costs for
    some of the points, whose bound and choice of points are taken over.
    """
    best = known
    upper = np.inf if known is None else cost_of(table, known, costs)
    chosen = some_of(points, FIRST_POINTS)
    if before is not None and before.points is not None:
        lower = max(lower, before.bound)
        fresh = np.setdiff1d(points, before.points)
        chosen = np.union1d(before.points, fresh[-ADDED_POINTS:])
    while progress.left > 0.0 and lower < upper - 1e-9:
        rows = table.rows(chosen)
        columns = _worth_a_look(table, rows, costs)
        found = solve_rows(table, columns, rows[columns], costs, upper, progress)
        lower = max(lower, min(found.bound, upper))
        if found.columns is None:
            break
        missed = _missed(table, points, found.columns)
        if len(missed) == 0:
            if found.cost < upper - 1e-9:
                best, upper = found.columns, found.cost
            if not found.proved:
                break
            continue
        if costs.counts_bits:
            whole = with_these_bits(table, points, found.columns, costs, progress, upper, chosen)
            if whole.columns is not None and whole.cost < upper - 1e-9:
                best, upper = whole.columns, whole.cost
        chosen = np.union1d(chosen, some_of(missed, ADDED_POINTS))
    if best is None and not np.isinf(lower):  # out of time: any cover is better than none
        best = _greedy(table, points, costs)
        upper = np.inf if best is None else cost_of(table, best, costs)
    return Cover(best, upper, min(lower, upper), chosen)


def _greedy(table: Table, points: Indices, costs: Costs) -> Indices | None:
    """A cover made by taking, again and again, the column that reaches most of what is left."""
    wanted = np.zeros(table.packed.shape[1] * 8, dtype=bool)
    wanted[points] = True
    left = np.packbits(wanted)
    picked: list[int] = []
    most = costs.most_passes or 10_000
    while left.any() and len(picked) < most:
        gains = np.asarray(np.bitwise_count(table.packed & left)).sum(axis=1, dtype=np.int64)
        best = int(np.argmax(gains))
        if gains[best] == 0:
            return None
        picked.append(best)
        left &= ~table.packed[best]
    columns = np.array(picked, dtype=np.intp)
    too_many = costs.most_bits is not None and costs.most_bits < len(
        np.unique(table.bits[table.tools[columns]])
    )
    return None if left.any() or too_many else columns


def some_of(points: Indices, count: int) -> Indices:
    """Up to ``count`` of the points, spread evenly."""
    if len(points) <= count:
        return points
    some: Indices = points[np.linspace(0, len(points) - 1, count).round().astype(int)]
    return some


def _missed(table: Table, points: Indices, columns: Indices) -> Indices:
    reached: Booleans = np.asarray(table.full(columns).any(axis=0))
    missed: Indices = points[~reached[points]]
    return missed


def _worth_a_look(table: Table, rows: Booleans, costs: Costs) -> Indices:
    """Columns that may be in a cheapest cover of these rows."""
    setups = table.setups[table.tools]
    if not costs.counts_bits:
        return undominated(rows, setups)
    columns = undominated(rows, table.tools)
    kept = np.zeros(len(columns), dtype=bool)
    for setup in np.unique(setups[columns]):
        here = np.flatnonzero(setups[columns] == setup)
        kept[here] = undominated_tools(rows[columns[here]], table.tools[columns[here]])
    return columns[kept]


def with_these_bits(
    table: Table,
    points: Indices,
    columns: Indices,
    costs: Costs,
    progress: Progress = SILENT,
    upper: float = np.inf,
    first: Indices | None = None,
) -> Cover:
    """The cheapest cover of ``points`` below ``upper`` with the bits of the given columns alone.

    ``first`` are points to begin with. Points that a cheapest cover of some misses are added until
    it misses none: it is then the cheapest of all.
    """
    bits = np.unique(table.bits[table.tools[columns]])
    offered = np.flatnonzero(np.isin(table.bits[table.tools], bits))
    part = replace(table, packed=table.packed[offered], tools=table.tools[offered])
    if not part.reached[points].all():
        return Cover(None, np.inf, np.inf)
    chosen = some_of(points, FIRST_POINTS // 2) if first is None else np.intersect1d(first, points)
    while progress.left > 0.0:
        rows = part.rows(chosen)
        kept = undominated(rows, part.tools if costs.counts_bits else part.setups[part.tools])
        found = solve_rows(part, kept, rows[kept], costs, upper, progress)
        if found.columns is None:
            return found
        missed = _missed(part, points, found.columns)
        if len(missed) == 0:
            return Cover(offered[found.columns], found.cost, found.bound, chosen)
        chosen = np.union1d(chosen, some_of(missed, ADDED_POINTS // 2))
    return Cover(None, np.inf, 0.0)

"""The cheapest set of candidates that reaches every point, with proof.

Cost: so much a pass, a bit and a setup used. The whole problem is large, but few points decide it:
the cover is proved on a growing choice of points. On few points most columns and most bits are
dominated and go. A cover of few points costs no more than one of all, so its proven cost is a
bound for the whole; the bits that it uses, solved on all points, give a real answer. Points that
the cheap cover misses are added until both meet.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from profilestack.cutting.nearest import Numbers
from profilestack.finding.columns import (
    Booleans,
    Indices,
    Table,
    undominated,
    undominated_tools,
)
from profilestack.progress import SILENT, Progress

FIRST_POINTS = 80
ADDED_POINTS = 24


@dataclass(frozen=True, slots=True)
class Costs:
    """What a pass, a bit and a setup cost; ``step`` divides them all.

    ``most_passes`` and ``most_bits`` bound their numbers.
    """

    a_pass: float
    a_bit: float
    a_setup: float = 0.0
    step: float = 0.5
    most_passes: int | None = None
    most_bits: int | None = None

    @property
    def counts_bits(self) -> bool:
        """Whether it matters which passes share a bit."""
        return self.a_bit > 0.0 or self.most_bits is not None


@dataclass(frozen=True, slots=True, eq=False)
class Cover:
    """A set of columns of a table, its cost and the proven bound below which there is none.

    ``columns`` is None where no cover was found; an infinite bound says that there is none.
    ``points`` are the ones that the proof was made on.
    """

    columns: Indices | None
    cost: float
    bound: float
    points: Indices | None = None

    @property
    def proved(self) -> bool:
        """Whether nothing cheaper exists."""
        return self.columns is not None and self.bound >= self.cost - 1e-9


def cheapest(
    table: Table,
    points: Indices,
    costs: Costs,
    known: Indices | None = None,
    progress: Progress = SILENT,
    before: Cover | None = None,
) -> Cover:
    """The cheapest cover of ``points``.

    ``known`` is a cover to start from, if there is one; ``before`` an answer of the same costs for
    some of the points, whose bound and choice of points are taken over.
    """
    best = known
    upper = np.inf if known is None else cost_of(table, known, costs)
    lower, chosen = 0.0, _some_of(points, FIRST_POINTS)
    if before is not None and before.points is not None:
        lower = before.bound
        fresh = np.setdiff1d(points, before.points)
        chosen = np.union1d(before.points, fresh[-ADDED_POINTS:])
    while progress.left > 0.0 and lower < upper - 1e-9:
        rows = table.rows(chosen)
        columns = _worth_a_look(table, rows, costs)
        found = solve_rows(table, columns, rows[columns], costs, upper, progress.left)
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
            whole = with_these_bits(
                table, points, found.columns, costs, progress, upper, chosen
            )
            if whole.columns is not None and whole.cost < upper - 1e-9:
                best, upper = whole.columns, whole.cost
        chosen = np.union1d(chosen, _some_of(missed, ADDED_POINTS))
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
        gains = np.bitwise_count(table.packed & left).sum(axis=1, dtype=np.int64)
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


def cost_of(table: Table, columns: Indices, costs: Costs) -> float:
    """What a set of columns costs."""
    tools = np.unique(table.tools[columns])
    bits, setups = np.unique(table.bits[tools]), np.unique(table.setups[tools])
    return float(
        costs.a_pass * len(columns) + costs.a_bit * len(bits) + costs.a_setup * len(setups)
    )


def _some_of(points: Indices, count: int) -> Indices:
    """Up to ``count`` of the points, spread evenly."""
    if len(points) <= count:
        return points
    return points[np.linspace(0, len(points) - 1, count).round().astype(int)]


def _missed(table: Table, points: Indices, columns: Indices) -> Indices:
    return points[~table.full(columns).any(axis=0)[points]]


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
    chosen = _some_of(points, FIRST_POINTS) if first is None else np.intersect1d(first, points)
    while progress.left > 0.0:
        rows = part.rows(chosen)
        kept = undominated(rows, part.tools if costs.counts_bits else part.setups[part.tools])
        found = solve_rows(part, kept, rows[kept], costs, upper, progress.left)
        if found.columns is None:
            return found
        missed = _missed(part, points, found.columns)
        if len(missed) == 0:
            return Cover(offered[found.columns], found.cost, found.bound, chosen)
        chosen = np.union1d(chosen, _some_of(missed, ADDED_POINTS))
    return Cover(None, np.inf, 0.0)


def solve_rows(
    table: Table,
    columns: Indices,
    rows: Booleans,
    costs: Costs,
    upper: float,
    seconds: float,
    prices: Numbers | None = None,
) -> Cover:
    """The cheapest cover of ``rows`` (columns by points) below ``upper``, by HiGHS.

    With ``prices`` (n,) of the columns the one of least price among all that cost less.
    """
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_array, vstack

    needed = rows.any(axis=0)
    if not needed.all() or len(columns) == 0:
        return Cover(None, np.inf, np.inf)
    tools = table.tools[columns]
    bit_names, bit_place = np.unique(table.bits[tools], return_inverse=True)
    setup_names, setup_place = np.unique(table.setups[tools], return_inverse=True)
    count, bits, setups = len(columns), len(bit_names), len(setup_names)
    width = count + bits + setups
    cost = np.concatenate(
        (
            np.full(count, costs.a_pass),
            np.full(bits, costs.a_bit),
            np.full(setups, costs.a_setup),
        )
    )
    column, point = np.nonzero(rows)
    covered = coo_array((np.ones(len(column)), (point, column)), shape=(rows.shape[1], width))
    limits = [LinearConstraint(covered.tocsr(), 1.0, np.inf)]
    owned = []
    for place, first, price in (
        (bit_place, count, costs.counts_bits),
        (setup_place, count + bits, costs.a_setup > 0.0),
    ):
        if price:
            index = np.arange(count)
            owned.append(
                coo_array(
                    (
                        np.concatenate((np.ones(count), -np.ones(count))),
                        (np.tile(index, 2), np.concatenate((index, first + place))),
                    ),
                    shape=(count, width),
                )
            )
    if owned:
        limits.append(LinearConstraint(vstack(owned).tocsr(), -np.inf, 0.0))
    for most, begin, end in (
        (costs.most_passes, 0, count),
        (costs.most_bits, count, count + bits),
    ):
        if most is not None:
            total = np.zeros(width)
            total[begin:end] = 1.0
            limits.append(LinearConstraint(total, -np.inf, float(most)))
    if np.isfinite(upper):
        limits.append(LinearConstraint(cost, -np.inf, upper - costs.step + 1e-6))
    aim = cost if prices is None else np.concatenate((prices, np.zeros(bits + setups)))
    answer = milp(
        aim,
        integrality=np.ones(width),
        bounds=Bounds(0.0, 1.0),
        constraints=limits,
        options={"time_limit": max(0.05, seconds), "mip_rel_gap": 0.0},
    )
    if answer.status == 2:  # nothing that cheap exists
        return Cover(None, np.inf, np.inf)
    bound = answer.mip_dual_bound if answer.mip_dual_bound is not None and prices is None else 0.0
    bound = float(np.ceil(bound / costs.step - 1e-6) * costs.step)
    if answer.x is None:
        return Cover(None, np.inf, bound)
    picked = columns[answer.x[:count] > 0.5]
    return Cover(picked, cost_of(table, picked, costs), bound)

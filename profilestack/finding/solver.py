"""Covers by a mixed-integer solver (HiGHS, by scipy), with its proven bound."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from profilestack.cutting.nearest import Numbers
from profilestack.finding.columns import Booleans, Indices, Table
from profilestack.finding.waiting import unless_stopped
from profilestack.progress import Progress

if TYPE_CHECKING:
    from scipy.optimize import LinearConstraint, OptimizeResult


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


def cost_of(table: Table, columns: Indices, costs: Costs) -> float:
    """What a set of columns costs."""
    tools = np.unique(table.tools[columns])
    bits, setups = np.unique(table.bits[tools]), np.unique(table.setups[tools])
    return float(
        costs.a_pass * len(columns) + costs.a_bit * len(bits) + costs.a_setup * len(setups)
    )


def solve_rows(
    table: Table,
    columns: Indices,
    rows: Booleans,
    costs: Costs,
    upper: float,
    progress: Progress,
    prices: Numbers | None = None,
) -> Cover:
    """The cheapest cover of ``rows`` (columns by points) below ``upper``; none when stopped.

    With ``prices`` (n,) of the columns the one of least price among all that cost less.
    """
    from scipy.optimize import Bounds, milp

    if len(columns) == 0 or not rows.any(axis=0).all():
        return Cover(None, np.inf, np.inf)
    count = len(columns)
    owners = _owners(table, columns)
    bits, setups = len(owners[0][0]), len(owners[1][0])
    cost = np.repeat((costs.a_pass, costs.a_bit, costs.a_setup), (count, bits, setups))
    aim = cost if prices is None else np.concatenate((prices, np.zeros(bits + setups)))
    limits = _limits(rows, owners, costs, cost, upper)
    seconds = max(0.05, progress.left)

    def solve() -> OptimizeResult:
        return milp(
            aim,
            integrality=np.ones(len(cost), dtype=np.int64),
            bounds=Bounds(0.0, 1.0),
            constraints=limits,
            options={"time_limit": seconds, "mip_rel_gap": 0.0},
        )

    answer = unless_stopped(solve, progress)
    if answer is None:
        return Cover(None, np.inf, 0.0)
    if answer.status == 2:  # nothing that cheap exists
        return Cover(None, np.inf, np.inf)
    bound = answer.mip_dual_bound if answer.mip_dual_bound is not None and prices is None else 0.0
    bound = float(np.ceil(bound / costs.step - 1e-6) * costs.step)
    if answer.x is None:
        return Cover(None, np.inf, bound)
    picked = columns[np.asarray(answer.x)[:count] > 0.5]
    return Cover(picked, cost_of(table, picked, costs), bound)


Owners = tuple[Indices, Indices]
"""The different owners of some columns, and which of them owns each."""


def _owners(table: Table, columns: Indices) -> tuple[Owners, Owners]:
    """The bits and the setups of the columns."""
    tools = table.tools[columns]
    bits = np.unique(table.bits[tools], return_inverse=True)
    setups = np.unique(table.setups[tools], return_inverse=True)
    return (bits[0], bits[1]), (setups[0], setups[1])


def _limits(
    rows: Booleans, owners: tuple[Owners, Owners], costs: Costs, cost: Numbers, upper: float
) -> list[LinearConstraint]:
    """What a cover has to hold: each point reached, owners paid for, numbers and cost bounded."""
    from scipy.optimize import LinearConstraint
    from scipy.sparse import coo_array

    count, width = len(rows), len(cost)
    bits = len(owners[0][0])
    column, point = np.nonzero(rows)
    reached = coo_array((np.ones(len(column)), (point, column)), shape=(rows.shape[1], width))
    limits = [LinearConstraint(reached.tocsr(), 1.0, np.inf)]
    index = np.arange(count)
    for (_, place), first, matters in (
        (owners[0], count, costs.counts_bits),
        (owners[1], count + bits, costs.a_setup > 0.0),
    ):
        if matters:  # a column is taken only with its owner
            signs = np.repeat((1.0, -1.0), count)
            places = (np.tile(index, 2), np.concatenate((index, first + place)))
            owned = coo_array((signs, places), shape=(count, width))
            limits.append(LinearConstraint(owned.tocsr(), -np.inf, 0.0))
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
    return limits

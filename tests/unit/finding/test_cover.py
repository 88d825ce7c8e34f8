"""Covers and their bounds, against looking at everything."""

from __future__ import annotations

import random
import time
from functools import cache

import numpy as np
import pytest

from profilestack.finding.cover import cheapest, with_these_bits
from profilestack.finding.problem import Problem
from profilestack.finding.solver import Costs, cost_of
from profilestack.progress import Progress
from tests.exhaustive import cheapest_by_hand, coarse_problem, some_bits
from tests.planted import drawer, planted

MOST = 16
COSTS = {
    "passes": Costs(1.0, 0.0, step=1.0, most_passes=MOST),
    "bits": Costs(0.0, 1.0, step=1.0, most_passes=MOST),
    "passes and bits": Costs(1.0, 1.5, step=0.5, most_passes=MOST),
}


@cache
def small_problem(seed: int) -> Problem:
    """A planted target, up to five bits and a coarse grid: small enough to look at everything."""
    chance = random.Random(seed)
    wanted = planted(seed, chance.randint(2, 4))
    bits = some_bits(chance, drawer(), chance.randint(2, 5))
    return coarse_problem(wanted.stack, bits, 0.3, 0.1, every=1.0)


@pytest.mark.parametrize("kind", COSTS)
@pytest.mark.parametrize("seed", range(20))
def test_the_cheapest_cover_costs_as_little_as_any(seed: int, kind: str) -> None:
    problem, costs = small_problem(seed), COSTS[kind]
    found = cheapest(problem.table, problem.points, costs)
    least = cheapest_by_hand(problem.table, problem.points, costs.a_pass, costs.a_bit, MOST)
    if least is None:
        assert found.columns is None
        assert found.bound == np.inf
        return
    assert found.columns is not None
    assert found.cost == least
    assert found.proved
    assert found.cost == cost_of(problem.table, found.columns, costs)
    assert problem.table.full(found.columns).any(axis=0)[problem.points].all()


@pytest.mark.parametrize("kind", COSTS)
@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("looks", [0, 1, 2, 3])
def test_cut_short_a_bound_is_never_above_the_least_cost(seed: int, kind: str, looks: int) -> None:
    problem, costs = small_problem(seed), COSTS[kind]
    least = cheapest_by_hand(problem.table, problem.points, costs.a_pass, costs.a_bit, MOST)
    seen = iter(range(100))
    stopped = Progress(is_stopped=lambda: next(seen) > looks)
    found = cheapest(problem.table, problem.points, costs, progress=stopped)
    assert found.bound <= (np.inf if least is None else least)
    if found.columns is not None:
        assert least is not None
        assert found.cost >= least
        assert problem.table.full(found.columns).any(axis=0)[problem.points].all()


def test_out_of_time_there_is_still_a_cover() -> None:
    problem = small_problem(0)
    late = Progress(deadline=time.monotonic() - 1.0)
    found = cheapest(problem.table, problem.points, Costs(1.0, 0.0, step=1.0), progress=late)
    assert found.columns is not None
    assert not found.proved
    assert problem.table.full(found.columns).any(axis=0)[problem.points].all()


@pytest.mark.parametrize("seed", range(6))
def test_a_known_cover_is_never_made_worse(seed: int) -> None:
    problem, costs = small_problem(seed), COSTS["passes and bits"]
    first = cheapest(problem.table, problem.points, COSTS["passes"])
    assert first.columns is not None
    again = cheapest(problem.table, problem.points, costs, known=first.columns)
    assert again.cost <= cost_of(problem.table, first.columns, costs)
    assert again.proved


@pytest.mark.parametrize("seed", range(6))
def test_the_bits_of_a_cover_are_enough_for_one_as_cheap(seed: int) -> None:
    problem, costs = small_problem(seed), COSTS["passes"]
    found = cheapest(problem.table, problem.points, costs)
    assert found.columns is not None
    same = with_these_bits(problem.table, problem.points, found.columns, costs)
    assert same.columns is not None
    assert same.cost == found.cost
    bits = problem.table.bits[problem.table.tools]
    assert set(bits[same.columns].tolist()) <= set(bits[found.columns].tolist())


def test_bounds_on_passes_and_bits_are_kept() -> None:
    problem = small_problem(11)
    free = cheapest(problem.table, problem.points, Costs(0.0, 1.0, step=1.0))
    assert free.columns is not None
    tight = Costs(1.0, 0.0, step=1.0, most_bits=int(free.cost))
    found = cheapest(problem.table, problem.points, tight)
    assert found.columns is not None
    assert len(np.unique(problem.table.bits[problem.table.tools[found.columns]])) <= free.cost
    none = cheapest(problem.table, problem.points, Costs(1.0, 0.0, step=1.0, most_passes=1))
    assert (none.columns, none.bound) == (None, np.inf)

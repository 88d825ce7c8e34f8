"""Covers with very few bits, against looking at everything and against the solver."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest

from profilestack.finding.cover import some_of, with_these_bits
from profilestack.finding.few_bits import _apart, _packed_columns, _reaching_sets, with_few_bits
from profilestack.finding.problem import Problem
from profilestack.finding.solver import Costs, cost_of
from profilestack.progress import SILENT, Progress
from tests.exhaustive import cheapest_by_hand, coarse_problem, some_bits
from tests.planted import drawer, planted

MOST = 16
BITS = Costs(0.0, 1.0, step=1.0, most_passes=MOST)


def small_problem(seed: int, every: float = 1.0) -> Problem:
    chance = random.Random(seed)
    wanted = planted(seed, chance.randint(2, 4))
    bits = some_bits(chance, drawer(), chance.randint(2, 5))
    return coarse_problem(wanted.stack, bits, 0.3, 0.1, every=every)


@pytest.mark.parametrize("seed", range(20))
def test_as_few_bits_as_any_cover_has(seed: int) -> None:
    problem = small_problem(seed)
    found, least = with_few_bits(problem.table, problem.points, BITS, SILENT)
    by_hand = cheapest_by_hand(problem.table, problem.points, 0.0, 1.0, MOST)
    if by_hand is None:
        assert found is None
        return
    assert least <= by_hand
    if by_hand <= 3:
        assert found is not None
        assert found.columns is not None
        assert found.cost == found.bound == by_hand
        assert cost_of(problem.table, found.columns, BITS) == by_hand
        assert len(found.columns) <= MOST
        assert problem.table.full(found.columns).any(axis=0)[problem.points].all()


@pytest.mark.parametrize("seed", range(12))
def test_points_apart_are_no_more_than_the_passes_needed(seed: int) -> None:
    problem = small_problem(seed, every=0.4)
    table, few = problem.table, some_of(problem.points, 160)
    for bit in np.unique(table.bits[table.tools]).tolist():
        columns = np.flatnonzero(table.bits[table.tools] == bit)
        reached = few[table.full(columns).any(axis=0)[few]]
        if len(reached) == 0:
            continue
        passes = with_these_bits(table, reached, columns, Costs(1.0, 0.0, step=1.0))
        packed = _packed_columns(table, bit, reached)
        rows = np.unpackbits(packed, axis=1, count=len(reached)).astype(np.float32)
        apart = _apart(rows.T @ rows > 0.5)
        assert 1 <= apart <= passes.cost


def test_sets_that_reach_everything() -> None:
    reach = np.array([[1, 1, 0, 0], [0, 0, 1, 1], [0, 1, 1, 0], [1, 0, 0, 1]], dtype=bool)
    assert _reaching_sets(reach, 1).tolist() == []
    assert _reaching_sets(reach, 2).tolist() == [[0, 1], [2, 3]]
    assert _reaching_sets(reach, 3).tolist() == [[0, 1, 2], [0, 1, 3], [0, 2, 3], [1, 2, 3]]


def test_stopped_it_has_no_cover() -> None:
    problem = small_problem(3)
    stopped = Progress(is_stopped=lambda: True)
    assert with_few_bits(problem.table, problem.points, BITS, stopped)[0] is None


@pytest.mark.parametrize("looks", [0, 1, 5, 20, 60])
def test_stopped_on_the_way_it_looks_no_further_and_claims_no_more(looks: int) -> None:
    problem = small_problem(3)
    whole, least = with_few_bits(problem.table, problem.points, BITS, SILENT)
    seen = itertools.count()
    stopped = Progress(is_stopped=lambda: next(seen) >= looks)
    found, proved = with_few_bits(problem.table, problem.points, BITS, stopped)
    assert proved <= least
    assert found is None or (whole is not None and found.cost == whole.cost)
    assert next(seen) <= looks + 10

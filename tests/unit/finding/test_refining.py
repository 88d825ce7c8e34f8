"""Problems made from a problem, against those made from the beginning."""

from __future__ import annotations

import numpy as np
import pytest

from profilestack.errors import Cancelled
from profilestack.finding.cover import cheapest
from profilestack.finding.problem import problem_of
from profilestack.finding.refining import at_leftover, looked_at_closely, with_bits
from profilestack.finding.solver import Costs
from profilestack.progress import Progress
from tests.finding import request
from tests.planted import drawer, planted

SEEDS = (3, 11, 20)


@pytest.mark.parametrize("seed", SEEDS)
def test_at_half_the_leftover_it_is_the_problem_asked_for_that(seed: int) -> None:
    stack = planted(seed, 3).stack
    wide = problem_of(request(stack, drawer(), 0.2))
    finer = at_leftover(wide, 0.1)
    anew = problem_of(request(stack, drawer(), 0.1))
    assert finer.aim.leftover == anew.aim.leftover
    assert finer.places == pytest.approx(anew.places)
    assert finer.points.tolist() == anew.points.tolist()
    assert finer.waste.symmetric_difference(anew.waste).area < 1e-9
    costs = Costs(1.0, 0.0, step=1.0)
    fewest = [cheapest(each.table, each.points, costs).cost for each in (finer, anew)]
    assert fewest[0] == fewest[1]


@pytest.mark.parametrize("seed", SEEDS)
def test_closer_points_have_the_former_ones_among_them(seed: int) -> None:
    stack = planted(seed, 3).stack
    problem = problem_of(request(stack, drawer(), 0.1))
    close = looked_at_closely(problem)
    assert close.points[: len(problem.points)].tolist() == problem.points.tolist()
    assert np.array_equal(close.places[problem.points], problem.places[problem.points])
    anew = problem_of(request(stack, drawer(), 0.1), spacing=0.125)
    assert len(close.points) == len(anew.points)
    # the same places, whatever their order
    mine = np.round(close.places[close.points], 6)
    theirs = np.round(anew.places[anew.points], 6)
    assert np.array_equal(mine[np.lexsort(mine.T)], theirs[np.lexsort(theirs.T)])


def test_the_problem_over_some_bits_has_their_columns_alone() -> None:
    problem = problem_of(request(planted(11, 3).stack, drawer(), 0.1))
    kept = np.unique(problem.table.bits)[::3]
    part = with_bits(problem, kept)
    own = np.isin(problem.table.bits[problem.table.tools], kept)
    assert np.array_equal(part.table.packed, problem.table.packed[own])
    columns = np.arange(0, len(part.table.packed), 97)
    assert part.passes(columns) == problem.passes(np.flatnonzero(own)[columns])


def test_stopped_it_is_no_other_problem() -> None:
    wide = problem_of(request(planted(3, 3).stack, drawer(), 0.2))
    with pytest.raises(Cancelled):
        at_leftover(wide, 0.1, Progress(is_stopped=lambda: True))

"""Covers that the engine accepts.

The cover promises only at its points. The engine cuts it; where a ridge stands too high between
two points, the place is added to them, until none does.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import cut_stack
from profilestack.finding.assembly import Assembled, assemble, is_worse
from profilestack.finding.between import place_below
from profilestack.finding.columns import Indices
from profilestack.finding.cover import cheapest, with_these_bits
from profilestack.finding.joints import tidied
from profilestack.finding.problem import CHORD, Problem
from profilestack.finding.refining import looked_at_closely, with_bits
from profilestack.finding.solver import Costs, Cover
from profilestack.progress import Progress
from profilestack.stack import FACE, Pass, Setup

RIDGE = 1.25
"""Ridges between samples stand up to so many leftovers high."""

REPAIRS = 14
"""So often points are added where the engine finds a ridge between them."""

ADDED = 40
"""So many of the newest points are looked at first."""

PATIENCE = 1.0
"""Seconds for solving again with other bits when the same ones no longer do."""


@dataclass(slots=True)
class Search:
    """A problem that grows by the points at which its covers were found wanting."""

    problem: Problem
    costs: Costs
    progress: Progress
    insists: bool = False
    """Whether a cover that costs more than before is looked for among all bits again."""

    def accepted(self, cover: Cover) -> tuple[Cover, Assembled] | None:
        """The cover, mended until the engine accepts it, or the last one that it did not quite.

        The bound stays true: fewer points only made the problem easier.
        """
        last = None
        cover = before = self._looked_at_closely(cover)
        for trial in range(REPAIRS):
            if cover.columns is None or len(cover.columns) == 0:
                return last or self._as_it_is(before)
            before = cover
            finishing = self.problem.passes(cover.columns)
            # ridges between two passes show without any relief, and that is much quicker
            if trial < REPAIRS // 2:
                quick = _quick_comparison(self.problem, finishing)
                if self._grown(quick, RIDGE):
                    cover = self._mended(cover)
                    continue
            assembled = _assembled(self.problem, finishing)
            last = cover, assembled
            if not self._grown(assembled.comparison, np.inf):
                return self._tidied(cover, assembled)
            cover = self._mended(cover)
        return last

    def _as_it_is(self, cover: Cover) -> tuple[Cover, Assembled] | None:
        """A cover that could not be mended in time: its ridges are told with it."""
        if cover.columns is None or len(cover.columns) == 0:
            return None
        return cover, _assembled(self.problem, self.problem.passes(cover.columns))

    def _tidied(self, cover: Cover, assembled: Assembled) -> tuple[Cover, Assembled]:
        """The cover with fewer joints on smooth curves, if the engine accepts that too."""
        better = tidied(self.problem, cover, self.costs, self.progress)
        if better.columns is None or better is cover:
            return cover, assembled
        finishing = self.problem.passes(better.columns)
        if len(_wanting(_quick_comparison(self.problem, finishing), self.problem, RIDGE)[0]):
            return cover, assembled
        again = _assembled(self.problem, finishing)
        if len(_wanting(again.comparison, self.problem, np.inf)[0]) or is_worse(again, assembled):
            return cover, assembled
        return better, again

    def _looked_at_closely(self, cover: Cover) -> Cover:
        """A cover by the same bits of points twice as dense, if it is not to cost no more.

        On a smooth curve ridges stand between the points of the first look; with a few bits alone
        there is time for many points.
        """
        if cover.columns is None or len(cover.columns) == 0 or self.progress.is_stopped():
            return cover
        table = self.problem.table
        used = np.unique(table.bits[table.tools[cover.columns]])
        dense = looked_at_closely(with_bits(self.problem, used))
        limit = self.progress.within(PATIENCE)
        index = np.arange(len(dense.table.packed))
        close = with_these_bits(
            dense.table, dense.points, index, self.costs, limit, first=cover.points
        )
        dearer = 0.0 if self.insists else 0.2 * cover.cost
        if close.columns is None or close.cost > cover.cost + dearer + 1e-9:
            return cover
        self.problem = dense
        return replace(close, bound=cover.bound)

    def _mended(self, cover: Cover) -> Cover:
        """A cover of all points, with the same bits if that costs no more."""
        table, points, bound = self.problem.table, self.problem.points, cover.bound
        assert cover.columns is not None, "only covers are mended"
        limit = self.progress.within(PATIENCE)
        first = None if cover.points is None else np.union1d(cover.points, points[-ADDED:])
        same = with_these_bits(table, points, cover.columns, self.costs, limit, first=first)
        if same.columns is not None and (not self.insists or same.cost <= cover.cost + 1e-9):
            return replace(same, bound=bound)
        known = same.columns
        other = cheapest(table, points, self.costs, known, limit, before=cover)
        if other.columns is None:
            other = self._relaxed(cover, first)
        return other if other.columns is not None else replace(same, bound=bound)

    def _relaxed(self, cover: Cover, first: Indices | None) -> Cover:
        """A cover by the same bits, or any, in as many passes as the user allows.

        The finder's own limits only keep answers handsome; to keep the tolerance comes first.
        """
        request = self.problem.request
        costs = replace(self.costs, most_passes=request.most_passes, most_bits=request.most_bits)
        if costs == self.costs or cover.columns is None:
            return Cover(None, np.inf, cover.bound)
        table, points = self.problem.table, self.problem.points
        limit = self.progress.within(PATIENCE)
        found = with_these_bits(table, points, cover.columns, costs, limit, first=first)
        if found.columns is None:
            found = cheapest(table, points, costs, None, limit)
        if found.columns is not None:
            self.costs = costs
        return replace(found, bound=min(cover.bound, found.cost))

    def _grown(self, comparison: Comparison, highest: float) -> bool:
        """Whether the problem had to grow by places where stock stands too high.

        Before relief, stock more than ``highest`` leftovers high is not between two samples: it
        stands above the edges of the passes, and is left to relief.
        """
        if self.progress.is_stopped():
            return False
        places, touched = _wanting(comparison, self.problem, highest)
        if len(places) == 0:
            return False
        before = len(self.problem.points)
        self.problem = self.problem.with_points(places, touched)
        return len(self.problem.points) > before


def _assembled(problem: Problem, finishing: list[Pass]) -> Assembled:
    request = problem.request
    tolerance = replace(request.stack.tolerance, leftover=request.leftover, overcut=request.overcut)
    stack = replace(request.stack, passes=(), setups=_setups(problem), tolerance=tolerance)
    bits = {bit.id: bit for bit in problem.bits}
    resolution = request.resolution
    return assemble(stack, finishing, bits, problem.aim, problem.waste, resolution, request.shop)


def _setups(problem: Problem) -> tuple[Setup, ...]:
    """All setups that passes may name; "face" needs no saying."""
    return tuple(bench.setup for bench in problem.benches if bench.setup.name != FACE.name)


def _quick_comparison(problem: Problem, finishing: list[Pass]) -> Comparison:
    stack = replace(problem.request.stack, setups=_setups(problem), passes=tuple(finishing))
    comparison = compare(cut_stack(stack, {bit.id: bit for bit in problem.bits}, CHORD))
    assert comparison is not None, "the finder has a target"
    return comparison


def _wanting(
    comparison: Comparison, problem: Problem, highest: float
) -> tuple[np.ndarray, np.ndarray]:
    """Places where stock stands too high, and which of them are on the target itself."""
    allowed = problem.aim.leftover + 1e-6
    most = problem.aim.leftover * highest
    ridges = [ridge for ridge in comparison.ridges if allowed < ridge.height <= most]
    crests = [place_below(ridge, comparison, problem.aim.leftover) for ridge in ridges]
    above = comparison.deviation
    high = np.flatnonzero((above > allowed) & (above <= most))
    beside = np.concatenate((above[:1], above, above[-1:]))
    peaks = high[(above[high] >= beside[high]) & (above[high] >= beside[high + 2])]
    reach = [tuple(comparison.samples[k]) for k in peaks]
    apart = comparison.unreached_at
    if not reach and apart is not None and allowed < comparison.unreached_max <= most:
        reach = [apart]
    places = [*crests, *reach]
    touched = np.r_[np.zeros(len(crests), dtype=bool), np.ones(len(reach), dtype=bool)]
    return np.array(places).reshape(-1, 2), touched

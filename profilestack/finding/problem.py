"""The discretised problem of one request: candidates, points, and who reaches whom."""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut, largest_radius
from profilestack.cutting.wanted import wanted_in
from profilestack.errors import Cancelled, InputError
from profilestack.errors import Problem as Mistake
from profilestack.finding.bench import SPACING, Aim, Bench, aim_at, lay, waste_of
from profilestack.finding.candidates import candidates_of
from profilestack.finding.columns import Indices, Table, table_of
from profilestack.finding.coverage import Coverage, cover, reach
from profilestack.finding.request import FindRequest
from profilestack.finding.rims import rims_of
from profilestack.geometry.path import Points
from profilestack.geometry.region import polygon_from_points
from profilestack.progress import SILENT, Progress
from profilestack.stack import CurvedRun, Pass, Setup, Stack, TurnedRun
from profilestack.stack.run import Run

WORKERS = 2
CHORD = 0.001

DUST = 2e-6
"""Distances of points and of the engine may differ by rounding so much [mm]."""

ON_BED = 1.0
"""Wood that comes so near to the bed lies on it [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """All that a cover is looked for in.

    ``points`` are the rows that count, as indices into the table; ``places`` (n, 2) [mm] are
    where they all lie in the section plane.
    """

    request: FindRequest
    aim: Aim
    waste: BaseGeometry
    benches: tuple[Bench, ...]
    bits: tuple[Bit, ...]
    table: Table
    points: Indices
    places: Points

    def passes(self, columns: Indices) -> list[Pass]:
        """The finishing passes that columns stand for."""
        found = []
        for column in columns.tolist():
            tool = int(self.table.tools[column])
            candidates = self.table.coverages[tool].candidates
            index = column - int(self.table.firsts[tool])
            bench = candidates.bench
            offset, depth = candidates.axes[index], bench.top - candidates.tips[index]
            found.append(
                Pass(
                    candidates.bit.id,
                    _whole(offset, self.request.resolution),
                    _whole(depth, self.request.resolution),
                    bench.setup.name,
                )
            )
        return found

    def with_points(self, places: Points, touched: np.ndarray) -> Problem:
        """The same problem, asked to reach more points (n, 2) [mm] as well.

        Points that no candidate reaches are left out.
        """
        rows = []
        laid = {id(bench): bench.lie.to_bench(places) for bench in self.benches}
        rims = {
            id(bench): rims_of(laid[id(bench)], touched, bench.stock, bench.leftover)
            for bench in self.benches
        }
        for coverage in self.table.coverages:
            candidates = coverage.candidates
            key = id(candidates.bench)
            rows.append(reach(candidates, laid[key], touched, rims[key]))
        new = np.packbits(np.concatenate(rows), axis=1)
        begin = self.table.packed.shape[1] * 8
        table = replace(
            self.table,
            packed=np.concatenate((self.table.packed, new), axis=1),
            count=begin + new.shape[1] * 8,
        )
        padded = np.full((table.count, 2), np.nan)
        padded[: len(self.places)] = self.places
        padded[begin : begin + len(places)] = places
        added = np.arange(begin, begin + len(places))
        added = added[table.reached[added]]
        points = np.concatenate((self.points, added))
        return replace(self, table=table, points=points, places=padded)


def problem_of(
    request: FindRequest,
    bits: Sequence[Bit] | None = None,
    leftover: float | None = None,
    spacing: float = SPACING,
    progress: Progress = SILENT,
    threads: int = WORKERS,
    executor: Executor | None = None,
) -> Problem:
    """Build the problem, over other ``bits`` or at another ``leftover`` [mm] if given.

    ``spacing`` is the distance between points along the target [mm].

    The work is shared between ``threads``; an ``executor`` may share it out further.

    Raises:
        InputError: a target that does not fit its blank, or that no passes can make.
        Cancelled: the progress was stopped.
    """
    stack = request.stack
    assert stack.target is not None, "a request has a target"
    wanted = wanted_in(stack.blank, stack.target, CHORD)
    # a hair less than is allowed, so that no rounding breaks the tolerance
    allowed = (request.leftover if leftover is None else leftover) - DUST
    aim = aim_at(wanted, allowed, request.overcut, spacing)
    benches = tuple(lay(aim, stack.blank, setup, request.resolution) for setup in request.setups)
    if problem := _unsound(aim, benches, stack):
        raise InputError(problem)
    offered = tuple(bit for bit in (bits or request.bits) if _is_possible(bit, request))
    tasks = [(bit, bench) for bench in range(len(benches)) for bit in range(len(offered))]

    def work(task: tuple[int, int]) -> Coverage:
        if progress.is_stopped():
            raise Cancelled
        bit, bench = offered[task[0]], benches[task[1]]
        low, high = axis_limits(bit, bench.setup, stack.run, bench.lie.width)
        return cover(candidates_of(bit, bench, request.resolution, low, high))

    if executor is not None:
        coverages = list(executor.map(work, tasks))
    elif threads == 1:
        coverages = [work(task) for task in tasks]
    else:
        with ThreadPoolExecutor(threads) as pool:
            coverages = list(pool.map(work, tasks))
    progress.report(0.2, f"{sum(len(c.rows) for c in coverages):,} candidate passes")
    count = len(benches[0].points)
    table = table_of(coverages, [t[0] for t in tasks], [t[1] for t in tasks], count)
    outline = polygon_from_points(stack.blank.outline().flatten(CHORD))
    places = benches[0].lie.to_section(benches[0].points)
    points = np.flatnonzero(table.reached)
    return Problem(request, aim, waste_of(aim, outline), benches, offered, table, points, places)


def _unsound(aim: Aim, benches: Sequence[Bench], stack: Stack) -> Mistake | None:
    """What is wrong with a target that no passes can make."""
    if len(benches[0].points) == 0 or aim.touched == 0:
        text = "is the outline of the blank: nothing has to be cut"
        return Mistake("target", text, "a path that leads through the blank")
    assert stack.target is not None, "a request has a target"
    low = min(
        bench.lie.to_bench(shapely.get_coordinates(aim.wanted.region))[:, 1].min()
        for bench in benches
    )
    if not stack.target.closed and low > ON_BED:
        return Mistake(
            "target",
            f"leaves wood that ends {low:.3f} mm above the bed, with nothing under it",
            "the wood on the path's right hand (turn the path round), or a setup with that side up",
        )
    return None


def _is_possible(bit: Bit, request: FindRequest) -> bool:
    return not (isinstance(request.stack.run, TurnedRun) and has_undercut(bit))


def axis_limits(bit: Bit, setup: Setup, run: Run, width: float) -> tuple[float, float]:
    """Between which offsets the axis has to stay [mm]: a curve must be wider than the bit.

    ``width`` [mm] is that of the blank's box in the setup.
    """
    if not isinstance(run, CurvedRun):
        return -np.inf, np.inf
    nearest = largest_radius(bit) - run.radius + 0.01
    if setup.angle % 360.0 == 0.0:
        return nearest, np.inf
    return -np.inf, width - nearest


def _whole(length: float, resolution: float) -> float:
    """A length in whole resolutions, without the dust of the division [mm]."""
    return round(round(length / resolution) * resolution, 9)

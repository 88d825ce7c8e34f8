"""Problems made from a problem: the candidates stay, what they are asked for changes.

Where a bit may be let down depends on the overcut alone, so neither closer points nor another
leftover asks for the bits to be dropped again.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.spatial import cKDTree

from profilestack.errors import Cancelled
from profilestack.finding.bench import SPACING, aim_again, lay_again, points_in, waste_of
from profilestack.finding.columns import Indices, only, table_of
from profilestack.finding.coverage import cover
from profilestack.finding.problem import DUST, Problem
from profilestack.geometry.region import polygon_from_points
from profilestack.progress import SILENT, Progress

SAME = 1e-6
"""Points nearer to each other than this are one [mm]."""


def with_bits(problem: Problem, bits: Indices) -> Problem:
    """The problem over some of its bits, by their places, with the points these reach."""
    table = problem.table
    part = only(table, np.flatnonzero(np.isin(table.bits, bits)))
    points = problem.points[part.reached[problem.points]]
    return replace(problem, table=part, points=points)


def looked_at_closely(problem: Problem) -> Problem:
    """The problem with points twice as dense."""
    aim = aim_again(problem.aim, problem.aim.leftover, SPACING / 2.0)
    outline = polygon_from_points(problem.request.stack.blank.outline().flatten(1e-3))
    places = points_in(aim, outline)
    known = problem.places[~np.isnan(problem.places[:, 0])]
    far, _ = cKDTree(known).query(places)
    new = far > SAME
    touched = np.arange(len(places)) < aim.touched
    return problem.with_points(places[new], touched[new])


def at_leftover(problem: Problem, leftover: float, progress: Progress = SILENT) -> Problem:
    """The problem at a smaller ``leftover`` [mm].

    Raises:
        Cancelled: the progress was stopped.
    """
    # a hair less than is allowed, so that no rounding breaks the tolerance
    aim = aim_again(problem.aim, leftover - DUST)
    outline = polygon_from_points(problem.request.stack.blank.outline().flatten(1e-3))
    benches = {id(bench): lay_again(aim, bench, outline) for bench in problem.benches}
    coverages = []
    for each in problem.table.coverages:
        if progress.is_stopped():
            raise Cancelled
        candidates = replace(each.candidates, bench=benches[id(each.candidates.bench)])
        coverages.append(cover(candidates))
    first = benches[id(problem.benches[0])]
    bits, setups = problem.table.bits.tolist(), problem.table.setups.tolist()
    table = table_of(coverages, bits, setups, len(first.points))
    return replace(
        problem,
        aim=aim,
        waste=waste_of(aim, outline),
        benches=tuple(benches[id(bench)] for bench in problem.benches),
        table=table,
        points=np.flatnonzero(table.reached),
        places=first.lie.to_section(first.points),
    )

"""Why some of a target stays."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut
from profilestack.finding.bench import Bench
from profilestack.finding.candidates import candidates_of
from profilestack.finding.columns import Indices
from profilestack.finding.coverage import distances, reach
from profilestack.finding.problem import Problem
from profilestack.finding.tool import STEP, tool_of
from profilestack.geometry.path import Point, Points
from profilestack.progress import SILENT, Progress

SLIM = 25
"""So many bits are looked at to say why a place stays."""

GAP = 0.6
"""Unreached points nearer than this along the target are one stretch [mm]."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of target that no offered bit reaches: from and to [mm], in the section plane.

    ``leftover`` is the least distance from its worst point to any cut [mm].
    """

    begin: Point
    end: Point
    leftover: float
    why: str


def unreached_stretches(problem: Problem, progress: Progress = SILENT) -> tuple[Stretch, ...]:
    """The stretches of the target that none of the offered bits reaches within the leftover.

    Stopped, it gives those that it had looked at.
    """
    found: list[Stretch] = []
    for rows in stretch_rows(problem):
        places = problem.places[rows]
        far = _least_distances(problem, rows, progress)
        if far is None:
            break
        worst = rows[int(np.argmax(far))]
        why = _reason(problem, worst)
        begin, end = ((float(p[0]), float(p[1])) for p in (places[0], places[-1]))
        found.append(Stretch(begin, end, float(far.max()), why))
    return tuple(found)


def stretch_rows(problem: Problem) -> list[Indices]:
    """Unreached target points, in runs along the target."""
    touched = problem.benches[0].touched
    missed = np.flatnonzero(~problem.table.reached[:touched])
    if len(missed) == 0:
        return []
    _, at = problem.aim.wanted.line.nearest(problem.places[missed])
    order = np.argsort(at, kind="stable")
    missed, at = missed[order], at[order]
    return list(np.split(missed, np.flatnonzero(np.diff(at) > GAP) + 1))


def _least_distances(problem: Problem, rows: Indices, progress: Progress) -> np.ndarray | None:
    """How near any cut comes to each row [mm]; None when stopped."""
    best = np.full(len(rows), np.inf)
    for coverage in problem.table.coverages:
        if progress.is_stopped():
            return None
        candidates = coverage.candidates
        np.minimum(best, distances(candidates, candidates.bench, rows), out=best)
    blank = problem.request.stack.blank.outline().flatten(0.01)
    size = float(np.ptp(blank, axis=0).max())
    return np.where(np.isfinite(best), best, size)


def _reason(problem: Problem, row: int) -> str:
    """Why the point stays, in the words of the shop."""
    place = problem.places[row][None, :]
    if is_hidden(problem, row):
        return "wood hangs over it in every setup allowed: allow another setup, or undercut bits"
    # the slimmest bits reach where others do not: looking at all takes long
    slimmest = sorted(problem.bits, key=_width_near_tip)[:SLIM]
    for bench in problem.benches:
        on_bench = bench.lie.to_bench(place)
        for bit in slimmest:
            if not has_undercut(bit) and _reaches(_endless(bit), bench, on_bench, problem):
                return "too deep for the edges, shanks and nut of the bits at hand"
    return "a corner or hollow tighter than any bit at hand"


def is_hidden(problem: Problem, row: int) -> bool:
    """Whether wood hangs over the point in every setup."""
    place = problem.places[row][None, :]
    return all(_is_hidden(bench, place) for bench in problem.benches)


def _is_hidden(bench: Bench, place: Points) -> bool:
    x, z = bench.lie.to_bench(place)[0]
    beside = np.clip(x + np.array([-0.05, 0.0, 0.05]), 0.01, bench.lie.width - 0.01)
    around = bench.wood.over(beside)
    return bool(around.min() > z + 4.0 * bench.leftover + 0.5)


def _width_near_tip(bit: Bit) -> float:
    """How wide the bit is half a millimetre above its tip [mm]."""
    radii = tool_of(bit).radii
    return float(radii[min(len(radii) - 1, round(0.5 / STEP))])


def _endless(bit: Bit) -> Bit:
    """The bit as if it had a long edge on a thin shank and no pilot."""
    thin = min(bit.shank, 0.5 * bit.shape.size)
    return replace(
        bit, cutting_length=300.0, length=900.0, shank=thin, measured=None,
        pilot_diameter=None, pilot_length=None,
    )  # fmt: skip


def _reaches(bit: Bit, bench: Bench, points: Points, problem: Problem) -> bool:
    resolution = problem.request.resolution
    candidates = candidates_of(bit, bench, resolution, -np.inf, np.inf)
    return bool(reach(candidates, points, np.ones(len(points), dtype=bool)).any())

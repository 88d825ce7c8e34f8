"""Why some of a target stays, and which bits would help."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut
from profilestack.finding.bench import Bench
from profilestack.finding.candidates import candidates_of
from profilestack.finding.columns import Indices
from profilestack.finding.coverage import distances, reach
from profilestack.finding.problem import Problem
from profilestack.geometry.path import Point, Points

GAP = 0.6
"""Unreached points nearer than this along the target are one stretch [mm]."""

ENOUGH = 3
"""So many bits to buy are named for a target."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of target that no offered bit reaches: from and to [mm], in the section plane.

    ``leftover`` is the least distance from its worst point to any cut [mm].
    """

    begin: Point
    end: Point
    leftover: float
    why: str


@dataclass(frozen=True, slots=True)
class Purchase:
    """A bit that is not offered and would help, and what it would gain, in words."""

    bit: Bit
    gain: str


def unreached_stretches(problem: Problem) -> tuple[Stretch, ...]:
    """The stretches of the target that none of the offered bits reaches within the leftover."""
    found = []
    for rows in _stretches(problem):
        places = problem.places[rows]
        far = _least_distances(problem, rows)
        worst = rows[int(np.argmax(far))]
        why = _reason(problem, worst)
        begin, end = ((float(p[0]), float(p[1])) for p in (places[0], places[-1]))
        found.append(Stretch(begin, end, float(far.max()), why))
    return tuple(found)


def _stretches(problem: Problem) -> list[Indices]:
    """Unreached target points, in runs along the target."""
    touched = problem.benches[0].touched
    missed = np.flatnonzero(~problem.table.reached[:touched])
    if len(missed) == 0:
        return []
    _, at = problem.aim.wanted.line.nearest(problem.places[missed])
    order = np.argsort(at, kind="stable")
    missed, at = missed[order], at[order]
    return list(np.split(missed, np.flatnonzero(np.diff(at) > GAP) + 1))


def _least_distances(problem: Problem, rows: Indices) -> np.ndarray:
    best = np.full(len(rows), np.inf)
    for coverage in problem.table.coverages:
        candidates = coverage.candidates
        np.minimum(best, distances(candidates, candidates.bench, rows), out=best)
    blank = problem.request.stack.blank.outline().flatten(0.01)
    size = float(np.ptp(blank, axis=0).max())
    return np.where(np.isfinite(best), best, size)


def _reason(problem: Problem, row: int) -> str:
    """Why the point stays, in the words of the shop."""
    place = problem.places[row][None, :]
    if all(_is_hidden(bench, place) for bench in problem.benches):
        return "wood hangs over it in every setup allowed: allow another setup, or undercut bits"
    for bench in problem.benches:
        on_bench = bench.lie.to_bench(place)
        for bit in problem.bits:
            if not has_undercut(bit) and _reaches(_endless(bit), bench, on_bench, problem):
                return "too deep for the edges, shanks and nut of the bits at hand"
    return "a corner or hollow tighter than any bit at hand"


def _is_hidden(bench: Bench, place: Points) -> bool:
    x, z = bench.lie.to_bench(place)[0]
    around = bench.wood.over(x + np.array([-0.05, 0.0, 0.05]))
    return bool(around.min() > z + 4.0 * bench.leftover + 0.5)


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


def worth_buying(problem: Problem, library: Sequence[Bit]) -> tuple[Purchase, ...]:
    """Bits of a library that reach what the offered ones do not, the most helpful first."""
    stretches = _stretches(problem)
    if not stretches:
        return ()
    rows = np.concatenate(stretches)
    owner = np.repeat(np.arange(len(stretches)), [len(stretch) for stretch in stretches])
    owned = {bit.id for bit in problem.bits}
    gains: list[tuple[int, float, Bit]] = []
    for bit in library:
        if bit.id in owned:
            continue
        reached = np.zeros(len(rows), dtype=bool)
        for bench in problem.benches:
            on_bench = bench.lie.to_bench(problem.places[rows])
            candidates = candidates_of(bit, bench, problem.request.resolution, -np.inf, np.inf)
            if len(candidates):
                touched = np.ones(len(rows), dtype=bool)
                reached |= reach(candidates, on_bench, touched).any(axis=0)
        if reached.any():
            whole = sum(reached[owner == k].all() for k in range(len(stretches)))
            gains.append((int(whole), float(reached.mean()), bit))
    gains.sort(key=lambda gain: (-gain[0], -gain[1], gain[2].length))
    return tuple(
        Purchase(bit, _gain(whole, share, len(stretches))) for whole, share, bit in gains[:ENOUGH]
    )


def _gain(whole: int, share: float, stretches: int) -> str:
    if whole == stretches:
        return "reaches all that stays" if stretches > 1 else "reaches the place that stays"
    if whole:
        return f"reaches {whole} of the {stretches} places that stay"
    return f"reaches {100.0 * share:.0f} % of what stays"

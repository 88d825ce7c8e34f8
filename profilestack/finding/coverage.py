"""Which candidate reaches which point."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from profilestack.cutting.nearest import Numbers
from profilestack.finding.bench import Bench
from profilestack.finding.candidates import Candidates
from profilestack.finding.rims import Rims, rims_of
from profilestack.finding.tool import STEP, tool_of
from profilestack.geometry.path import Points

Packed = npt.NDArray[np.uint8]
Booleans = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Coverage:
    """Candidates by the points they reach: ``rows`` is (n candidates, points / 8), packed bits."""

    candidates: Candidates
    rows: Packed


def cover(candidates: Candidates) -> Coverage:
    """Which of its bench's points each candidate reaches; those that reach none are left out."""
    bench = candidates.bench
    touched = np.arange(len(bench.points)) < bench.touched
    table = reach(candidates, bench.points, touched, bench.rims)
    useful = table.any(axis=1)
    kept = Candidates(candidates.bit, bench, candidates.axes[useful], candidates.tips[useful])
    return Coverage(kept, np.packbits(table[useful], axis=1))


def reach(
    candidates: Candidates, points: Points, touched: Booleans, rims: Rims | None = None
) -> Booleans:
    """Which points, shape (m, 2) on the bench [mm], each candidate reaches: shape (n, m).

    A ``touched`` point is reached when stock within the leftover of it is cut away, any other
    when it is itself cut away. Both only up to the end of the edge. ``rims`` are those of these
    points, where they are known already.
    """
    bench, tool = candidates.bench, tool_of(candidates.bit)
    rims = rims or rims_of(points, touched, bench.stock, bench.leftover)
    lift, grown = _lift(bench.leftover), tool.grown(bench.leftover)

    def near(off: Numbers, above: Numbers) -> Booleans:
        return np.asarray(off <= _radius_at(grown, above, lift) + 1e-9)

    reached = np.zeros((len(candidates), len(points)), dtype=bool)
    inner, outside = np.flatnonzero(touched & ~rims.close), np.flatnonzero(~touched)
    reached[:, inner] = _test(candidates, points[inner], tool.radius + bench.leftover, near)
    reached[:, outside] = _test(candidates, points[outside], tool.radius, tool.holds)
    if len(rims.firsts):
        around = _test(candidates, rims.samples, tool.radius, tool.holds)
        reached[:, rims.close] = np.logical_or.reduceat(around, rims.firsts, axis=1)
    return reached


def _test(
    candidates: Candidates,
    points: Points,
    within: float,
    holds: Callable[[Numbers, Numbers], Booleans],
) -> Booleans:
    """Put each candidate and each point ``within`` [mm] beside its axis to a test: (n, m).

    The test is told how far points are off the axis and above the tip [mm].
    """
    order = np.argsort(points[:, 0], kind="stable")
    x, z = points[order, 0], points[order, 1]
    first = np.searchsorted(x, candidates.axes - within)
    counts = np.searchsorted(x, candidates.axes + within) - first
    owner = np.repeat(np.arange(len(counts)), counts)
    point = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts) + first[owner]
    passed = holds(np.abs(x[point] - candidates.axes[owner]), z[point] - candidates.tips[owner])
    table = np.zeros((len(counts), len(x)), dtype=bool)
    table[owner[passed], order[point[passed]]] = True
    return table


def _lift(distance: float) -> float:
    return float(np.floor(distance / STEP)) * STEP


def _radius_at(radii: Numbers, above: Numbers, lift: float = 0.0) -> Numbers:
    """The radius at heights above the tip [mm], the table beginning at -``lift``; -1 beyond it."""
    place = (above + lift) / STEP
    low = np.floor(place).astype(np.intp)
    inside = (place >= -1e-6) & (place <= len(radii) - 1 + 1e-6)
    low = np.clip(low, 0, len(radii) - 2)
    share = np.clip(place - low, 0.0, 1.0)
    return np.where(inside, radii[low] + share * (radii[low + 1] - radii[low]), -1.0)


def distances(candidates: Candidates, bench: Bench, points: npt.NDArray[np.intp]) -> Numbers:
    """Least distance [mm] of each of the bench's points to any of the candidates' cuts."""
    from profilestack.cutting.nearest import polyline
    from profilestack.cutting.stroke import silhouette_points

    best = np.full(len(points), np.inf)
    if len(candidates) == 0:
        return best
    outline = polyline([silhouette_points(candidates.bit, 0.01)])
    tool = tool_of(candidates.bit)
    for row, point in enumerate(points):
        x, z = bench.points[point]
        beside = np.abs(candidates.axes - x)
        for within in (5.0, np.inf):
            near = beside < tool.radius + within
            if not near.any():
                continue
            local = np.column_stack((x - candidates.axes[near], z - candidates.tips[near]))
            inside = np.abs(local[:, 0]) <= _radius_at(tool.radii, local[:, 1])
            far, _ = outline.nearest(local)
            best[row] = 0.0 if inside.any() else float(far.min())
            if best[row] < within:
                break
    return best

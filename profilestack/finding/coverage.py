"""Which candidate reaches which point."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from profilestack.cutting.nearest import Numbers
from profilestack.finding.bench import Bench
from profilestack.finding.candidates import Candidates
from profilestack.finding.tool import STEP, tool_of
from profilestack.geometry.path import Points

Packed = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True, eq=False)
class Coverage:
    """Candidates by the points they reach: ``rows`` is (n candidates, points / 8), packed bits."""

    candidates: Candidates
    rows: Packed


def cover(candidates: Candidates) -> Coverage:
    """Which of its bench's points each candidate reaches; those that reach none are left out."""
    bench = candidates.bench
    touched = np.arange(len(bench.points)) < bench.touched
    table = reach(candidates, bench.points, touched)
    useful = table.any(axis=1)
    kept = Candidates(candidates.bit, bench, candidates.axes[useful], candidates.tips[useful])
    return Coverage(kept, np.packbits(table[useful], axis=1))


def reach(
    candidates: Candidates, points: Points, touched: npt.NDArray[np.bool_]
) -> npt.NDArray[np.bool_]:
    """Which points, shape (m, 2) on the bench [mm], each candidate reaches: shape (n, m).

    A ``touched`` point is reached when stock within the leftover of it is cut away, any other
    when it is itself cut away. Both only up to the end of the edge.
    """
    leftover = candidates.bench.leftover
    tool = tool_of(candidates.bit)
    order = np.argsort(points[:, 0], kind="stable")
    x, z, touched = points[order, 0], points[order, 1], touched[order]
    within = tool.radius + leftover
    first = np.searchsorted(x, candidates.axes - within)
    last = np.searchsorted(x, candidates.axes + within)
    counts = last - first
    owner = np.repeat(np.arange(len(counts)), counts)
    point = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts) + first[owner]
    off = np.abs(x[point] - candidates.axes[owner])
    above = z[point] - candidates.tips[owner]
    cut = tool.holds(off, above)
    near = off <= _radius_at(tool.grown(leftover), above, _lift(leftover)) + 1e-9
    reached = np.where(touched[point], near, cut)
    table = np.zeros((len(counts), len(x)), dtype=bool)
    table[owner[reached], order[point[reached]]] = True
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
        near = np.abs(candidates.axes - x) < tool.radius + 5.0
        if not near.any():
            continue
        local = np.column_stack((x - candidates.axes[near], z - candidates.tips[near]))
        inside = np.abs(local[:, 0]) <= _radius_at(tool.radii, local[:, 1])
        far, _ = outline.nearest(local)
        best[row] = 0.0 if inside.any() else float(far.min())
    return best

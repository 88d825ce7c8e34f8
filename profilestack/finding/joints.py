"""Joints between passes: better on an arris or in a quirk than on a smooth curve.

On a smooth curve a step of a few hundredths is felt (common practice in the trade). Of the covers
that cost the same, one is taken whose passes end on smooth curves as seldom as may be.
"""

from __future__ import annotations

import numpy as np

from profilestack.finding.columns import Indices, undominated
from profilestack.finding.problem import Problem
from profilestack.finding.solver import Costs, Cover, solve_rows
from profilestack.progress import Progress

BESIDE = 0.6
"""A pass that ends so near a corner of the target ends on it [mm]."""

SHARP = 8.0
"""Bends sharper than this are corners [deg]; flattened arcs bend less."""

SECONDS = 0.3


def smooth_joints(problem: Problem, columns: Indices) -> np.ndarray:
    """How often the reach of each column ends on a smooth stretch of the target, shape (n,)."""
    touched = np.arange(problem.benches[0].touched)
    _, places = problem.aim.wanted.line.nearest(problem.places[touched])
    order = np.argsort(places, kind="stable")
    places = places[order]
    reached = problem.table.full(columns)[:, touched[order]]
    middles, gaps = (places[:-1] + places[1:]) / 2.0, np.diff(places)
    corners = _corner_places(problem)
    off = np.abs(middles[:, None] - corners[None, :]).min(axis=1, initial=np.inf)
    smooth = (off > BESIDE) & (gaps < BESIDE)
    return np.asarray(((reached[:, 1:] != reached[:, :-1]) & smooth).sum(axis=1))


def _corner_places(problem: Problem) -> np.ndarray:
    """Lengths along the target at which it has corners, its ends among them [mm]."""
    wanted = problem.aim.wanted
    steps = np.diff(wanted.samples, axis=0)
    angles = np.arctan2(steps[:, 1], steps[:, 0])
    bends = np.abs((np.diff(angles) + np.pi) % (2.0 * np.pi) - np.pi)
    inner = wanted.places[1:-1][bends > np.radians(SHARP)]
    return np.concatenate(([0.0], inner, [wanted.length]))


def tidied(problem: Problem, cover: Cover, costs: Costs, progress: Progress) -> Cover:
    """A cover by the same bits, of no more cost, with fewer joints on smooth curves.

    It is looked for on the points that the cover was proved on, and has to reach all the others;
    where there is none the cover comes back as it is.
    """
    if cover.columns is None or cover.points is None or progress.is_stopped():
        return cover
    table = problem.table
    bits = np.unique(table.bits[table.tools[cover.columns]])
    offered = np.flatnonzero(np.isin(table.bits[table.tools], bits))
    rows = table.rows(cover.points)[offered]
    kept = undominated(rows, table.tools[offered])
    offered, rows = offered[kept], rows[kept]
    prices = smooth_joints(problem, offered)
    upper = cover.cost + costs.step
    limit = progress.within(SECONDS)
    found = solve_rows(table, offered, rows, costs, upper, limit, prices)
    if found.columns is None:
        return cover
    before = smooth_joints(problem, cover.columns).sum()
    reached = np.asarray(table.full(found.columns).any(axis=0))
    if not reached[problem.points].all():
        return cover
    if smooth_joints(problem, found.columns).sum() >= before or found.cost > cover.cost + 1e-9:
        return cover
    return Cover(found.columns, cover.cost, cover.bound, cover.points)

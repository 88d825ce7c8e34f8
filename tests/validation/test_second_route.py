"""The comparison's largest distances once more, by dense points and plain distances.

The engine looks at samples and climbs from them; here everything is sampled densely and measured
by the polygon library's own point-to-line distance.
"""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import Cut, cut_stack
from tests.random_stacks import random_fitted_stack

AGREES = 0.002
"""Largest difference of a distance [mm]: a peak between two samples 0.004 mm apart."""

STEP = 0.004
GRID = 0.25


def along(line: shapely.Geometry, step: float) -> np.ndarray:
    """Points on a line or on rings: all its vertices, and steps of at most ``step`` [mm]."""
    return np.asarray(shapely.get_coordinates(shapely.segmentize(line, step)))


def largest_distance(points: np.ndarray, to: shapely.Geometry) -> float:
    if len(points) == 0:
        return 0.0
    shapely.prepare(to)
    return float(shapely.distance(to, shapely.points(points)).max())


def deepest_inside(region: shapely.Geometry, line: shapely.Geometry) -> float:
    """Largest distance of a region's inside to a line, on a grid and finer ones at its peaks."""
    low_x, low_z, high_x, high_z = region.bounds
    xs, zs = np.arange(low_x, high_x, GRID), np.arange(low_z, high_z, GRID)
    grid = np.stack(np.meshgrid(xs, zs), axis=-1).reshape(-1, 2)
    step, best = GRID, 0.0
    shapely.prepare(region)
    shapely.prepare(line)
    while step > 1e-4:
        inside = grid[shapely.contains_xy(region, grid)]
        if len(inside) == 0:
            return best
        far = shapely.distance(line, shapely.points(inside))
        best = max(best, float(far.max()))
        peaks = inside[far > far.max() - step][:400]
        shifts = np.stack(np.meshgrid(*[np.linspace(-step, step, 5)] * 2), axis=-1).reshape(-1, 2)
        grid = (peaks[:, None, :] + shifts).reshape(-1, 2)
        step /= 2.0
    return best


def farthest(region: shapely.Geometry, line: shapely.Geometry) -> float:
    if region.area < 1e-9:
        return 0.0
    edge = largest_distance(along(shapely.boundary(region), STEP), line)
    return max(edge, deepest_inside(region, line))


def measured(cut: Cut) -> tuple[float, float, float, float]:
    """Leftover's and overcut's maxima, the largest unreached and the largest missing."""
    stack = cut.stack
    assert stack.target is not None
    face = stack.target.path().flatten(cut.chord)
    width = face[-1, 0]
    line = shapely.linestrings(face)
    wanted = shapely.polygons(np.concatenate((face, [(width, 0.0), (0.0, 0.0)])))
    section, blank = cut.section, cut.blank
    removed = shapely.difference(blank, section)
    points = along(line, STEP)
    # the target's points on the blank's outline count 0, those a hair inside it do not
    off_outline = shapely.intersection(line, shapely.buffer(blank, -1e-6, join_style="mitre"))
    inner = along(off_outline, STEP)
    return (
        farthest(shapely.difference(section, wanted), line),
        farthest(shapely.difference(wanted, section), line),
        largest_distance(inner, removed),
        largest_distance(points, section),
    )


def compared(seed: int) -> tuple[Cut, Comparison]:
    stack, bits = random_fitted_stack(seed)
    cut = cut_stack(stack, bits)
    comparison = compare(cut)
    assert comparison is not None
    return cut, comparison


@pytest.mark.parametrize("seed", range(20))
def test_plain_sampling_finds_the_same_distances(seed: int) -> None:
    cut, comparison = compared(seed)
    leftover, overcut, unreached, missing = measured(cut)
    assert comparison.leftover.max == pytest.approx(leftover, abs=AGREES)
    assert comparison.overcut.max == pytest.approx(overcut, abs=AGREES)
    assert comparison.unreached_max == pytest.approx(unreached, abs=AGREES)
    assert comparison.missing_max == pytest.approx(missing, abs=AGREES)


def test_the_random_stacks_leave_and_gouge() -> None:
    both = [compared(seed)[1] for seed in range(20)]
    assert sum(single.leftover.max > 0.3 for single in both) >= 10
    assert sum(single.overcut.max > 0.1 for single in both) >= 10
    assert sum(single.missing_max > 0.05 for single in both) >= 5

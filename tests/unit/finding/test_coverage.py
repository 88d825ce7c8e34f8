"""Which candidate reaches which point, against the engine."""

from __future__ import annotations

import dataclasses
import random

import numpy as np
import pytest
import shapely

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, largest_radius
from profilestack.cutting.cut import cut_stack
from profilestack.finding.arrises import arrises_of
from profilestack.finding.bench import Bench
from profilestack.finding.candidates import Candidates
from profilestack.finding.coverage import cover, distances, reach
from profilestack.finding.rims import rims_of
from profilestack.geometry.path import Path
from profilestack.geometry.region import subtract
from profilestack.stack import Pass, Stack
from tests.finding import bench_of, board_for, one_candidate
from tests.random_stacks import random_bits, random_target
from tests.shop import straight, vee

WITHIN = 0.01


def removed_by(stack: Stack, bit: Bit, offset: float, depth: float) -> shapely.Geometry:
    single = dataclasses.replace(stack, passes=(Pass(bit.id, offset, depth),), target=None)
    cut = cut_stack(single, {bit.id: bit})
    return subtract(cut.sections[0], cut.sections[-1])


def reached_by(
    bench: Bench, bit: Bit, offset: float, depth: float
) -> tuple[np.ndarray, np.ndarray]:
    """What the table says, for the points to be touched and for the others."""
    touched = np.arange(len(bench.points)) < bench.touched
    table = reach(one_candidate(bit, bench, offset, depth), bench.points, touched)[0]
    return table[touched], table[~touched]


@pytest.mark.parametrize("leftover", [0.05, 0.3, 1.2])
@pytest.mark.parametrize("seed", range(5))
def test_the_table_agrees_with_the_engine(seed: int, leftover: float) -> None:
    chance = random.Random(seed)
    stack = board_for(random_target(chance, 50.0, 30.0), 50.0, 30.0)
    bench = bench_of(stack, leftover, 0.05)
    near, outside = np.split(bench.points, [bench.touched])
    hits = 0
    for bit in random_bits(chance):
        for _ in range(2):
            offset = round(chance.uniform(-largest_radius(bit), 50.0 + largest_radius(bit)), 2)
            depth = round(chance.uniform(0.3, min(25.0, edge_height(bit) + 3.0)), 2)
            removed = removed_by(stack, bit, offset, depth)
            touches, holds = reached_by(bench, bit, offset, depth)
            far = np.asarray(shapely.distance(removed, shapely.points(near)))
            assert (far[touches] <= leftover + WITHIN).all(), bit.id
            assert touches[far <= leftover - WITHIN].all(), bit.id
            grown, eroded = removed.buffer(WITHIN), removed.buffer(-WITHIN)
            assert shapely.contains_xy(grown, outside[holds]).all(), bit.id
            assert holds[shapely.contains_xy(eroded, outside)].all(), bit.id
            hits += int(touches.sum() + holds.sum())
    assert hits > 100


def test_stock_that_is_only_passed_in_the_air_is_not_reached() -> None:
    # at a depth of 2.436 the flank, 15 degrees above the level, passes 0.280 above the point, but
    # above the face; the nearest stock cut away, at (20.909, 20), is 0.716 off
    path = Path((0.0, 20.0)).line((20.0, 20.0)).line((26.0, 14.0)).line((40.0, 14.0))
    stack = board_for(path, 40.0, 20.0)
    bench = bench_of(stack, 0.3, 0.05)
    bit = vee(40.0, 150.0)
    point = np.array([[20.2, 19.9]])
    for depth, expected in ((2.436, False), (2.56, True)):
        found = reach(one_candidate(bit, bench, 30.0, depth), point, np.array([True]))
        near = removed_by(stack, bit, 30.0, depth).distance(shapely.Point(point[0])) <= 0.3
        assert bool(found[0, 0]) == near == expected


def test_what_is_cut_in_a_corner_of_the_blank_is_seen() -> None:
    # all that is cut lies within the leftover of the point, and is bounded by the outline
    path = Path((0.0, 20.0)).line((39.0, 20.0)).line((40.0, 19.0))
    bench = bench_of(board_for(path, 40.0, 20.0), 1.5, 0.05)
    point = np.array([[39.5, 19.5]])
    bit = straight(6.0)
    for offset, expected in ((42.5, True), (43.5, False)):
        found = reach(one_candidate(bit, bench, offset, 0.5), point, np.array([True]))
        assert bool(found[0, 0]) == expected


def test_rims_are_told_for_points_near_the_outline_alone() -> None:
    stock = shapely.box(0.0, 0.0, 40.0, 20.0)
    points = np.array([(10.0, 19.9), (10.0, 19.5), (0.1, 10.0), (20.0, 19.9)])
    touched = np.array([True, True, True, False])
    rims = rims_of(points, touched, stock, 0.3)
    assert rims.close.tolist() == [True, False, True, False]
    counts = np.diff([*rims.firsts, len(rims.samples)])
    owner = np.repeat(np.flatnonzero(rims.close), counts)
    far = np.hypot(*(rims.samples - points[owner]).T)
    assert (far <= 0.3 + 1e-9).all()
    assert shapely.intersects_xy(stock.buffer(1e-9), rims.samples).all()


def test_candidates_that_reach_nothing_are_left_out() -> None:
    path = Path((0.0, 20.0)).line((10.0, 20.0)).line((10.0, 15.0)).line((40.0, 15.0))
    bench = bench_of(board_for(path, 40.0, 20.0))
    bit = straight(6.0)
    found = Candidates(bit, bench, np.array([5.0, 13.0, 20.0]), np.array([19.99, 15.0, 15.0]))
    covered = cover(found)
    assert covered.candidates.axes.tolist() == [13.0, 20.0]
    assert covered.rows.shape[0] == 2


@pytest.mark.parametrize("far", [0.5, 3.0, 25.0])
def test_distances_are_right_however_far(far: float) -> None:
    path = Path((0.0, 40.0)).line((70.0, 40.0)).line((70.0, 30.0)).line((80.0, 30.0))
    bench = bench_of(board_for(path, 80.0, 40.0), 0.3, 0.05)
    bit = straight(10.0)
    k = int(np.argmin(bench.points[: bench.touched, 0]))  # the target leaves the face at 70
    x = float(bench.points[k, 0])
    found = Candidates(bit, bench, np.array([x + 5.0 + far]), np.array([10.0]))
    assert distances(found, bench, np.array([k])) == pytest.approx([far], abs=1e-6)


def test_arrises_are_the_corners_where_wood_stands_out() -> None:
    path = Path((0.0, 15.0)).line((10.0, 15.0)).line((10.0, 20.0)).line((20.0, 12.0))
    path = path.line((30.0, 12.0)).arc((36.0, 6.0), (30.0, 6.0), "cw").line((40.0, 6.0))
    from profilestack.cutting.wanted import wanted_in

    stack = board_for(path, 40.0, 20.0)
    assert stack.target is not None
    corners, ways, angles = arrises_of(wanted_in(stack.blank, stack.target, 0.001))
    found = {(round(x, 6), round(z, 6)) for x, z in corners.tolist()}
    # the ends at the sides, the peak; neither the inside corners nor the round
    assert found == {(0.0, 15.0), (10.0, 20.0), (40.0, 6.0)}
    assert np.hypot(*ways.T) == pytest.approx(np.ones(3))
    peak = int(np.argmax(corners[:, 1]))
    # between an upright side and one that falls 8 in 10: 90 - 38.66 degrees
    assert np.degrees(2.0 * angles[peak]) == pytest.approx(90.0 - 38.6598083, abs=1e-6)
    assert ways[peak, 1] > 0.0

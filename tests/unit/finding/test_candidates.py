"""Candidate passes: clear of kept wood, deep enough, and in every narrow place."""

from __future__ import annotations

import random

import numpy as np
import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut, largest_radius
from profilestack.cutting.stroke import silhouette_points
from profilestack.finding.bench import Bench
from profilestack.finding.candidates import Candidates, candidates_of
from profilestack.geometry.path import Path
from profilestack.planning.lowering import underside
from profilestack.stack import Pass, Setup
from tests.finding import RESOLUTION, bench_of, board_for, judged
from tests.planted import drawer, planted
from tests.random_stacks import random_bits, random_target
from tests.shop import core_box, straight, vee

ALL = (-np.inf, np.inf)


def all_of(bit: Bit, bench: Bench) -> Candidates:
    return candidates_of(bit, bench, RESOLUTION, *ALL)


def nearest(found: Candidates, offset: float) -> tuple[float, float]:
    """Offset and depth of the candidate next to an offset, the deepest of several."""
    off = np.abs(found.axes - offset)
    best = np.flatnonzero(off < off.min() + 1e-9)
    k = int(best[np.argmin(found.tips[best])])
    return float(found.axes[k]), float(found.bench.top - found.tips[k])


@pytest.mark.parametrize("seed", range(8))
def test_no_candidate_takes_more_than_the_overcut(seed: int) -> None:
    chance = random.Random(seed)
    overcut = chance.choice((0.02, 0.05, 0.10))
    stack = board_for(random_target(chance, 50.0, 30.0), 50.0, 30.0)
    bench = bench_of(stack, 0.2, overcut)
    for bit in random_bits(chance):
        found = all_of(bit, bench)
        if len(found) == 0:
            continue
        for k in chance.sample(range(len(found)), min(4, len(found))):
            offset, depth = float(found.axes[k]), float(bench.top - found.tips[k])
            comparison = judged(stack, [bit], [Pass(bit.id, offset, depth)])
            assert comparison.overcut_worst <= overcut, (bit.id, offset, depth)


@pytest.mark.parametrize("seed", range(8))
def test_no_candidate_from_above_can_go_a_step_deeper(seed: int) -> None:
    chance = random.Random(100 + seed)
    stack = board_for(random_target(chance, 50.0, 30.0), 50.0, 30.0)
    bench = bench_of(stack, 0.2, 0.05)
    tried = 0
    for bit in random_bits(chance):
        found = all_of(bit, bench)
        inside = np.flatnonzero((found.axes > 0.0) & (found.axes < 50.0) & (found.tips > 1.0))
        for k in chance.sample(inside.tolist(), min(3, len(inside))):
            tried += 1
            # on steep flanks the grid rounds to half a hundredth sideways
            tool = open_above(bit, wider=0.006)
            low = float(found.tips[k]) - RESOLUTION - 0.001
            deeper = translate(tool, float(found.axes[k]), low)
            assert deeper.intersection(bench.kept).area > 0.0, bit.id
    assert tried > 10


def open_above(bit: Bit, wider: float) -> Polygon:
    """All that edge and shank pass on their way down, about the axis and the tip."""
    under = underside(bit)
    right = np.column_stack((under.radii + wider, under.heights))
    left = right[::-1] * (-1.0, 1.0)
    sky = [(right[-1, 0], 500.0), (left[0, 0], 500.0)]
    return Polygon(np.concatenate((right, sky, left)))


def test_offsets_and_depths_are_whole_resolutions() -> None:
    stack = board_for(random_target(random.Random(3), 50.0, 30.0), 50.0, 30.0)
    bench = bench_of(stack)
    for bit in random_bits(random.Random(3)):
        found = all_of(bit, bench)
        for values in (found.axes, bench.top - found.tips):
            assert np.abs(values / RESOLUTION - np.round(values / RESOLUTION)).max() < 1e-6


@pytest.mark.parametrize("middle", [20.13, 20.05, 19.999, 23.337])
@pytest.mark.parametrize("size", [6.35, 12.7])
def test_a_slot_as_wide_as_the_bit_is_found_wherever_it_is(middle: float, size: float) -> None:
    half = size / 2.0
    path = Path((0.0, 30.0)).line((middle - half, 30.0)).line((middle - half, 12.0))
    path = path.line((middle + half, 12.0)).line((middle + half, 30.0)).line((50.0, 30.0))
    found = all_of(straight(size), bench_of(board_for(path, 50.0, 30.0), 0.05, 0.02))
    offset, depth = nearest(found, middle)
    assert offset == pytest.approx(middle, abs=0.02)
    assert depth == pytest.approx(18.0 + 0.02, abs=0.02)


@pytest.mark.parametrize("middle", [20.13, 20.05, 23.337])
def test_a_groove_of_the_bits_own_form_is_found_wherever_it_is(middle: float) -> None:
    radius, angle = 5.0, 60.0
    hollow = Path((0.0, 30.0)).line((middle - radius, 30.0)).line((middle - radius, 25.0))
    hollow = hollow.arc((middle + radius, 25.0), (middle, 25.0), "ccw")
    hollow = hollow.line((middle + radius, 30.0)).line((50.0, 30.0))
    found = all_of(core_box(2.0 * radius), bench_of(board_for(hollow, 50.0, 30.0), 0.05, 0.02))
    assert nearest(found, middle)[1] == pytest.approx(10.02, abs=0.02)
    half = 8.0 * np.tan(np.radians(angle / 2.0))
    groove = Path((0.0, 30.0)).line((middle - half, 30.0)).line((middle, 22.0))
    groove = groove.line((middle + half, 30.0)).line((50.0, 30.0))
    found = all_of(vee(20.0, angle), bench_of(board_for(groove, 50.0, 30.0), 0.05, 0.02))
    # the sharp tip may come no farther than the overcut below the corner
    assert nearest(found, middle)[1] == pytest.approx(8.02, abs=0.015)


@pytest.mark.parametrize("seed", range(6))
def test_planted_passes_are_among_the_candidates_or_next_to_them(seed: int) -> None:
    wanted = planted(seed, 3)
    by_id = {bit.id: bit for bit in drawer()}
    bench = bench_of(wanted.stack)
    for single in wanted.stack.passes:
        found = all_of(by_id[single.bit], bench)
        near = np.abs(found.axes - single.offset) <= 0.1 + 1e-9
        assert near.any()
        # as deep as it was, but for what the nearest offset of the grid costs on a slope
        assert (bench.top - found.tips[near]).max() >= single.depth - 0.12


def test_a_dovetail_finds_its_own_groove_and_nothing_in_a_plain_slot() -> None:
    dovetail = next(bit for bit in drawer() if bit.id == "dovetail-1-2in-14")
    depth, slope, middle = 6.0, np.tan(np.radians(14.0)), 25.337
    low, high = 6.35, 6.35 - depth * slope
    path = Path((0.0, 20.0)).line((middle - high, 20.0)).line((middle - low, 20.0 - depth))
    path = path.line((middle + low, 20.0 - depth)).line((middle + high, 20.0)).line((50.0, 20.0))
    bench = bench_of(board_for(path, 50.0, 20.0), 0.05, 0.03)
    offset, found_depth = nearest(all_of(dovetail, bench), middle)
    assert (offset, found_depth) == pytest.approx((middle, depth), abs=0.05)
    slot = Path((0.0, 20.0)).line((20.0, 20.0)).line((20.0, 14.0)).line((30.0, 14.0))
    slot = slot.line((30.0, 20.0)).line((50.0, 20.0))
    found = all_of(dovetail, bench_of(board_for(slot, 50.0, 20.0), 0.05, 0.03))
    between = (found.axes > 20.0) & (found.axes < 30.0)
    assert (bench.top - found.tips[between]).max(initial=0.0) < 0.1


@pytest.mark.parametrize("seed", range(4))
def test_undercut_candidates_stand_free_under_kept_wood(seed: int) -> None:
    chance = random.Random(seed)
    dovetail = next(bit for bit in drawer() if bit.id == "dovetail-1-2in-14")
    bullnose = next(bit for bit in drawer() if bit.id == "bullnose-1-2in")
    middle, depth = chance.uniform(20.0, 30.0), chance.uniform(4.0, 9.0)
    low, high = chance.uniform(7.0, 11.0), 6.0
    path = Path((0.0, 20.0)).line((middle - high, 20.0)).line((middle - low, 20.0 - depth))
    path = path.line((middle + low, 20.0 - depth)).line((middle + high, 20.0)).line((50.0, 20.0))
    bench = bench_of(board_for(path, 50.0, 20.0), 0.1, 0.03)
    hidden = 0
    for bit in (dovetail, bullnose):
        assert has_undercut(bit)
        found = all_of(bit, bench)
        under = found.tips < 20.0 - 0.5
        for k in np.flatnonzero(under).tolist()[:: max(1, int(under.sum()) // 25)]:
            tool = translate(
                Polygon(silhouette_points(bit, 0.001)), float(found.axes[k]), float(found.tips[k])
            )
            assert tool.intersection(bench.kept).area < 1e-4, (bit.id, found.axes[k])
            hidden += abs(found.axes[k] - middle) + largest_radius(bit) > high + 0.05
    assert hidden > 5  # some of them do stand under the overhang


def test_a_setup_turns_the_target_under_the_bit() -> None:
    path = Path((0.0, 20.0)).line((30.0, 20.0)).line((30.0, 8.0)).line((50.0, 8.0))
    stack = board_for(path, 50.0, 20.0)
    edge = bench_of(stack, 0.05, 0.02, Setup("edge", 90.0))
    assert (edge.lie.width, edge.top) == pytest.approx((20.0, 50.0))
    # right side up: the step is 20 deep from there; 12 of the 20 across are to be cut away
    offset, depth = nearest(all_of(straight(10.0), edge), 6.9)
    assert (offset, depth) == pytest.approx((6.9, 20.02), abs=0.02)

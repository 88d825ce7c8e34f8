"""Comparison with the target: sides, signs, corners, and the cases at the rim."""

from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.cutting.comparison import Comparison
from profilestack.geometry.path import Path
from profilestack.stack import Blank, CurvedRun, OutlineStock, PathTarget
from tests.shop import Placed, board, core_box, judge, lines, straight, vee

FLAT = lines((0.0, 25.0), (60.0, 25.0))
WIDE = straight(70.0)


def compared(*placed: Placed, target: PathTarget = FLAT, **other: object) -> Comparison:
    found = judge(*placed, target=target, **other).comparison
    assert found is not None
    return found


def test_without_a_target_there_is_no_comparison() -> None:
    assert judge((WIDE, 30.0, 5.0)).comparison is None


def test_a_fit_leaves_nothing_and_lacks_nothing() -> None:
    found = compared((WIDE, 30.0, 5.0))
    assert (found.leftover_worst, found.overcut_worst) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert (found.leftover.area, found.overcut.area) == pytest.approx((0.0, 0.0), abs=1e-9)
    assert found.leftover.at is None
    assert found.ridges == ()
    assert found.corners == ()


def test_stock_left_all_over_is_proud() -> None:
    found = compared((WIDE, 30.0, 4.5))
    assert found.leftover.max == pytest.approx(0.5)
    assert found.leftover.rms == pytest.approx(0.5)
    assert found.leftover.area == pytest.approx(30.0)
    assert found.leftover.volume == pytest.approx(30.0 * 1000.0)
    assert found.unreached_max == pytest.approx(0.5)
    assert found.overcut_worst == 0.0
    inner = found.deviation[1:-1]
    assert inner == pytest.approx(np.full(len(inner), 0.5))


def test_stock_cut_too_deep_is_gouged() -> None:
    found = compared((WIDE, 30.0, 5.2))
    assert found.overcut.max == pytest.approx(0.2)
    assert found.overcut.rms == pytest.approx(0.2)
    assert found.overcut.area == pytest.approx(12.0)
    assert found.missing_max == pytest.approx(0.2)
    assert found.leftover_worst == 0.0
    assert found.deviation == pytest.approx(np.full(len(found.deviation), -0.2))


def test_each_side_counts_the_other_as_nothing() -> None:
    """Left half 0.4 proud, right half 0.3 gouged: each rms over the whole length."""
    found = compared((straight(40.0), 10.0, 4.6), (straight(40.0), 50.0, 5.3))
    assert found.leftover.rms == pytest.approx(0.4 / math.sqrt(2), rel=0.02)
    assert found.overcut.rms == pytest.approx(0.3 / math.sqrt(2), rel=0.02)
    assert found.leftover.area == pytest.approx(30.0 * 0.4)
    assert found.overcut.area == pytest.approx(30.0 * 0.3)


def test_volumes_follow_the_run() -> None:
    found = compared((WIDE, 30.0, 4.5), run=CurvedRun(500.0, 90.0))
    assert found.leftover.volume == pytest.approx(30.0 * math.pi / 2 * 530.0)


def test_nothing_cut_at_all() -> None:
    found = compared()
    assert found.leftover.max == pytest.approx(5.0)
    assert found.unreached_max == pytest.approx(60.0), "as far as the part is wide"
    assert found.overcut_worst == 0.0


def test_nothing_left_at_all() -> None:
    found = compared((WIDE, 30.0, 31.0))
    assert found.overcut.area == pytest.approx(60.0 * 25.0)
    assert found.overcut.max == pytest.approx(25.0)
    assert found.missing_max == pytest.approx(60.0)


def test_target_points_on_the_face_count_nothing() -> None:
    """A rebate that is cut to size beside a full face: the face is not unreached stock."""
    target = lines((0.0, 20.0), (10.0, 20.0), (10.0, 30.0), (60.0, 30.0))
    found = compared((straight(20.0), 0.0, 10.0), target=target)
    assert found.leftover_worst == 0.0
    assert found.unreached_max == 0.0


def test_a_rebate_not_cut_is_as_far_as_its_floor_is() -> None:
    target = lines((0.0, 20.0), (10.0, 20.0), (10.0, 30.0), (60.0, 30.0))
    found = compared((straight(6.0), 40.0, 1.0), target=target)
    assert found.unreached_max == pytest.approx(math.hypot(37.0, 9.0), abs=1e-3)
    # the upper left corner of the blank, 10 from the floor and from the wall
    assert found.leftover.max == pytest.approx(10.0)
    assert found.leftover.at == pytest.approx((0.0, 30.0))


def test_a_fin_cut_away_whole_is_missing_by_more_than_half_its_thickness() -> None:
    """A fin 1 mm thick and 8 high is planed off: no wood is farther from the target than 0.5 mm,
    but its top is 8 mm from what is left."""
    target = lines((0, 20), (30, 20), (30, 28), (31, 28), (31, 20), (60, 20))
    found = compared((WIDE, 30.0, 10.0), target=target)
    assert found.overcut.max == pytest.approx(0.5)
    assert found.missing_max == pytest.approx(8.0)
    assert found.overcut_worst == found.missing_max


def test_corners_that_no_bit_reaches_are_told_worst_first() -> None:
    target = lines((0, 30), (20, 30), (20, 20), (40, 20), (40, 30), (60, 30))
    small, large = core_box(4.0), core_box(12.0)
    found = compared(
        (straight(8.0), 30.0, 10.0), (small, 22.0, 10.0), (large, 34.0, 10.0), target=target
    )
    reach = math.sqrt(2.0) - 1.0
    assert [corner.at for corner in found.corners] == [(40.0, 20.0), (20.0, 20.0)]
    assert [corner.distance for corner in found.corners] == pytest.approx(
        [6.0 * reach, 2.0 * reach], abs=0.001
    )


def test_stock_in_a_cavity_is_farthest_from_its_walls_in_the_middle() -> None:
    """A keyhole groove: neck 4 wide, below it a round of radius 8 that nothing has cut.

    The line bends round the stock, so the farthest point is inside: the round's middle.
    """
    half, radius = 2.0, 8.0
    middle = (30.0, 12.0)
    joint = middle[1] + math.sqrt(radius**2 - half**2)
    path = (
        Path((0.0, 30.0)).line((30.0 - half, 30.0)).line((30.0 - half, joint))
        .arc((30.0 + half, joint), middle, "ccw").line((30.0 + half, 30.0)).line((60.0, 30.0))
    )  # fmt: skip
    found = compared((straight(4.0), 30.0, 3.0), target=PathTarget(path))
    assert found.leftover.max == pytest.approx(radius, abs=0.002)
    assert found.leftover.at == pytest.approx(middle, abs=0.1)


def test_a_closed_target_wants_wood_on_its_inside_only() -> None:
    """A round bar from a square one, by four V cuts tipped about: its corners stand."""
    circle = Path((40.0, 20.0)).arc((40.0, 20.0), (20.0, 20.0), "ccw")
    found = compared(
        (vee(20.0, 90.0), 40.0, 5.0), target=PathTarget(circle, closed=True),
        blank=board(40.0, 40.0),
    )  # fmt: skip
    corner = 20.0 * (math.sqrt(2.0) - 1.0)
    assert found.leftover.max == pytest.approx(corner, abs=0.002)
    assert found.leftover.area == pytest.approx(1600 - 400 * math.pi - 25 / 2, abs=0.2)


@pytest.mark.parametrize("radius", [0.4, 1.0, 3.0])
def test_a_shallow_gouge_between_samples_is_found(radius: float) -> None:
    """A flat shaves the top off a small round: the gouge is narrower than the samples' step."""
    deep = radius / 50.0
    path = Path((0.0, 20.0)).line((30.0 - radius, 20.0))
    path = path.arc((30.0 + radius, 20.0), (30.0, 20.0), "cw").line((60.0, 20.0))
    found = compared((WIDE, 30.0, 10.0 - radius + deep), target=PathTarget(path), chord=1e-4)
    assert found.overcut.max == pytest.approx(deep, abs=2.1e-4)
    assert found.missing_max == pytest.approx(deep, abs=2.1e-4)


def test_a_target_that_strays_from_a_leaning_outline_by_a_hair_lacks_nothing() -> None:
    off = 4e-5
    leaning = OutlineStock(
        Path((20.0, 0.0)).line((60.0, 0.0)).line((60.0, 30.0)).line((0.0, 30.0))
        .line((0.0, 20.0)).line((20.0, 0.0))
    )  # fmt: skip
    target = lines((20.0 - off, 0.0), (0.0, 20.0 - off), (0.0, 25.0), (60.0, 25.0), (60.0, 0.0))
    found = compared((WIDE, 30.0, 5.0), target=target, blank=Blank(leaning))
    assert found.missing_max < 1e-4
    assert found.unreached_max < 1e-4

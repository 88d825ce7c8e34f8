"""Where a bit cuts when the blank is turned: worked out here by hand for a 60 x 30 board."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
import shapely.affinity
from shapely.geometry import Polygon, box

from profilestack.bits.shapes import VGroove
from profilestack.cutting.stroke import exact_cos_sin, lie_of, strokes_of
from profilestack.stack import Blank, Round, Setup
from tests.shop import bit, board, cut, stack_of, straight

SQUARE = straight(6.0, edge=10.0)
W, T = 60.0, 30.0


def placed(angle: float, offset: float, depth: float, copies: int = 1) -> list[Polygon]:
    setup = Setup("so", angle, copies)
    stack, bits = stack_of((SQUARE, offset, depth, {"setup": "so"}), setups=(setup,))
    return [
        stroke.region for stroke in strokes_of(stack, stack.passes[0], 1, bits[SQUARE.id], 0.001)
    ]


def same(first: Polygon, second: Polygon) -> bool:
    return bool(shapely.symmetric_difference(first, second).area < 1e-9)


def test_on_the_face_depth_runs_down_from_the_top() -> None:
    (region,) = placed(0.0, 20.0, 4.0)
    assert same(region, box(17.0, T - 4.0, 23.0, T - 4.0 + 10.0))


@pytest.mark.parametrize("angle", [90.0, -270.0])
def test_on_edge_the_right_side_is_up(angle: float) -> None:
    """Offset runs from the old top face, depth from the old right side."""
    (region,) = placed(angle, 8.0, 4.0)
    assert same(region, box(W - 4.0, T - 11.0, W - 4.0 + 10.0, T - 5.0))


@pytest.mark.parametrize("angle", [180.0, -180.0])
def test_turned_over_offset_runs_from_the_old_right_side(angle: float) -> None:
    (region,) = placed(angle, 8.0, 4.0)
    assert same(region, box(W - 11.0, 4.0 - 10.0, W - 5.0, 4.0))


@pytest.mark.parametrize("angle", [270.0, -90.0])
def test_on_the_other_edge_the_left_side_is_up(angle: float) -> None:
    """Offset runs from the old bottom, depth from the old left side."""
    (region,) = placed(angle, 8.0, 4.0)
    assert same(region, box(4.0 - 10.0, 5.0, 4.0, 11.0))


def test_a_full_turn_is_the_face() -> None:
    assert same(placed(360.0, 20.0, 4.0)[0], placed(0.0, 20.0, 4.0)[0])


def test_tipped_by_45_the_upper_right_corner_is_up() -> None:
    """The box of the tipped board is (w + t) / sqrt 2 wide and high; its top is the old corner
    (60, 30), which lies 60 / sqrt 2 from the box's left side."""
    lie = lie_of(board(), 45.0)
    assert lie.width == pytest.approx((W + T) / math.sqrt(2))
    assert lie.height == pytest.approx((W + T) / math.sqrt(2))
    vee = bit("vee", VGroove(20.0, 90.0), edge=15.0)
    done = cut((vee, W / math.sqrt(2), 5.0, {"setup": "tipped"}), setups=(Setup("tipped", 45.0),))
    # tipped so, a V of 90 degrees has a level and an upright side: it cuts a rebate whose
    # corner lies 5 below the board's: 5 is the diagonal
    side = 5.0 / math.sqrt(2)
    rebate = box(W - side, T - side, W + 50.0, T + 50.0)
    wood = box(0.0, 0.0, W, T).difference(rebate)
    assert shapely.symmetric_difference(done.section, wood).area < 1e-9


def test_bench_and_section_are_one_plane_seen_twice() -> None:
    points = np.array(((0.0, 0.0), (W, 0.0), (W, T), (12.3, 4.5)))
    for angle in (0.0, 33.0, 90.0, 147.0, 180.0, -60.0):
        lie = lie_of(board(), angle)
        bench = lie.to_bench(points)
        assert lie.to_section(bench) == pytest.approx(points, abs=1e-9)
        assert bench.min() > -1e-6


def test_a_stroke_gives_its_own_points_back() -> None:
    setup = Setup("so", 30.0, 3)
    stack, bits = stack_of((SQUARE, 20.0, 4.0, {"setup": "so"}), setups=(setup,))
    for stroke in strokes_of(stack, stack.passes[0], 1, bits[SQUARE.id], 0.001):
        tip = stroke.to_section(np.array(((0.0, 0.0),)))
        assert stroke.to_bench(tip)[0] == pytest.approx((stroke.axis, stroke.tip))
        corner = stroke.to_section(np.array(((3.0, 10.0),)))[0]
        assert stroke.region.exterior.distance(shapely.points(corner)) < 1e-9


def test_copies_turn_the_blank_about_the_middle_of_its_box() -> None:
    first, second = placed(0.0, 20.0, 4.0, copies=2)
    assert same(first, box(17.0, 26.0, 23.0, 36.0))
    assert same(second, box(W - 23.0, -6.0, W - 17.0, 4.0))


@pytest.mark.parametrize("angle", [0.0, 30.0, 90.0, 137.0])
def test_four_copies_look_the_same_after_a_quarter_turn(angle: float) -> None:
    setups = (Setup("around", angle, 4),)
    done = cut(
        (SQUARE, 14.0, 4.0, {"setup": "around"}), blank=Blank(Round(40.0)), setups=setups,
        chord=1e-4,
    )  # fmt: skip
    again = shapely.affinity.rotate(done.section, 90.0, origin=(20.0, 20.0))
    assert shapely.symmetric_difference(done.section, again).area < 0.02
    assert done.section.area < math.pi * 400.0 - 4 * 15.0


def test_the_box_of_a_round_blank_is_its_diameter_at_every_angle() -> None:
    for angle in (0.0, 11.25, 45.0, 90.0, 200.0):
        lie = lie_of(Blank(Round(50.0)), angle)
        assert (lie.width, lie.height) == pytest.approx((50.0, 50.0), abs=1e-6)


@pytest.mark.parametrize("quarters", range(-5, 6))
def test_quarter_turns_are_exact(quarters: int) -> None:
    cos, sin = exact_cos_sin(90.0 * quarters)
    assert {abs(cos), abs(sin)} == {0.0, 1.0}
    assert cos == pytest.approx(math.cos(math.pi / 2 * quarters), abs=1e-12)
    assert sin == pytest.approx(math.sin(math.pi / 2 * quarters), abs=1e-12)

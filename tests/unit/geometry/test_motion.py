from __future__ import annotations

import math

import pytest

from profilestack.errors import GeometryError
from profilestack.geometry.motion import Motion, direction, grow, mirror, move, turn
from profilestack.geometry.path import Path

POINTS = [(0.0, 0.0), (3.0, -2.0), (-7.5, 11.0)]


def test_a_quarter_turn_is_exact() -> None:
    assert turn(90.0).apply((3.0, 2.0)) == (-2.0, 3.0)
    assert turn(-90.0).apply((3.0, 2.0)) == (2.0, -3.0)
    assert [direction(90.0 * k) for k in range(-1, 5)] == [
        (0.0, -1.0),
        (1.0, 0.0),
        (0.0, 1.0),
        (-1.0, 0.0),
        (0.0, -1.0),
        (1.0, 0.0),
    ]


def test_a_turn_about_a_point_leaves_it_there() -> None:
    assert turn(33.0, about=(4.0, 5.0)).apply((4.0, 5.0)) == pytest.approx((4.0, 5.0))
    half = math.sqrt(0.5)
    assert turn(45.0).apply((1.0, 0.0)) == pytest.approx((half, half))


def test_a_mirror_swaps_left_and_right_about_its_line() -> None:
    assert mirror(10.0).apply((3.0, 2.0)) == (17.0, 2.0)


def test_a_chain_moves_as_its_parts_one_after_the_other() -> None:
    parts = [mirror(2.0), turn(30.0), grow(2.5), mirror(-1.0), turn(-200.0), move(3.0, 4.0)]
    whole = Motion()
    for part in parts:
        whole = whole.then(part)
    for point in POINTS:
        place = point
        for part in parts:
            place = part.apply(place)
        assert whole.apply(point) == pytest.approx(place)
        assert whole.inverse().apply(place) == pytest.approx(point)


def test_the_way_back_of_a_mirrored_turn() -> None:
    motion = mirror(3.0).then(turn(70.0)).then(grow(0.5)).then(move(1.0, -8.0))
    assert motion.mirrors
    for point in POINTS:
        assert motion.inverse().apply(motion.apply(point)) == pytest.approx(point)


def test_a_mirrored_path_keeps_its_size_and_turns_the_other_way() -> None:
    path = Path((0.0, 0.0)).line((4.0, 0.0)).arc((0.0, 4.0), (0.0, 0.0), "ccw").line((0.0, 0.0))
    placed = mirror().then(turn(17.0)).then(grow(3.0)).apply_to(path)
    assert placed.signed_area == pytest.approx(-9.0 * path.signed_area)
    assert placed.length == pytest.approx(3.0 * path.length)


@pytest.mark.parametrize("scale", [0.0, -1.0, math.nan, math.inf])
def test_no_motion_has_such_a_scale(scale: float) -> None:
    with pytest.raises(GeometryError):
        grow(scale)

from __future__ import annotations

import math

import pytest

from profilestack.errors import GeometryError
from profilestack.geometry.path import Path
from profilestack.geometry.trimming import beside_axis, until_height

QUARTER = Path((0.0, 0.0)).arc((5.0, 5.0), center=(0.0, 5.0), turn="ccw")


def test_an_arc_is_cut_off_exactly_at_the_height() -> None:
    cut = until_height(QUARTER, 2.0)
    assert cut.end == pytest.approx((4.0, 2.0))
    assert cut.length == pytest.approx(5.0 * math.acos(3.0 / 5.0))


def test_a_path_that_does_not_rise_above_the_height_stays_whole() -> None:
    assert until_height(QUARTER, 5.0) == QUARTER
    assert until_height(QUARTER, 7.0) == QUARTER


def test_the_first_rise_above_the_height_ends_the_path() -> None:
    hump = Path((0.0, 0.0)).line((2.0, 4.0)).line((4.0, 0.0)).line((6.0, 9.0))
    assert until_height(hump, 3.0).end == pytest.approx((1.5, 3.0))
    swing = Path((0.0, 0.0)).arc((8.0, 0.0), center=(4.0, 0.0), turn="cw").line((8.0, 9.0))
    assert until_height(swing, 2.0).end == pytest.approx((4.0 - math.sqrt(12.0), 2.0))


def test_a_level_stretch_at_the_height_is_kept() -> None:
    step = Path((0.0, 0.0)).line((0.0, 2.0)).line((3.0, 2.0)).line((3.0, 5.0))
    assert until_height(step, 2.0).end == (3.0, 2.0)


def test_a_path_that_starts_above_the_height_is_refused() -> None:
    with pytest.raises(GeometryError, match="starts above"):
        until_height(Path((0.0, 3.0)).line((2.0, 5.0)), 2.0)


def test_beside_the_axis_only_the_right_hand_stretch_is_left() -> None:
    path = Path((-2.0, 1.0)).line((2.0, 1.0)).arc((-2.0, 5.0), center=(-2.0, 1.0), turn="ccw")
    cut = beside_axis(path)
    assert cut.start == (0.0, 1.0)
    assert cut.end == pytest.approx((0.0, 1.0 + math.sqrt(12.0)))
    with pytest.raises(GeometryError, match="beside the axis"):
        beside_axis(Path((-2.0, 0.0)).line((-1.0, 4.0)))

from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.geometry.crossing import point_on
from profilestack.geometry.path import Arc, Line, Path
from profilestack.targets.bulges import (
    BulgePath,
    bulge_of,
    carrier_distances,
    center_of,
    distances_to,
    kinks,
    tidied,
)
from tests.unit.targets.profiles import SECTION, STEPPED, farthest


def bulged(path: Path) -> BulgePath:
    points = [path.start, *(step.to for step in path.steps)]
    return BulgePath(np.array(points), np.array([bulge_of(piece) for piece in path.segments]))


@pytest.mark.parametrize("turn", ["cw", "ccw"])
@pytest.mark.parametrize("sweep", [0.01, 1.0, 3.0, 5.0])
def test_an_arc_comes_back_from_its_bulge(sweep: float, turn: str) -> None:
    sign = 1.0 if turn == "ccw" else -1.0
    end = (7.0 + 5.0 * math.cos(sign * sweep), 2.0 + 5.0 * math.sin(sign * sweep))
    arc = Arc((12.0, 2.0), end, (7.0, 2.0), "ccw" if sign > 0.0 else "cw")
    bulge = bulge_of(arc)
    assert bulge == pytest.approx(math.tan(sign * sweep / 4.0))
    assert center_of(arc.start, arc.end, bulge) == pytest.approx((7.0, 2.0), abs=1e-9)


def test_a_path_comes_back() -> None:
    again = bulged(STEPPED).path()
    for one, two in zip(STEPPED.segments, again.segments, strict=True):
        assert type(one) is type(two)
        assert one.end == two.end
        if isinstance(one, Arc):
            assert isinstance(two, Arc)
            assert one.turn == two.turn
            assert one.center == pytest.approx(two.center, abs=1e-12)


def test_distances_to_a_circle_and_a_line() -> None:
    points = np.array([[0.0, 8.0], [0.0, 11.0], [3.0, 4.0]])
    begin, end = np.array([10.0, 0.0]), np.array([-10.0, 0.0])
    # half a circle about the origin, counter-clockwise: its outside is at the right
    ones = np.ones(3)
    expected = [8.0 - 10.0, 11.0 - 10.0, 5.0 - 10.0]
    assert carrier_distances(points, begin, end, ones) == pytest.approx(expected)
    # the line goes to the left, so that what is above lies at its right
    assert carrier_distances(points, begin, end, 0.0 * ones) == pytest.approx([8.0, 11.0, 4.0])


def test_distance_stays_smooth_where_an_arc_becomes_a_line() -> None:
    point = np.array([[2.0, 0.5]])
    begin, end = np.array([0.0, 0.0]), np.array([10.0, 0.0])
    bulges = np.array([-1e-4, -1e-6, 0.0, 1e-6, 1e-4])
    off = [float(carrier_distances(point, begin, end, np.array([b]))[0]) for b in bulges]
    steps = np.diff(off)
    # height over the chord at u: s (1 - (2u/c)^2), s = b c / 2; to the right with b above 0
    slope = -10.0 / 2.0 * (1.0 - 0.6**2)
    assert steps == pytest.approx(slope * np.diff(bulges), rel=1e-3)


def test_distances_to_a_path_are_those_of_plain_sampling() -> None:
    points = np.random.default_rng(3).uniform(-10.0, 80.0, (40, 2))
    joined = bulged(SECTION)
    for point, off in zip(points, distances_to(joined, points), strict=True):
        assert off == pytest.approx(farthest(point[None], SECTION), abs=1e-5)


def test_kinks_are_corners_in_radians() -> None:
    bends = kinks(bulged(STEPPED))
    # the rounds start tangent; each leads down into a fillet: a left turn of 90 degrees
    expected = [0.0, 0.0, math.pi / 2, -math.pi / 2, 0.0, math.pi / 2, 0.0]
    assert bends == pytest.approx(expected, abs=1e-12)
    square = Path((0.0, 0.0)).line((1.0, 0.0)).line((1.0, 1.0)).line((0.0, 1.0)).line((0.0, 0.0))
    assert kinks(bulged(square)) == pytest.approx(math.pi / 2)


def test_tidied_rounds_points_and_keeps_sweeps() -> None:
    path = Path((0.0000004, -0.0000001)).arc((10.0000003, 0.0), (5.00000035, -0.00000005), "cw")
    whole = tidied(path, 5)
    assert whole.start == (0.0, 0.0)
    assert math.copysign(1.0, whole.start[1]) == 1.0
    assert whole.end == (10.0, 0.0)
    (arc,) = whole.segments
    assert isinstance(arc, Arc)
    assert arc.sweep == pytest.approx(-math.pi, abs=1e-7)


def test_a_flat_arc_is_a_line() -> None:
    joined = BulgePath(np.array([[0.0, 0.0], [1.0, 0.0]]), np.array([1e-9]))
    assert joined.path().segments == (Line((0.0, 0.0), (1.0, 0.0)),)
    higher = BulgePath(np.array([[0.0, 0.0], [1.0, 0.0]]), np.array([0.1]))
    (arc,) = higher.path().segments
    assert point_on(arc, 0.5) == pytest.approx((0.5, -0.05))

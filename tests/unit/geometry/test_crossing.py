from __future__ import annotations

import math

import pytest

from profilestack.geometry.crossing import (
    carriers_meeting,
    crossings_of,
    direction_at,
    distance_to,
    part_of,
    path_of,
    point_on,
    shares_at_level,
    shares_meeting,
    shares_of_extremes,
)
from profilestack.geometry.path import Arc, Line, Path, Segment

HALF = Arc((5.0, 0.0), (-5.0, 0.0), (0.0, 0.0), "ccw")
"""The upper half of a circle of radius 5 about the origin."""


def meeting_points(first: Segment, second: Segment) -> list[tuple[float, float]]:
    pairs = shares_meeting(first, second)
    for one, two in pairs:
        assert point_on(first, one) == pytest.approx(point_on(second, two), abs=1e-9)
    return sorted(point_on(first, one) for one, _ in pairs)


def test_places_on_pieces() -> None:
    assert point_on(Line((0.0, 0.0), (4.0, 2.0)), 0.25) == (1.0, 0.5)
    assert point_on(HALF, 0.5) == pytest.approx((0.0, 5.0))
    assert point_on(HALF, 1.0) == (-5.0, 0.0)
    assert direction_at(HALF, 0.5) == pytest.approx((-1.0, 0.0))
    back = Arc((-5.0, 0.0), (5.0, 0.0), (0.0, 0.0), "cw")
    assert direction_at(back, 0.5) == pytest.approx((1.0, 0.0))


def test_a_part_lies_on_its_piece() -> None:
    part = part_of(HALF, 0.25, 0.75)
    assert isinstance(part, Arc)
    assert part.length == pytest.approx(HALF.length / 2)
    assert part.center == HALF.center
    assert path_of([part_of(HALF, 0.0, 0.5), part_of(HALF, 0.5, 1.0)]).length == pytest.approx(
        HALF.length
    )


def test_lines_cross_in_one_point_or_none() -> None:
    level = Line((0.0, 1.0), (4.0, 1.0))
    assert meeting_points(level, Line((1.0, 0.0), (1.0, 3.0))) == [(1.0, 1.0)]
    assert meeting_points(level, Line((5.0, 0.0), (5.0, 3.0))) == []
    assert meeting_points(level, Line((0.0, 2.0), (4.0, 2.0))) == []
    assert carriers_meeting(level, Line((5.0, 0.0), (5.0, 0.5))) == [pytest.approx((5.0, 1.0))]


def test_a_line_crosses_a_circle_twice_touches_it_or_misses() -> None:
    across = Line((-9.0, 3.0), (9.0, 3.0))
    assert meeting_points(across, HALF) == [pytest.approx((-4.0, 3.0)), pytest.approx((4.0, 3.0))]
    assert meeting_points(HALF, Line((0.0, 3.0), (9.0, 3.0))) == [pytest.approx((4.0, 3.0))]
    touching = meeting_points(HALF, Line((-9.0, 5.0), (9.0, 5.0)))
    assert touching
    assert all(point == pytest.approx((0.0, 5.0), abs=1e-6) for point in touching)
    assert meeting_points(HALF, Line((-9.0, 5.1), (9.0, 5.1))) == []


def test_circles_cross_where_both_radii_agree() -> None:
    other = Arc((11.0, 0.0), (1.0, 0.0), (6.0, 0.0), "ccw")
    assert meeting_points(HALF, other) == [pytest.approx((3.0, 4.0))]
    assert len(carriers_meeting(HALF, other)) == 2
    assert meeting_points(HALF, Arc((16.0, 0.0), (6.0, 0.0), (11.0, 0.0), "ccw")) == []
    assert meeting_points(HALF, Arc((2.0, 0.0), (-2.0, 0.0), (0.0, 0.0), "ccw")) == []


def test_distances_end_at_the_ends_of_a_piece() -> None:
    line = Line((0.0, 0.0), (4.0, 0.0))
    assert distance_to(line, (2.0, 3.0)) == 3.0
    assert distance_to(line, (7.0, 4.0)) == 5.0
    assert distance_to(HALF, (0.0, 8.0)) == pytest.approx(3.0)
    assert distance_to(HALF, (0.0, 1.0)) == pytest.approx(4.0)
    assert distance_to(HALF, (5.0, -2.0)) == pytest.approx(2.0)
    assert distance_to(Line((1.0, 1.0), (1.0, 1.0)), (4.0, 5.0)) == 5.0


def test_levels_and_turning_points() -> None:
    assert shares_at_level(HALF, 1, 5.0 * math.sin(0.3)) == pytest.approx(
        [0.3 / math.pi, 1.0 - 0.3 / math.pi]
    )
    assert shares_at_level(HALF, 0, 0.0) == pytest.approx([0.5])
    assert shares_at_level(HALF, 1, 6.0) == []
    assert shares_at_level(Line((0.0, 0.0), (4.0, 2.0)), 1, 0.5) == [0.25]
    assert shares_at_level(Line((0.0, 2.0), (4.0, 2.0)), 1, 2.0) == []
    assert shares_of_extremes(HALF, 1) == pytest.approx([0.5])
    assert shares_of_extremes(HALF, 0) == []
    full = Arc((0.0, -5.0), (0.0, -5.0), (0.0, 0.0), "ccw")
    assert shares_of_extremes(full, 0) == pytest.approx([0.25, 0.75])


def test_a_path_that_crosses_itself_is_found_out() -> None:
    eight = Path((0.0, 0.0)).line((4.0, 4.0)).line((4.0, 0.0)).line((0.0, 4.0))
    assert crossings_of(eight) == [pytest.approx((2.0, 2.0))]
    loop = Path((-6.0, 4.0)).line((3.0, 4.0)).arc((-3.0, 4.0), (0.0, 0.0), "cw").line((-3.0, 9.0))
    assert crossings_of(loop) == [pytest.approx((-3.0, 4.0))]


def test_joints_and_the_closing_point_are_no_crossings() -> None:
    square = Path((0.0, 0.0)).line((4.0, 0.0)).line((4.0, 4.0)).line((0.0, 4.0)).line((0.0, 0.0))
    assert crossings_of(square) == []
    # tangent joints: S-wise, and turning straight back along a circle
    ogee = Path((0.0, 0.0)).arc((4.0, 4.0), (0.0, 4.0), "ccw").arc((9.0, 9.0), (9.0, 4.0), "cw")
    assert crossings_of(ogee) == []
    cusp = Path((0.0, 0.0)).line((9.0, 0.0)).arc((9.0, 12.0), (9.0, 6.0), "cw")
    assert crossings_of(cusp) == []

"""Exact offsets, against areas in closed form (Steiner's formula and its corners)."""

from __future__ import annotations

import math

import pytest

from profilestack.errors import GeometryError
from profilestack.geometry.crossing import distance_to, point_on
from profilestack.geometry.offset import Corners, offset_path
from profilestack.geometry.path import Arc, Line, Path

SQUARE = Path((0.0, 0.0)).line((8.0, 0.0)).line((8.0, 8.0)).line((0.0, 8.0)).line((0.0, 0.0))
ELL = (
    Path((0.0, 0.0))
    .line((8.0, 0.0))
    .line((8.0, 3.0))
    .line((3.0, 3.0))
    .line((3.0, 8.0))
    .line((0.0, 8.0))
    .line((0.0, 0.0))
)


def test_a_line_and_an_arc_move_to_the_left_or_right_of_travel() -> None:
    line = Path((0.0, 0.0)).line((4.0, 0.0))
    assert offset_path(line, 1.0).segments == (Line((0.0, 1.0), (4.0, 1.0)),)
    assert offset_path(line, -1.0).segments == (Line((0.0, -1.0), (4.0, -1.0)),)
    arc = Path((5.0, 0.0)).arc((0.0, 5.0), center=(0.0, 0.0), turn="ccw")
    for distance, radius in ((1.0, 4.0), (-1.0, 6.0)):
        (moved,) = offset_path(arc, distance).segments
        assert isinstance(moved, Arc)
        assert moved.radius == pytest.approx(radius)
        assert moved.center == (0.0, 0.0)
        assert moved.sweep == pytest.approx(math.pi / 2)


def test_no_distance_is_the_same_path() -> None:
    assert offset_path(ELL, 0.0) == ELL


@pytest.mark.parametrize(
    ("distance", "corners", "area"),
    [
        (1.5, "round", 5.0**2),
        (-1.5, "sharp", 11.0**2),
        (-1.5, "round", 8.0**2 + 4 * 8.0 * 1.5 + math.pi * 1.5**2),
    ],
)
def test_a_square_shrinks_sharp_and_grows_round_or_sharp(
    distance: float, corners: Corners, area: float
) -> None:
    moved = offset_path(SQUARE, distance, corners)
    assert moved.is_closed
    assert moved.signed_area == pytest.approx(area)


def test_a_corner_that_points_inward_gets_an_arc() -> None:
    moved = offset_path(ELL, 0.5)
    arcs = [piece for piece in moved.segments if isinstance(piece, Arc)]
    assert [(arc.center, arc.radius) for arc in arcs] == [((3.0, 3.0), pytest.approx(0.5))]
    # five outward corners each give back d^2, the inward one costs a quarter disc
    area = ELL.signed_area - 0.5 * ELL.length + 5 * 0.25 - math.pi / 4 * 0.25
    assert moved.signed_area == pytest.approx(area)


def test_that_corner_is_cut_sharp_on_the_other_side() -> None:
    moved = offset_path(ELL, -0.5, "sharp")
    # two strips of the L grown by half a millimetre on each side
    assert moved.signed_area == pytest.approx(9.0 * 4.0 + 4.0 * 5.0)
    assert all(isinstance(piece, Line) for piece in moved.segments)


def test_a_small_round_vanishes_and_its_neighbours_meet() -> None:
    rounded = (
        Path((1.0, 0.0))
        .line((9.0, 0.0))
        .arc((10.0, 1.0), center=(9.0, 1.0), turn="ccw")
        .line((10.0, 10.0))
        .line((0.0, 10.0))
        .line((0.0, 1.0))
        .arc((1.0, 0.0), center=(1.0, 1.0), turn="ccw")
    )
    moved = offset_path(rounded, 2.0)
    assert moved.signed_area == pytest.approx(36.0)
    assert all(isinstance(piece, Line) for piece in moved.segments)
    assert offset_path(rounded, 1.0).signed_area == pytest.approx(64.0)


def test_a_short_side_between_two_corners_vanishes() -> None:
    # a chamfer of 0.5: after 2 mm the two long sides meet in front of it
    chamfered = (
        Path((0.0, 0.0)).line((9.5, 0.0)).line((10.0, 0.5)).line((10.0, 10.0)).line((0.0, 10.0))
    ).line((0.0, 0.0))
    assert offset_path(chamfered, 2.0).signed_area == pytest.approx(36.0)


def test_a_full_circle_shrinks_until_nothing_is_left() -> None:
    circle = Path((5.0, 0.0)).arc((5.0, 0.0), center=(0.0, 0.0), turn="ccw")
    assert offset_path(circle, 2.0).signed_area == pytest.approx(math.pi * 9.0)
    assert offset_path(circle, -2.0).signed_area == pytest.approx(math.pi * 49.0)
    with pytest.raises(GeometryError, match="nothing is left"):
        offset_path(circle, 5.0)
    with pytest.raises(GeometryError, match="nothing is left"):
        offset_path(SQUARE, 4.0)


def test_what_falls_into_pieces_is_refused() -> None:
    waisted = (
        Path((0.0, 0.0)).line((8.0, 0.0)).line((4.5, 4.0)).line((8.0, 8.0)).line((0.0, 8.0))
    ).line((3.5, 4.0))
    waisted = waisted.line((0.0, 0.0))
    assert offset_path(waisted, 0.4).is_closed
    with pytest.raises(GeometryError, match="falls into pieces"):
        offset_path(waisted, 0.6)


def test_pieces_that_turn_straight_back_keep_their_sliver_or_their_gap() -> None:
    # a level line, then a half circle leaving it backward over its left side
    cusp = Path((0.0, 0.0)).line((9.0, 0.0)).arc((9.0, 12.0), center=(9.0, 6.0), turn="cw")
    inside = offset_path(cusp, 0.5)
    line, arc = inside.segments
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(6.5)
    assert line.end == pytest.approx((9.0 - math.sqrt(6.5**2 - 5.5**2), 0.5))
    outside = offset_path(cusp, -0.5)
    assert [type(piece) for piece in outside.segments] == [Line, Arc, Arc]
    assert [piece.radius for piece in outside.segments if isinstance(piece, Arc)] == [
        pytest.approx(0.5),
        pytest.approx(5.5),
    ]


def test_a_joint_that_is_smooth_but_for_rounding_moves_without_a_gap() -> None:
    for kink in (1e-3, 1e-5, 1e-7, 1e-9, 1e-12):
        for sign in (1.0, -1.0):
            slope = math.sin(sign * kink)
            path = Path((0.0, 0.0)).line((10.0, 0.0)).line((20.0, 10.0 * slope))
            for distance in (2.0, -2.0):
                moved = offset_path(path, distance)
                assert moved.length == pytest.approx(20.0, abs=2e-2)
                for piece in moved.segments:
                    middle = point_on(piece, 0.5)
                    near = min(distance_to(old, middle) for old in path.segments)
                    assert near == pytest.approx(2.0, abs=1e-9)


def test_every_place_is_just_as_far_away() -> None:
    path = (
        Path((0.0, 0.0))
        .line((3.0, 0.0))
        .arc((8.0, 5.0), center=(3.0, 5.0), turn="ccw")
        .arc((14.0, 11.0), center=(14.0, 5.0), turn="cw")
        .line((16.0, 20.0))
    )
    for distance in (0.5, 2.0, -0.5, -2.0):
        moved = offset_path(path, distance)
        for piece in moved.segments:
            for share in (0.1, 0.5, 0.9):
                near = min(distance_to(old, point_on(piece, share)) for old in path.segments)
                assert near == pytest.approx(abs(distance), abs=1e-9)

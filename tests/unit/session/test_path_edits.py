from __future__ import annotations

import math

import pytest

from profilestack.errors import InputError
from profilestack.geometry.path import Arc, Line, Path, Point
from profilestack.session.path_edits import (
    as_closed,
    as_lines,
    first_path,
    middle_of,
    points_of,
    with_bow,
    with_center,
    with_kind,
    with_point,
    with_point_added,
    with_radius,
    without_point,
)
from profilestack.stack import Blank, MemberTarget, PathTarget, Rectangle
from profilestack.targets.members import Member, MemberColumn

# a level, a quarter hollow of radius 10, a level
PATH = (
    Path((0.0, 20.0)).line((10.0, 20.0)).arc((20.0, 10.0), (20.0, 20.0), "ccw").line((40.0, 10.0))
)


def arc(path: Path, index: int = 1) -> Arc:
    piece = path.segments[index]
    assert isinstance(piece, Arc)
    return piece


def at(point: Point) -> object:
    return pytest.approx(point, abs=1e-9)


def is_sound(path: Path) -> bool:
    return all(
        math.isclose(math.dist(p.center, p.start), math.dist(p.center, p.end), abs_tol=1e-9)
        for p in path.segments
        if isinstance(p, Arc)
    )


def test_moved_point_takes_its_lines_and_keeps_angles() -> None:
    moved = with_point(PATH, 1, (5.0, 20.0))
    assert points_of(moved)[1] == (5.0, 20.0)
    assert arc(moved).sweep == pytest.approx(math.pi / 2)
    assert is_sound(moved)
    assert moved.segments[0] == Line((0.0, 20.0), (5.0, 20.0))
    assert moved.segments[2] == PATH.segments[2]


def test_ends_of_a_closed_path_are_one_point() -> None:
    square = Path((0.0, 0.0)).line((0.0, 9.0)).line((9.0, 9.0)).line((9.0, 0.0)).line((0.0, 0.0))
    moved = with_point(square, 4, (1.0, 1.0))
    assert moved.is_closed
    assert moved.start == (1.0, 1.0)


def test_point_does_not_go_onto_its_neighbour() -> None:
    with pytest.raises(InputError, match="lies on the point beside it"):
        with_point(PATH, 1, (20.0, 10.0))


@pytest.mark.parametrize("turn", ["cw", "ccw"])
def test_line_becomes_a_quarter_circle_and_back(turn: str) -> None:
    bent = with_kind(PATH, 0, turn)  # type: ignore[arg-type]
    assert arc(bent, 0).turn == turn
    assert abs(arc(bent, 0).sweep) == pytest.approx(math.pi / 2)
    assert is_sound(bent)
    assert with_kind(bent, 0, "line") == PATH


def test_turned_over_arc_bows_to_the_other_side() -> None:
    over = with_kind(PATH, 1, "cw")
    assert arc(over).center == at((10.0, 10.0))
    assert arc(over).sweep == pytest.approx(-math.pi / 2)
    assert with_kind(over, 1, "ccw").segments[1] == PATH.segments[1]


def test_radius_moves_the_centre_and_keeps_the_ends() -> None:
    wider = with_radius(PATH, 1, 15.0)
    assert arc(wider).radius == pytest.approx(15.0)
    assert points_of(wider) == points_of(PATH)
    assert arc(wider).turn == "ccw"
    assert is_sound(wider)


def test_radius_of_a_large_arc_keeps_it_large() -> None:
    large = Path((0.0, 0.0)).arc((10.0, 0.0), (5.0, 5.0), "cw")
    assert abs(arc(large, 0).sweep) > math.pi
    assert abs(arc(with_radius(large, 0, 9.0), 0).sweep) > math.pi


def test_radius_that_does_not_reach_is_refused() -> None:
    with pytest.raises(InputError, match=r"radius: 7 mm does not reach.*7.071 mm at least"):
        with_radius(PATH, 1, 7.0)


def test_centre_follows_from_one_number() -> None:
    moved = with_center(PATH, 1, x=25.0)
    assert arc(moved).center == at((25.0, 25.0))
    assert with_center(PATH, 1, z=25.0) == moved
    assert is_sound(moved)


def test_centre_that_no_circle_has_is_refused() -> None:
    level = Path((0.0, 0.0)).arc((10.0, 0.0), (5.0, 5.0), "cw")
    assert with_center(level, 0, z=2.0).steps != level.steps
    with pytest.raises(InputError, match="center: 4 mm is nearer to one end"):
        with_center(level, 0, x=4.0)


@pytest.mark.parametrize("off", [-8.0, -1.0, 1.0, 4.0, 8.0])
def test_bow_leads_through_the_handle(off: float) -> None:
    path = Path((0.0, 0.0)).line((10.0, 0.0))
    bent = with_bow(path, 0, (5.0, off))
    assert middle_of(bent.segments[0]) == at((5.0, off))
    assert is_sound(bent)
    assert with_bow(bent, 0, (5.0, 0.0)) == path


def test_point_is_added_without_changing_the_shape() -> None:
    for index in range(3):
        parted = with_point_added(PATH, index)
        assert len(parted.steps) == 4
        assert parted.length == pytest.approx(PATH.length)
        assert parted.signed_area == pytest.approx(PATH.signed_area)


def test_point_is_taken_out() -> None:
    assert points_of(without_point(PATH, 1)) == ((0.0, 20.0), (20.0, 10.0), (40.0, 10.0))
    assert without_point(PATH, 0).start == (10.0, 20.0)
    assert without_point(PATH, 3).end == (20.0, 10.0)
    with pytest.raises(InputError, match="one piece only"):
        without_point(Path((0.0, 0.0)).line((1.0, 0.0)), 0)


def test_members_become_lines_and_arcs_in_the_same_place() -> None:
    column = MemberColumn((Member("ovolo", 10.0, 10.0),), back=5.0, at=(1.0, 0.0))
    lines = as_lines(MemberTarget(column))
    assert lines.path().length == pytest.approx(column.path().length)
    assert lines.path().start == at(column.path().start)


def test_first_path_leads_across_the_blank() -> None:
    path = first_path(Blank(Rectangle(60.0, 20.0))).typed
    assert points_of(path) == ((0.0, 15.0), (30.0, 15.0), (60.0, 15.0))


def test_full_circle_is_changed_only_after_a_point_is_added() -> None:
    circle = Path((0.0, 0.0)).arc((0.0, 0.0), (5.0, 0.0), "cw")
    for change in (
        lambda path: with_radius(path, 0, 6.0),
        lambda path: with_center(path, 0, z=1.0),
        lambda path: with_bow(path, 0, (6.0, 1.0)),
        lambda path: with_kind(path, 0, "line"),
    ):
        with pytest.raises(InputError, match="full circle"):
            change(circle)
        change(with_point_added(circle, 0))


def test_closed_and_open_again() -> None:
    whole = as_closed(PathTarget(PATH), True)
    assert whole.closed
    assert whole.typed.is_closed
    assert as_closed(whole, False) == PathTarget(PATH)

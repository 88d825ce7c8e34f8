from __future__ import annotations

import pytest

from profilestack.errors import InputError
from profilestack.geometry.path import Path
from profilestack.targets.seating import led_to_sides, seat_for, walked
from tests.unit.targets.profiles import SECTION, STEPPED

UPRIGHT = Path((55.0, 62.0)).line((55.0, 40.0)).line((10.0, 20.0)).line((10.0, 0.0))
"""A crown's face as it hangs: wood at its left."""


@pytest.mark.parametrize(
    ("wood", "path", "start"),
    [
        ("below", STEPPED, (0.0, 45.0)),
        ("below", STEPPED.reversed(), (0.0, 45.0)),
        ("above", STEPPED, (70.0, 5.0)),
        ("left", UPRIGHT, (55.0, 62.0)),
        ("left", UPRIGHT.reversed(), (55.0, 62.0)),
        ("right", UPRIGHT, (10.0, 0.0)),
    ],
)
def test_the_wood_comes_to_the_right_hand(
    wood: str, path: Path, start: tuple[float, float]
) -> None:
    assert walked(path, wood).start == start  # type: ignore[arg-type]  # the parameters' words


def test_a_closed_path_runs_clockwise() -> None:
    assert walked(SECTION, "below").signed_area < 0.0
    assert walked(SECTION.reversed(), "below").signed_area < 0.0


def test_a_profile_that_does_not_run_that_way_is_asked_about() -> None:
    upright = Path((10.0, 60.0)).line((30.0, 30.0)).line((10.0, 0.0))
    with pytest.raises(InputError, match="wood"):
        walked(upright, "below")
    assert walked(upright, "left").start == (10.0, 60.0)


def test_the_blank_is_the_profile_s_box_and_a_margin_where_the_wood_is() -> None:
    seat = seat_for(STEPPED, "below", None, None, None, None)
    assert (seat.width, seat.thickness) == (70.0, 40.0 + 8.0)
    assert seat.shift == (0.0, 8.0 - 5.0)
    left = seat_for(UPRIGHT, "left", None, None, 12.0, None)
    assert (left.width, left.thickness) == (45.0 + 12.0, 62.0)
    assert left.shift == (12.0 - 10.0, 0.0)


def test_in_a_blank_that_is_given_the_profile_lies_against_the_other_sides() -> None:
    seat = seat_for(STEPPED, "below", 80.0, 60.0, None, None)
    assert (seat.width, seat.thickness) == (80.0, 60.0)
    assert seat.shift == (0.0, 60.0 - 45.0)


def test_a_closed_section_fills_its_blank() -> None:
    seat = seat_for(SECTION, "below", None, None, None, None)
    assert (seat.width, seat.thickness, seat.shift) == (70.0, 45.0, (0.0, 0.0))
    roomy = seat_for(SECTION, "below", None, None, 3.0, None)
    assert (roomy.width, roomy.thickness, roomy.shift) == (76.0, 51.0, (3.0, 3.0))


def test_a_place_that_is_said_counts() -> None:
    seat = seat_for(STEPPED, "below", 90.0, 50.0, None, (4.0, 1.0))
    assert seat.shift == (4.0, 1.0)


def test_ends_inside_are_led_on_level_and_told() -> None:
    path, notes = led_to_sides(STEPPED, "below", 80.0, 60.0)
    assert path.start == (0.0, 45.0)
    assert path.end == (80.0, 5.0)
    assert notes == ["its end was led on level by 10.00 mm to the blank's side"]


def test_an_end_that_cannot_go_level_goes_out_through_the_waste() -> None:
    hooked = Path((10.0, 30.0)).line((5.0, 30.0)).line((5.0, 10.0)).line((60.0, 10.0))
    path, notes = led_to_sides(hooked, "below", 60.0, 40.0)
    assert path.start == (10.0, 40.0)
    assert notes == ["its start was led on upright by 10.00 mm to the blank's side"]


def test_an_end_that_can_go_nowhere_stays() -> None:
    inward = Path((20.0, 20.0)).line((10.0, 20.0)).line((10.0, 30.0)).line((40.0, 30.0))
    inward = inward.line((40.0, 10.0)).line((60.0, 10.0))
    path, notes = led_to_sides(inward, "below", 60.0, 40.0)
    assert path == inward
    assert notes == []


def test_straight_ends_that_almost_reach_are_put_upon_the_side() -> None:
    nearly = Path((0.004, 39.997)).line((30.0, 39.9)).line((69.999, 5.0))
    path, notes = led_to_sides(nearly, "below", 70.0, 40.0)
    assert path.start == (0.0, 40.0)
    assert path.end == (70.0, 5.0)
    assert notes == []


def test_a_line_along_the_blank_s_face_goes_on_to_its_corner() -> None:
    along = Path((3.0, 45.001)).line((10.0, 45.0)).line((20.0, 20.0)).line((60.0, 20.0))
    path, notes = led_to_sides(along, "below", 60.0, 45.0)
    assert path.start == (0.0, 45.0)
    assert path.steps[0].to == (10.0, 45.0)
    assert notes == []
    # but one that comes from the face down into the wood stays
    down = Path((3.0, 45.0)).line((10.0, 40.0)).line((60.0, 40.0))
    assert led_to_sides(down, "below", 60.0, 45.0)[0].start == (3.0, 45.0)


def test_a_level_end_grows_instead_of_getting_a_second_piece() -> None:
    path, _ = led_to_sides(STEPPED, "below", 80.0, 60.0)
    assert len(path.steps) == len(STEPPED.steps)

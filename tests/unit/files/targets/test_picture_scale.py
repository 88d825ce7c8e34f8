"""A picture's scale by two places and a length."""

from __future__ import annotations

import math

import pytest

from profilestack.errors import InputError
from profilestack.files.targets.picture_scale import pixels_between, scale_by_points
from profilestack.files.targets.wishes import PictureWishes, ReadingWishes


def test_the_scale_is_length_by_pixels() -> None:
    assert scale_by_points((100.0, 50.0, 400.0, 450.0), 25.0) == pytest.approx(25.0 / 500.0)
    assert scale_by_points((400.0, 450.0, 100.0, 50.0), 25.0) == pytest.approx(0.05)
    assert pixels_between((0.0, 3.0, 4.0, 0.0)) == 5.0


@pytest.mark.parametrize(
    ("points", "distance", "told"),
    [
        ((7.0, 9.5, 7.0, 9.5), 10.0, "points: both lie at 7, 9.5 pixels; expected two places"),
        ((0.0, 0.0, 3.0, 4.0), 10.0, "points: lie 5.0 pixels apart; expected two places far apart"),
        ((0.0, 0.0, 300.0, 0.0), 0.0, "distance: 0.0 mm is impossible; expected a length above 0"),
        ((0.0, 0.0, 300.0, 0.0), -5.0, "distance: -5.0 mm is impossible"),
        ((0.0, 0.0, 300.0, 0.0), math.nan, "distance: nan mm is impossible"),
        ((0.0, math.inf, 300.0, 0.0), 10.0, "are no points"),
    ],
)
def test_what_gives_no_scale_is_refused(
    points: tuple[float, float, float, float], distance: float, told: str
) -> None:
    with pytest.raises(InputError) as caught:
        scale_by_points(points, distance)
    assert told in str(caught.value)
    # and before any file is read
    with pytest.raises(InputError) as early:
        ReadingWishes(picture=PictureWishes(points=points, distance=distance))
    assert str(early.value) == str(caught.value)


def test_both_mistakes_are_told_at_once() -> None:
    with pytest.raises(InputError) as caught:
        scale_by_points((1.0, 1.0, 1.0, 1.0), 0.0)
    assert [problem.where for problem in caught.value.problems] == ["points", "distance"]

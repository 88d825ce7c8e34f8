"""What lies at a place: who cut it, how far it is off, in words."""

from __future__ import annotations

import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Straight
from profilestack.drawing.wording import fine_text
from profilestack.geometry.path import Path
from profilestack.jobs.cut import CutReport, cut_and_judge
from profilestack.session.whereabouts import (
    FineText,
    deviation_words,
    length_text,
    stroke_at,
    surface_near,
    words_at,
)
from profilestack.stack import Blank, Pass, PathTarget, Rectangle, Stack, StraightRun

FLAT = Bit("flat", Straight(10.0), cutting_length=30.0, shank=6.0, length=90.0)


@pytest.fixture
def report() -> CutReport:
    """Two overlapping grooves, 10 wide: the first 4 deep at 20, the second 8 deep at 26."""
    stack = Stack(
        blank=Blank(Rectangle(60.0, 30.0)),
        run=StraightRun(1000.0),
        target=PathTarget(Path((0.0, 26.0)).line((60.0, 26.0))),
        passes=(
            Pass("flat", 20.0, 4.0),
            Pass("flat", 50.0, 9.0, on=False),
            Pass("flat", 26.0, 8.0),
        ),
    )
    return cut_and_judge(stack, {"flat": FLAT})


@pytest.mark.parametrize(
    ("place", "number"),
    [((17.0, 28.0), 1), ((23.0, 28.0), 1), ((23.0, 24.0), 3), ((29.0, 28.0), 3)],
)
def test_the_first_pass_that_comes_to_a_place_takes_it(
    report: CutReport, place: tuple[float, float], number: int
) -> None:
    found = stroke_at(report.cut, place)
    assert found is not None
    assert report.cut.strokes[found].number == number


def test_in_the_wood_there_is_no_pass_but_near_its_edge(report: CutReport) -> None:
    assert stroke_at(report.cut, (5.0, 10.0)) is None
    assert stroke_at(report.cut, (14.7, 28.0)) is None
    assert stroke_at(report.cut, (14.7, 28.0), reach=0.5) is not None


@pytest.mark.parametrize(
    ("place", "at", "number"),
    [
        ((18.0, 27.5), (18.0, 26.0), 1),
        ((26.0, 24.0), (26.0, 22.0), 3),
        ((5.0, 29.0), (5.0, 30.0), 0),
        ((50.0, 29.0), (50.0, 30.0), 0),  # that pass is off
    ],
)
def test_a_surface_knows_the_pass_that_made_it(
    report: CutReport, place: tuple[float, float], at: tuple[float, float], number: int
) -> None:
    found = surface_near(report.cut, place)
    assert found is not None
    assert found.at == pytest.approx(at)
    assert found.number == number


def test_a_place_in_words(report: CutReport) -> None:
    assert words_at(report, (26.0, 23.0), "mm") == (
        "x 26.00 mm   z 23.00 mm  ·  overcut −4.00 mm (gouge)  ·  cut by pass 3, flat"
    )
    # from the profile at 5 it is 10 mm to the groove, which begins at 15: the nearest removed stock
    assert words_at(report, (5.0, 29.0), "in") == (
        "x 0.197 in   z 1.142 in  ·  leftover +0.394 in (proud)  ·  face of the blank"
    )
    assert "on the wanted profile" in words_at(report, (17.0, 26.5), "mm")


def test_small_deviations_are_none() -> None:
    assert deviation_words(0.004, "mm") == "on the wanted profile"
    assert deviation_words(-0.006, "mm") == "overcut −0.01 mm (gouge)"


def test_coordinates_keep_their_digits() -> None:
    assert length_text(3.0, "mm") == "3.00 mm"
    assert length_text(12.7, "in") == "1/2 in"


@pytest.mark.parametrize("units", ["mm", "in"])
def test_quick_numbers_say_what_the_slow_ones_do(units: str) -> None:
    text_of = FineText(units)
    for k in range(200):
        value = 0.0137 * k
        assert text_of(value) == fine_text(value, units)


@pytest.mark.parametrize("place", [(-2.0, 20.0), (62.0, 20.0), (30.0, -2.0)])
def test_beside_the_blank_there_is_no_surface(
    report: CutReport, place: tuple[float, float]
) -> None:
    words = words_at(report, place, "mm")
    assert words.endswith("  ·  beside the blank")
    assert "pass" not in words

"""The document's own checks: what a stack, a pass, a setup, a run, a blank may be."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from profilestack.errors import InputError
from profilestack.geometry.path import Path
from profilestack.stack import (
    FACE,
    Blank,
    CurvedRun,
    OutlineStock,
    Pass,
    Rectangle,
    Round,
    Run,
    Setup,
    Stack,
    StraightRun,
    Tolerance,
    TurnedRun,
)
from tests.shop import board, straight

NAN, INF = float("nan"), float("inf")


def wheres(make: Callable[[], object]) -> list[str]:
    """Where the problems are that making a value raises."""
    with pytest.raises(InputError) as caught:
        make()
    return [problem.where for problem in caught.value.problems]


def stack(run: Run | None = None, **keys: object) -> Stack:
    return Stack(blank=board(), run=run or StraightRun(1000.0), **keys)  # type: ignore[arg-type]


@pytest.mark.parametrize("value", [0.0, -1.0, NAN, INF, 1e7])
def test_a_blank_has_sizes(value: float) -> None:
    assert wheres(lambda: Blank(Rectangle(value, 20.0))) == ["width"]
    assert wheres(lambda: Blank(Rectangle(20.0, value))) == ["thickness"]
    assert wheres(lambda: Blank(Rectangle(value, value))) == ["width", "thickness"]
    assert wheres(lambda: Blank(Round(value))) == ["diameter"]


def test_outlines_run_counter_clockwise_from_the_lower_left_of_their_box() -> None:
    triangle = Path((0.0, 0.0)).line((30.0, 0.0)).line((10.0, 20.0)).line((0.0, 0.0))
    for path in (triangle, triangle.reversed()):
        assert Blank(OutlineStock(path)).outline().signed_area == pytest.approx(300.0)
    assert Blank(Rectangle(60.0, 30.0)).outline().signed_area == pytest.approx(1800.0)
    assert Blank(Round(20.0)).outline().signed_area == pytest.approx(100 * math.pi)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (Path((0.0, 0.0)).line((30.0, 0.0)).line((10.0, 20.0)), "a closed path"),
        (Path((0.0, 0.0)).line((30.0, 0.0)).line((0.0, 0.0)), "encloses nothing"),
        (
            Path((2.0, 1.0)).line((32.0, 1.0)).line((12.0, 21.0)).line((2.0, 1.0)),
            r"by \(-2\.000, -1\.000\)",
        ),
    ],
)
def test_an_outline_that_is_none_is_refused(path: Path, words: str) -> None:
    with pytest.raises(InputError, match=words):
        Blank(OutlineStock(path))


@pytest.mark.parametrize("value", [0.0, -1.0, NAN])
def test_a_run_has_its_measures(value: float) -> None:
    assert wheres(lambda: StraightRun(value)) == ["length"]
    assert wheres(lambda: CurvedRun(value, 90.0)) == ["radius"]
    assert wheres(lambda: CurvedRun(500.0, value)) == ["angle"]
    assert wheres(lambda: TurnedRun(pieces=0)) == ["pieces"]


def test_a_curve_goes_round_once_at_most() -> None:
    assert CurvedRun(500.0, 360.0).angle == 360.0
    assert wheres(lambda: CurvedRun(500.0, 360.1)) == ["angle"]


def test_volumes_of_runs() -> None:
    assert StraightRun(10.0).volume(3.0, (30.0, 15.0)) == 30.0
    assert CurvedRun(100.0, 180.0).volume(3.0, (30.0, 15.0)) == pytest.approx(3 * 110 * math.pi)
    assert TurnedRun().volume(3.0, (30.0, 15.0)) == pytest.approx(15.0 * math.tau)


@pytest.mark.parametrize("value", [-0.1, NAN, INF])
def test_tolerances_are_not_negative(value: float) -> None:
    assert wheres(lambda: Tolerance(value, value)) == ["leftover", "overcut"]


def test_usual_tolerances() -> None:
    assert (Tolerance().leftover, Tolerance().overcut) == (0.30, 0.10)


@pytest.mark.parametrize(
    ("keys", "where"),
    [
        ({"name": ""}, ["name"]),
        ({"angle": NAN}, ["angle"]),
        ({"angle": 361.0}, ["angle"]),
        ({"copies": 0}, ["copies"]),
        ({"copies": 361}, ["copies"]),
        ({"name": "", "angle": INF, "copies": 0}, ["name", "angle", "copies"]),
    ],
)
def test_a_setup_says_how_the_blank_lies(keys: dict[str, object], where: list[str]) -> None:
    assert wheres(lambda: replace(Setup("edge", 90.0, 2), **keys)) == where  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("keys", "where"),
    [
        ({"bit": ""}, ["bit"]),
        ({"offset": NAN}, ["offset"]),
        ({"offset": 1e7}, ["offset"]),
        ({"depth": 0.0}, ["depth"]),
        ({"depth": -1.0}, ["depth"]),
        ({"depth": INF}, ["depth"]),
        ({"count": 0}, ["count"]),
        ({"count": 1001, "pitch": 1.0}, ["count"]),
        ({"count": 2}, ["pitch"]),
        ({"pitch": NAN, "count": 2}, ["pitch"]),
    ],
)
def test_a_pass_has_offset_and_depth(keys: dict[str, object], where: list[str]) -> None:
    assert wheres(lambda: replace(Pass("ball", -5.0, 3.0), **keys)) == where  # type: ignore[arg-type]


def test_the_face_always_exists_and_is_not_made_again() -> None:
    assert stack().setup("face") is FACE
    assert wheres(lambda: stack(setups=(Setup("face", 0.0),))) == ["setup[1].name"]
    twice = (Setup("edge", 90.0), Setup("edge", -90.0))
    assert wheres(lambda: stack(setups=twice)) == ["setup[2].name"]


def test_a_pass_lies_in_a_setup_that_exists() -> None:
    passes = (Pass("ball", 5.0, 3.0, setup="edge"), Pass("ball", 5.0, 3.0, setup="egde"))
    with pytest.raises(InputError) as caught:
        stack(setups=(Setup("edge", 90.0),), passes=passes)
    (problem,) = caught.value.problems
    assert problem.where == "pass[2].setup"
    assert problem.hint == "did you mean 'edge'?"


@pytest.mark.parametrize(
    ("run", "setup", "words"),
    [
        (TurnedRun(), Setup("back", 180.0), "from its face alone"),
        (CurvedRun(500.0, 90.0), Setup("edge", 90.0), "neither on edge nor on a wedge"),
        (CurvedRun(500.0, 90.0), Setup("tipped", 12.0), "neither on edge nor on a wedge"),
        (CurvedRun(500.0, 90.0), Setup("around", 0.0, 4), "cannot be turned about itself"),
    ],
)
def test_setups_that_a_run_cannot_take_are_refused(run: Run, setup: Setup, words: str) -> None:
    with pytest.raises(InputError, match=words):
        stack(run, setups=(setup,))


@pytest.mark.parametrize("angle", [0.0, 180.0, -180.0, 360.0])
def test_a_curved_blank_may_be_turned_over(angle: float) -> None:
    over = stack(CurvedRun(500.0, 90.0), setups=(Setup("back", angle),))
    assert over.setup("back").angle == angle


@pytest.mark.parametrize(
    ("begin", "end"),
    [(-1.0, 500.0), (500.0, 500.0), (600.0, 500.0), (None, 1000.5), (1000.0, None)],
)
def test_a_stopped_pass_is_a_stretch_of_the_part(begin: float | None, end: float | None) -> None:
    single = Pass("ball", 5.0, 3.0, begin=begin, end=end)
    assert wheres(lambda: stack(passes=(single,))) == ["pass[1]"]


@pytest.mark.parametrize("run", [CurvedRun(500.0, 90.0), TurnedRun()])
def test_only_straight_parts_have_stopped_passes(run: Run) -> None:
    single = Pass("ball", 5.0, 3.0, begin=10.0)
    assert wheres(lambda: stack(run, passes=(single,))) == ["pass[1]"]


def test_carried_bits_have_names_of_their_own() -> None:
    assert wheres(lambda: stack(bits=(straight(6.0), straight(6.0)))) == ["bit[2].id"]


def test_all_problems_come_at_once() -> None:
    found = wheres(
        lambda: stack(
            units="cm",
            setups=(Setup("face", 0.0),),
            passes=(Pass("ball", 5.0, 3.0, setup="no"), Pass("ball", 5.0, 3.0, end=2000.0)),
            bits=(straight(6.0), straight(6.0)),
        )
    )
    assert found == ["units", "setup[1].name", "pass[1].setup", "pass[2]", "bit[2].id"]

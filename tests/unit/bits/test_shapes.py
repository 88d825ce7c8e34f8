"""Each shape's path against its formula r(h), worked out here from the keys alone."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest

from profilestack.bits import SHAPES, Bit, edge_path, radius_at
from profilestack.errors import InputError
from profilestack.geometry.path import Path

Formula = Callable[[float], float]


@dataclass(frozen=True)
class Case:
    word: str
    keys: dict[str, Any]
    radius: Formula
    top: float


def sqrt0(value: float) -> float:
    return math.sqrt(max(0.0, value))


def ogee(h: float) -> float:
    flat, r1, r2 = 1.5, 4.0, 5.0
    if h <= r1:
        return flat + sqrt0(r1**2 - (r1 - h) ** 2)
    return flat + r1 + r2 - sqrt0(r2**2 - (h - r1) ** 2)


def reverse_ogee(h: float) -> float:
    flat, r1, r2 = 1.5, 4.0, 5.0
    if h <= r2:
        return flat + r2 - sqrt0(r2**2 - h**2)
    return flat + r2 + sqrt0(r1**2 - (r1 - (h - r2)) ** 2)


def taper_ball(h: float) -> float:
    radius, lean = 1.5, math.radians(5.0)
    joint = radius * (1.0 - math.sin(lean))
    if h <= joint:
        return sqrt0(radius**2 - (radius - h) ** 2)
    return radius * math.cos(lean) + (h - joint) * math.tan(lean)


CASES = [
    Case("straight", {"diameter": 12.7}, lambda h: 6.35, 0.0),
    Case("core-box", {"diameter": 12.7}, lambda h: sqrt0(6.35**2 - (6.35 - h) ** 2), 6.35),
    Case(
        "v-groove",
        {"diameter": 12.7, "angle": 60.0, "tip": 0.5},
        lambda h: 0.25 + h * math.tan(math.radians(30.0)),
        6.1 / math.tan(math.radians(30.0)),
    ),
    Case("cove", {"radius": 6.0, "tip": 3.0}, lambda h: 1.5 + sqrt0(36 - (6 - h) ** 2), 6.0),
    Case("roundover", {"radius": 6.0, "tip": 3.0}, lambda h: 7.5 - sqrt0(36 - h**2), 6.0),
    Case("ogee", {"cove_radius": 4.0, "round_radius": 5.0, "tip": 3.0}, ogee, 9.0),
    Case("reverse-ogee", {"cove_radius": 4.0, "round_radius": 5.0, "tip": 3.0}, reverse_ogee, 9.0),
    Case("bullnose", {"radius": 6.0, "tip": 4.0}, lambda h: 8.0 - sqrt0(36 - (h - 6) ** 2), 12.0),
    Case(
        "dovetail",
        {"diameter": 12.7, "angle": 14.0},
        lambda h: 6.35 - h * math.tan(math.radians(14.0)),
        25.0,
    ),
    Case(
        "taper-ball",
        {"radius": 1.5, "angle": 5.0, "diameter": 6.0},
        taper_ball,
        1.5 * (1 - math.sin(math.radians(5)))
        + (3.0 - 1.5 * math.cos(math.radians(5))) / math.tan(math.radians(5)),
    ),
    Case(
        "outline",
        {"outline": Path((1.0, 0.0)).line((3.0, 4.0)).arc((7.0, 8.0), (7.0, 4.0), "cw")},
        lambda h: 1.0 + h / 2.0 if h <= 4.0 else 7.0 - sqrt0(16.0 - (h - 4.0) ** 2),
        8.0,
    ),
]


def bit_of(case: Case, cutting_length: float) -> Bit:
    return Bit("it", SHAPES[case.word](**case.keys), cutting_length, 12.7, 120.0)


def test_every_shape_has_a_case() -> None:
    assert sorted(case.word for case in CASES) == sorted(SHAPES)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.word)
def test_the_path_follows_the_formula(case: Case) -> None:
    bit = bit_of(case, max(case.top, 1.0))
    top = case.top or bit.cutting_length
    for step in range(1, 200):
        height = top * step / 200.0
        assert radius_at(bit, height) == pytest.approx(case.radius(height), abs=1e-9)


# a dovetail's formula ends where the bit closes, which no edge may reach
@pytest.mark.parametrize(
    "case", [case for case in CASES if case.word != "dovetail"], ids=lambda case: case.word
)
def test_above_the_formula_the_edge_goes_straight_up(case: Case) -> None:
    edge = edge_path(bit_of(case, case.top + 5.0))
    last = case.radius(case.top)
    assert edge.end == pytest.approx((last, case.top + 5.0))
    assert edge.segments[-1].start == pytest.approx((last, case.top), abs=1e-9)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.word)
def test_below_the_formulas_end_the_edge_is_cut_off(case: Case) -> None:
    length = max(case.top * 0.61, 1.0)
    edge = edge_path(bit_of(case, length))
    assert edge.end == pytest.approx((case.radius(min(length, case.top or length)), length))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.word)
def test_the_edge_starts_on_the_axis_at_the_lowest_point(case: Case) -> None:
    edge = SHAPES[case.word](**case.keys).edge()
    assert edge.start == (0.0, 0.0)
    assert edge.flatten(0.001)[:, 1].min() == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.word)
def test_size_is_the_largest_diameter_of_the_formula(case: Case) -> None:
    shape = SHAPES[case.word](**case.keys)
    heights = [case.top * step / 1000.0 for step in range(1001)]
    assert shape.size == pytest.approx(2.0 * max(map(case.radius, heights)))


IMPOSSIBLE: list[tuple[str, dict[str, Any], str]] = [
    ("straight", {"diameter": 0.0}, "diameter"),
    ("straight", {"diameter": math.nan}, "diameter"),
    ("core-box", {"diameter": -1.0}, "diameter"),
    ("core-box", {"diameter": math.inf}, "diameter"),
    ("v-groove", {"diameter": 12.7, "angle": 0.5}, "angle"),
    ("v-groove", {"diameter": 12.7, "angle": 179.5}, "angle"),
    ("v-groove", {"diameter": 12.7, "angle": math.nan}, "angle"),
    ("v-groove", {"diameter": 12.7, "angle": 90.0, "tip": 12.7}, "tip"),
    ("v-groove", {"diameter": 12.7, "angle": 90.0, "tip": -0.1}, "tip"),
    ("cove", {"radius": 0.0}, "radius"),
    ("cove", {"radius": 3.0, "tip": -1.0}, "tip"),
    ("roundover", {"radius": -3.0}, "radius"),
    ("roundover", {"radius": 3.0, "tip": math.inf}, "tip"),
    ("ogee", {"cove_radius": 0.0, "round_radius": 3.0}, "cove_radius"),
    ("ogee", {"cove_radius": 3.0, "round_radius": 0.0}, "round_radius"),
    ("reverse-ogee", {"cove_radius": 3.0, "round_radius": -1.0}, "round_radius"),
    ("bullnose", {"radius": 0.0, "tip": 4.0}, "radius"),
    ("bullnose", {"radius": 6.0}, "tip"),
    ("dovetail", {"diameter": 12.7, "angle": 0.0}, "angle"),
    ("dovetail", {"diameter": 12.7, "angle": 90.0}, "angle"),
    ("taper-ball", {"radius": 3.0, "angle": 5.0, "diameter": 5.9}, "diameter"),
    ("taper-ball", {"radius": 3.0, "angle": 0.0, "diameter": 8.0}, "angle"),
    ("outline", {"outline": Path((1.0, 0.0))}, "outline"),
    ("outline", {"outline": Path((1.0, 0.0)).line((-1.0, 4.0))}, "outline"),
    ("outline", {"outline": Path((1.0, 0.5)).line((2.0, 4.0))}, "outline"),
    ("outline", {"outline": Path((1.0, 0.0)).line((2.0, 0.0))}, "outline"),
    # comes back to the axis; ends below its top; crosses itself
    ("outline", {"outline": Path((1.0, 0.0)).line((3.0, 2.0)).line((0.0, 5.0))}, "outline"),
    ("outline", {"outline": Path((1.0, 0.0)).line((3.0, 5.0)).line((6.0, 2.0))}, "outline"),
    (
        "outline",
        {
            "outline": Path((1.0, 0.0))
            .line((6.0, 4.0))
            .line((6.0, 1.0))
            .line((2.0, 4.0))
            .line((2.0, 6.0))
        },
        "outline",
    ),
]


@pytest.mark.parametrize(("word", "keys", "where"), IMPOSSIBLE)
def test_an_impossible_shape_is_refused_by_its_key(
    word: str, keys: dict[str, Any], where: str
) -> None:
    with pytest.raises(InputError) as caught:
        SHAPES[word](**keys)
    assert where in [problem.where for problem in caught.value.problems]


def test_all_that_is_wrong_with_a_shape_is_told_at_once() -> None:
    with pytest.raises(InputError) as caught:
        SHAPES["v-groove"](diameter=-1.0, angle=200.0, tip=-2.0)
    assert [problem.where for problem in caught.value.problems] == ["diameter", "tip", "angle"]


def test_a_dovetail_that_closes_below_its_end_is_refused() -> None:
    shape = SHAPES["dovetail"](diameter=12.7, angle=14.0)
    closes = 6.35 / math.tan(math.radians(14.0))
    assert Bit("it", shape, closes - 0.01, 6.35, 80.0).cutting_length < closes
    with pytest.raises(InputError) as caught:
        Bit("it", shape, closes + 0.01, 6.35, 80.0)
    assert [problem.where for problem in caught.value.problems] == ["angle"]


def test_an_outline_cut_off_before_its_lowest_point_is_refused() -> None:
    hollow = Path((2.0, 3.0)).line((2.0, 4.0)).line((4.0, 4.0)).line((4.0, 0.0)).line((8.0, 9.0))
    shape = SHAPES["outline"](outline=hollow)
    assert edge_path(Bit("it", shape, 5.0, 6.35, 80.0)).start == (0.0, 3.0)
    for too_short in (2.0, 3.5):
        with pytest.raises(InputError) as caught:
            Bit("it", shape, too_short, 6.35, 80.0)
        assert [problem.where for problem in caught.value.problems] == ["cutting_length"]

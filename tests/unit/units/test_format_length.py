"""Lengths shown to people."""

from __future__ import annotations

import math

import pytest

from profilestack.errors import InputError
from profilestack.units import format_length, to_units


@pytest.mark.parametrize(
    ("mm", "text"),
    [
        (25.4, "1 in"),
        (34.925, "1-3/8 in"),
        (-34.925, "-1-3/8 in"),
        (12.7, "1/2 in"),
        (25.4 / 64, "1/64 in"),
        (25.4 * 63 / 64, "63/64 in"),
        (0.0, "0 in"),
        (-0.0, "0 in"),
        (25.4 / 128, "0.008 in"),
        (19.0, "0.748 in"),
        (25.4 * 2.0005, "2.001 in"),
    ],
)
def test_inches_are_fractions_where_these_are_exact(mm: float, text: str) -> None:
    assert format_length(mm, "in") == text


@pytest.mark.parametrize(
    ("mm", "step", "text"),
    [
        (19.0, None, "19 mm"),
        (12.7, None, "12.7 mm"),
        (34.925, None, "34.93 mm"),
        (-34.925, None, "-34.93 mm"),
        (34.925, 0.001, "34.925 mm"),
        (34.925, 1.0, "35 mm"),
        (120.0, 1.0, "120 mm"),
        (0.004, None, "0 mm"),
        (-0.004, None, "0 mm"),
        (1.005, 0.01, "1.01 mm"),
        (1e6, None, "1000000 mm"),
    ],
)
def test_millimetres_have_the_step_s_decimals(mm: float, step: float | None, text: str) -> None:
    assert format_length(mm, "mm", step) == text


def test_the_step_of_inches_is_in_inches() -> None:
    assert format_length(19.0, "in", 0.1) == "0.7 in"


def test_what_is_not_finite_is_shown_as_such() -> None:
    assert format_length(math.inf, "mm") == "inf mm"
    assert to_units(math.inf, "in") == math.inf


def test_unknown_units_are_refused() -> None:
    with pytest.raises(InputError, match="units"):
        format_length(1.0, "cm")


def test_numbers_in_units() -> None:
    assert to_units(34.925, "in") == 1.375
    assert to_units(34.925, "mm") == 34.925

"""Lengths as they stand in files."""

from __future__ import annotations

import numpy as np
import pytest

from profilestack.units import file_length, format_length, from_units, parse_length


@pytest.mark.parametrize(
    ("mm", "units", "written"),
    [
        (62.0, "mm", 62),
        (0.3, "mm", 0.3),
        (12.345678901234567, "mm", 12.345678901234567),
        (1e-9, "mm", 1e-9),
        (34.925, "in", 1.375),
        (25.4, "in", 1),
        (2.54, "in", 0.1),
        (19.0, "in", "19 mm"),
        (-19.0, "in", "-19 mm"),
        (0.3, "in", "0.3 mm"),
        (12.34567, "in", 0.48605),
        (0.0, "in", 0),
    ],
)
def test_a_length_is_written_the_short_way(
    mm: float, units: str, written: int | float | str
) -> None:
    assert file_length(mm, units) == written
    assert type(file_length(mm, units)) is type(written)


def test_a_tenth_of_an_inch_is_the_same_however_it_is_given() -> None:
    assert from_units(0.1, "in") == parse_length("0.1 in", None) == 2.54
    assert from_units(3, "in") == 76.2
    assert from_units(0.1, "mm") == 0.1


def test_a_length_too_small_for_a_text_is_still_written() -> None:
    assert isinstance(file_length(1e-300, "in"), float)


def test_numbers_of_the_array_library_are_floats_too() -> None:
    assert from_units(np.float64(1.375), "in") == 34.925
    assert file_length(np.float64(34.925), "in") == 1.375
    assert file_length(np.float64(19.0), "in") == "19 mm"
    assert format_length(np.float64(19.0), "mm") == "19 mm"

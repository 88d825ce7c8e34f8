"""Lengths as text: what is read, exactly, and what is refused, and where."""

from __future__ import annotations

from fractions import Fraction

import pytest

from profilestack.errors import InputError, LengthError
from profilestack.units import parse_length, parse_length_exact

INCH = Fraction(254, 10)
FOOT = 12 * INCH


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("19 mm", Fraction(19)),
        ("19mm", Fraction(19)),
        ("19 MM", Fraction(19)),
        ("12.7 millimeters", Fraction(127, 10)),
        ("1.5 cm", Fraction(15)),
        ("2.4 m", Fraction(2400)),
        ("12,5 mm", Fraction(25, 2)),
        (".5 mm", Fraction(1, 2)),
        ("5. mm", Fraction(5)),
        ("1 in", INCH),
        ("1 inch", INCH),
        ("2 inches", 2 * INCH),
        ('1"', INCH),
        ("1″", INCH),
        ("1''", INCH),
        ("3/8 in", INCH * 3 / 8),
        ("9/8 in", INCH * 9 / 8),
        ("1 3/8 in", INCH * 11 / 8),
        ('1 3/8"', INCH * 11 / 8),
        ("1-3/8 in", INCH * 11 / 8),
        ("1 3⁄8 in", INCH * 11 / 8),
        ("½ in", INCH / 2),
        ("1½ in", INCH * 3 / 2),
        ("1 ½ in", INCH * 3 / 2),
        ("1-⅜ in", INCH * 11 / 8),
        ("0.1 in", INCH / 10),
        ("2 ft", 2 * FOOT),
        ("2'", 2 * FOOT),
        ("2 ft 3 in", 27 * INCH),
        ("2 feet 3 inches", 27 * INCH),
        ("2' 3\"", 27 * INCH),
        ("2'3\"", 27 * INCH),
        ("2'-3\"", 27 * INCH),
        ("2'-3 1/2\"", INCH * 55 / 2),
        ("2' ½\"", 24 * INCH + INCH / 2),
        ("19 mm + 1/2 in", 19 + INCH / 2),
        ("1 ft 1 in + 1 mm + 1 cm", 13 * INCH + 11),
        ("-1 3/8 in", -INCH * 11 / 8),
        ("−3 mm", Fraction(-3)),
        ("+3 mm", Fraction(3)),
        ("-2 ft 3 in", -27 * INCH),
        ("-1 in + 2 in", INCH),
        ("  7\tmm ", Fraction(7)),
        ("1\u00a03/8 in", INCH * 11 / 8),
        ("0 mm", Fraction(0)),
        ("1000000 mm", Fraction(10**6)),
    ],
)
def test_a_text_with_units_means_the_same_whatever_the_document_is_in(
    text: str, expected: Fraction
) -> None:
    assert parse_length_exact(text, "mm") == expected
    assert parse_length_exact(text, "in") == expected
    assert parse_length_exact(text, None) == expected
    assert parse_length(text, "mm") == float(expected)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("19", Fraction(19)),
        ("0.375", Fraction(3, 8)),
        ("1,5", Fraction(3, 2)),
        ("1 3/8", Fraction(11, 8)),
        ("1-3/8", Fraction(11, 8)),
        ("½", Fraction(1, 2)),
        ("-3", Fraction(-3)),
        ("1 + 1/2", Fraction(3, 2)),
    ],
)
def test_a_number_without_a_unit_is_in_the_document_s_units(text: str, number: Fraction) -> None:
    assert parse_length_exact(text, "mm") == number
    assert parse_length_exact(text, "in") == number * INCH


@pytest.mark.parametrize(
    ("text", "position", "reason"),
    [
        ("", 0, "a number was expected here"),
        ("   ", 3, "a number was expected here"),
        ("mm", 0, "a number was expected here"),
        ("nan", 0, "a number was expected here"),
        ("inf", 0, "a number was expected here"),
        ("-inf", 1, "a number was expected here"),
        ("true", 0, "a number was expected here"),
        ("1e308", 1, "'e' is no unit"),
        ("1e-3 mm", 1, "'e' is no unit"),
        ("0x10", 1, "'x' is no unit"),
        ("3 furlong", 2, "'furlong' is no unit"),
        ("3 inchs", 2, "'inchs' is no unit, did you mean 'inches'?"),
        ("9**9**9", 1, "'*' has no meaning"),
        ("(1)", 0, "'(' has no meaning"),
        ("1_000", 1, "'_' has no meaning"),
        ("٣ mm", 0, "'٣' has no meaning"),
        ("1\x00 mm", 1, "'\\x00' has no meaning"),
        ("1/0 in", 2, "a fraction cannot have 0 below its bar"),
        ("1 1/0 in", 4, "a fraction cannot have 0 below its bar"),
        ("0/000", 2, "a fraction cannot have 0 below its bar"),
        ("1/", 2, "a whole number was expected below the fraction's bar"),
        ("1/2.5 in", 2, "a whole number was expected below the fraction's bar"),
        ("1.5/2 in", 3, "a + was expected here"),
        ("1 9/8 in", 2, "after a whole number a fraction below 1 was expected"),
        ("1/2/3", 3, "a + was expected here"),
        ("1½½ in", 2, "a + was expected here"),
        ("1.5 3/8 in", 4, "a + was expected here"),
        ("1 234 mm", 2, "a + was expected here"),
        ("1,234,567 mm", 5, "',' has no meaning"),
        ("1.234,5 mm", 5, "',' has no meaning"),
        ("1.234.5 mm", 5, "a + was expected here"),
        ("3..5", 2, "a + was expected here"),
        (",5 mm", 0, "',' has no meaning"),
        ("3 in 4 in", 5, "a + was expected here"),
        ("3 in 2 ft", 5, "a + was expected here"),
        ("2 ft 30 mm", 5, "after feet only inches are read"),
        ("2 ft 3 ft", 5, "after feet only inches are read"),
        ("5 mm -", 5, "a difference is not read; + is"),
        ("2 ft - 3 in", 5, "a difference is not read; + is"),
        ("1 - 3/8 in", 2, "a difference is not read; + is"),
        ("--3", 1, "a number was expected here"),
        ("3 +", 3, "a number was expected here"),
        ("3 + -2", 4, "a number was expected here"),
        ("19 mm + 3", 8, "a number without a unit beside one that has a unit"),
        ("19 + 1/2 in", 0, "a number without a unit beside one that has a unit"),
        ("2 ft 3", 5, "a number without a unit beside one that has a unit"),
        ("1000001 mm", 0, "more than 1000000 mm"),
        ("-1000001 mm", 0, "more than 1000000 mm"),
        ("999999 in", 0, "more than 1000000 mm"),
        ("9" * 64, 0, "more than 1000000 mm"),
        ("9" * 65, 64, "more than 64 characters"),
        ("1" + " " * 10**7, 64, "more than 64 characters"),
    ],
)
def test_what_is_no_length_is_refused_with_the_place(text: str, position: int, reason: str) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text, "mm")
    assert caught.value.position == position
    (problem,) = caught.value.problems
    assert f"is not a length: {reason} at character {position + 1}" in problem.text
    assert len(problem.text) < 200


def test_sixty_four_characters_are_still_read() -> None:
    assert parse_length_exact("0" * 63 + "1", "mm") == 1


def test_a_number_without_a_unit_is_refused_where_nothing_says_the_units() -> None:
    with pytest.raises(LengthError, match="'3.5' is not a length: a number without a unit"):
        parse_length("3.5", None)


def test_unknown_units_are_refused_with_the_nearest() -> None:
    with pytest.raises(InputError, match="units: 'inn' is unknown.*did you mean 'in'"):
        parse_length("3", "inn")

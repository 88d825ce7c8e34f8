"""Laws of lengths as text."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import example, given
from hypothesis import strategies as st

from profilestack.errors import LengthError
from profilestack.units import (
    LARGEST_LENGTH,
    file_length,
    format_length,
    from_units,
    parse_length,
    parse_length_exact,
    to_units,
)

UNITS = st.sampled_from(["mm", "in"])
INCH = Fraction(254, 10)
LENGTHS = st.floats(-1e6, 1e6).filter(lambda mm: mm == 0.0 or abs(mm) > 1e-30)


@given(LENGTHS, UNITS)
@example(1e6, "in")
@example(-0.0, "in")
@example(1e-30, "in")
def test_what_a_file_holds_reads_back_to_the_same_float(mm: float, units: str) -> None:
    held = file_length(mm, units)
    back = parse_length(held, None) if isinstance(held, str) else from_units(held, units)
    assert back == mm


@given(st.integers(-64 * 900, 64 * 900))
def test_sixty_fourths_of_an_inch_are_shown_exactly(parts: int) -> None:
    mm = float(parts * INCH / 64)
    assert parse_length(format_length(mm, "in"), "mm") == mm


@given(st.floats(-1e5, 1e5), UNITS, st.sampled_from([1.0, 0.1, 0.01, 0.001, 0.0001]))
def test_what_is_shown_is_off_by_half_a_step_at_most(mm: float, units: str, step: float) -> None:
    shown = parse_length_exact(format_length(mm, units, step), "mm")
    unit = Fraction(1) if units == "mm" else INCH
    # a float is shown as its shortest decimal, which is off by less than its last digit
    assert abs(shown - Fraction(mm)) <= Fraction(str(step)) / 2 * unit + Fraction(1, 10**9)


@given(st.floats(-999_000, 999_000), UNITS)
def test_what_is_shown_is_kept_when_it_is_shown_again(mm: float, units: str) -> None:
    once = parse_length(format_length(mm, units), units)
    assert parse_length(format_length(once, units), units) == once


@given(st.text(max_size=80), UNITS)
@example("9**9**9**9", "mm")
@example("1/" + "9" * 60, "mm")
def test_any_text_is_a_length_or_is_refused_with_a_place(text: str, units: str) -> None:
    position, mm = 0, 0.0
    try:
        mm = parse_length(text, units)
    except LengthError as error:
        position = error.position
    assert 0 <= position <= len(text)
    assert abs(mm) <= LARGEST_LENGTH


TERM = st.builds(
    lambda number, unit: f"{number} {unit}",
    st.integers(0, 999) | st.decimals(0, 999, places=3).map(str) | st.just("1 3/8"),
    st.sampled_from(["mm", "cm", "in", "ft", '"']),
)


@given(TERM, TERM)
def test_a_sum_is_the_sum_of_its_parts(first: str, second: str) -> None:
    together = parse_length_exact(f"{first} + {second}", "mm")
    assert together == parse_length_exact(first, "mm") + parse_length_exact(second, "mm")


@given(TERM, UNITS)
def test_a_sign_turns_a_length_round(text: str, units: str) -> None:
    assert parse_length_exact(f"-{text}", units) == -parse_length_exact(text, units)


@given(st.decimals(0, 10**4, places=4))
def test_a_decimal_comma_is_a_decimal_point(number: object) -> None:
    text = str(number)
    assert parse_length_exact(text.replace(".", ","), "in") == parse_length_exact(text, "in")
    assert parse_length_exact(text, "in") == Fraction(text) * INCH


@given(st.decimals(-39000, 39000, places=6))
def test_a_number_of_a_file_means_what_the_same_text_means(number: object) -> None:
    assert from_units(float(str(number)), "in") == parse_length(f"{number} in", None)
    assert to_units(parse_length(f"{number} in", None), "in") == float(str(number))

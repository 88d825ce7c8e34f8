from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from profilestack.reports.layout import WIDTH, columns, fixed, joined, paragraph, plain, shortened


@given(st.text())
def test_plain_text_cannot_steer_a_terminal(text: str) -> None:
    shown = plain(text)
    assert "\n" not in shown
    assert not any(ord(letter) < 32 or 0x7F <= ord(letter) < 0xA0 for letter in shown)
    assert plain(shown) == shown


@given(st.text(), st.integers(4, 40))
def test_shortened_text_fits(text: str, width: int) -> None:
    assert len(shortened(text, width)) <= width


@given(st.text(), st.text("abc: ", max_size=20))
def test_a_paragraph_loses_no_word_and_fits(text: str, lead: str) -> None:
    lines = list(paragraph(text, lead))
    assert all(len(line) <= WIDTH for line in lines)
    assert "".join("".join(lines).split()) == "".join((lead + plain(text)).split()) or not lines


def test_columns_stand_below_each_other() -> None:
    rows = [("a", "1", "x"), ("bbb", "22", "")]
    assert list(columns(rows, (3, -4, 2))) == ["a      1 x", "bbb   22"]
    with pytest.raises(ValueError, match="argument"):
        list(columns([("a",)], (3, 4)))


@pytest.mark.parametrize(
    ("number", "digits", "said"),
    [
        (33.525, 2, "33.53"),
        (-33.525, 2, "-33.53"),
        (0.0004, 3, "0.000"),
        (-0.0004, 3, "0.000"),
        (1e-9, 2, "0.00"),
        (123456789.125, 2, "123456789.13"),
        (2, 1, "2.0"),
    ],
)
def test_numbers_have_their_decimals(number: float, digits: int, said: str) -> None:
    assert fixed(number, digits) == said


@pytest.mark.parametrize(
    ("words", "said"),
    [([], ""), (["1"], "1"), (["1", "2"], "1 and 2"), (["1", "2", "3"], "1, 2 and 3")],
)
def test_words_are_joined_as_said(words: list[str], said: str) -> None:
    assert joined(words) == said

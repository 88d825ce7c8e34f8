import pytest
from hypothesis import given
from hypothesis import strategies as st
from reportlab.pdfbase.pdfmetrics import registerFont, stringWidth
from reportlab.pdfbase.ttfonts import TTFont

from profilestack.drawing.fonts import (
    MISSING,
    POINT,
    face,
    fitted,
    plain,
    text_width,
    wrapped,
)


@pytest.mark.parametrize("bold", [False, True])
def test_widths_are_those_of_the_pdf_writer(bold: bool) -> None:
    chosen = face(bold)
    registerFont(TTFont(f"test-{chosen.name}", str(chosen.file)))
    text = "Cornice, sprung 45° — Größe Ω кириллица 3/8"
    expected = stringWidth(text, f"test-{chosen.name}", 9.0) * POINT
    assert text_width(text, 9.0, bold) == pytest.approx(expected, rel=1e-3)


def test_a_text_becomes_one_line_without_controls() -> None:
    assert plain("a\nb\tc\x00\x1b[31m  d\u202e e") == "a b c [31m d e"


def test_what_the_font_lacks_is_a_box() -> None:
    assert plain("刨花 Ω") == f"{MISSING}{MISSING} Ω"


@given(st.text(max_size=300), st.floats(8.0, 120.0))
def test_fitted_text_is_never_too_wide(text: str, width: float) -> None:
    assert text_width(fitted(text, 8.0, width), 8.0) <= width + 1e-9


@given(st.text(max_size=200), st.floats(10.0, 120.0), st.integers(1, 4))
def test_wrapped_lines_are_never_too_wide_nor_too_many(text: str, width: float, most: int) -> None:
    lines = wrapped(text, 8.0, width, most=most)
    assert len(lines) <= most
    assert all(text_width(line, 8.0) <= width + 1e-9 for line in lines)


@given(st.text(alphabet="abc ,.", max_size=120))
def test_wrapping_loses_no_letter(text: str) -> None:
    joined = "".join("".join(wrapped(text, 8.0, 15.0)).split())
    assert joined == "".join(text.split())


def test_a_text_that_fits_is_left_alone() -> None:
    assert fitted("Crown", 8.0, 100.0) == "Crown"
    assert wrapped("Crown and base", 8.0, 100.0) == ["Crown and base"]

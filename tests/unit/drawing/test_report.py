"""The report of a stack on paper."""

from __future__ import annotations

import io

import numpy as np
import pytest
from pypdf import PdfReader

from profilestack.cutting.caution import Caution
from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.drawing.drawing import Fill, Lines, Window, Words, line
from profilestack.drawing.growing import grown
from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.palette import Pen
from profilestack.drawing.report.report import report_pages
from profilestack.planning.plan import Rest
from tests.plans import in_depths, plan_of, step_of
from tests.shop import core_box, lines, stack_of, straight
from tests.unit.drawing.sheets import assert_all_on_paper, overlapping_words


def plan_and_pages(units="mm", paper="A4", repeats=1, **other):
    placed = [
        pair
        for k in range(repeats)
        for pair in ((straight(12.7), 20.0 + k, 8.0), (core_box(8.0), 40.0 + k, 3.0))
    ]
    stack, bits = stack_of(*placed, target=lines((0.0, 30.0), (60.0, 30.0)), title="A report")
    steps = [step_of(stack, bits, number) for number in range(1, len(stack.passes) + 1)]
    taken = [each for step in steps for each in in_depths(step, 1.0, 2.0)]
    plan = plan_of(stack, bits, taken, **other)
    cut = cut_stack(stack, bits)
    return plan, report_pages(cut, compare(cut), plan, units, paper)


def texts(page) -> list[str]:
    return [mark.text for mark in page.marks if isinstance(mark, Words)]


def test_picture_first_then_steps_minutes_and_cautions():
    _, pages = plan_and_pages()
    assert len(pages) == 2
    first, second = (texts(page) for page in pages)
    assert "A report" in first
    assert any("overcut (gouge)" in text for text in first)  # the verdict
    # offset, depth below the face and height above the bed of the 30 mm board
    for told in ("20.000", "1.000", "29.000", "8.000", "22.000", "16,000", "2.40"):
        assert told in second
    assert "Minutes" in second
    assert pages[1].marks


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    # reference.md section 9: A4 595.275591 x 841.889764, Letter 612 x 792 points; lying here
    [("A4", 841.889764, 595.275591), ("Letter", 792.0, 612.0)],
)
def test_pages_have_the_paper_s_size(paper, width, height):
    _, pages = plan_and_pages(paper=paper)
    for page in PdfReader(io.BytesIO(pages_bytes(pages, "x"))).pages:
        assert [float(side) for side in page.mediabox[2:]] == pytest.approx(
            [width, height], abs=1e-3
        )


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("repeats", [1, 10])
def test_everything_is_on_the_paper_and_nothing_lies_over_words(units, repeats):
    _, pages = plan_and_pages(units, repeats=repeats)
    for page in pages[1:]:
        assert_all_on_paper(page)
        assert overlapping_words(page) == []
    assert_all_on_paper(pages[0])


def test_long_tables_are_headed_on_every_page():
    plan, pages = plan_and_pages(repeats=10)
    headed = [page for page in pages[1:] if "edge to" in texts(page)]
    assert len(headed) >= 2
    numbers = [text for page in pages[1:] for text in texts(page)]
    for number in range(1, len(plan.stack.passes) + 1):
        assert str(number) in numbers


def test_a_rest_and_cautions_are_told():
    _, pages = plan_and_pages(rests=(Rest(3, 0.4),))
    assert any(text.startswith("Rest: 40% of the blank") for text in texts(pages[1]))
    plan, _ = plan_and_pages()
    from dataclasses import replace

    stop = Caution("too-fast", "stop", 1, "Rim too fast near {0}.", (12.7,))
    warned = replace(plan, cautions=(stop,))
    pages = report_pages(plan.cut, None, warned, "mm", "A4")
    assert "STOP" in texts(pages[-1])
    assert any("Rim too fast near 12.7 mm." in text for text in texts(pages[-1]))


def test_the_same_report_has_the_same_bytes():
    assert pages_bytes(plan_and_pages()[1], "x") == pages_bytes(plan_and_pages()[1], "x")


def test_marks_grow_as_a_whole():
    square = np.array(((0.0, 0.0), (2.0, 0.0), (2.0, 2.0)))
    marks = [
        Fill((square,), "#000000"),
        line((1.0, 1.0), (3.0, 1.0), pen=Pen("#000000", 0.5, (2.0, 1.0))),
        Words((4.0, 6.0), "x", 10.0),
        Window((1.0, 2.0), 3.0, 4.0, (Words((1.0, 1.0), "y", 8.0),)),
    ]
    fill, lined, word, window = grown(marks, 0.5)
    assert isinstance(fill, Fill)
    assert fill.rings[0].max() == 1.0
    assert isinstance(lined, Lines)
    assert (lined.pen.width, lined.pen.dash) == (0.25, (1.0, 0.5))
    assert isinstance(word, Words)
    assert (word.at, word.size) == ((2.0, 3.0), 5.0)
    assert isinstance(window, Window)
    assert (window.at, window.width, window.height) == ((0.5, 1.0), 1.5, 2.0)
    assert window.marks[0].size == 4.0

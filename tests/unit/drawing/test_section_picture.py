import dataclasses

import numpy as np
import pytest

from profilestack.cutting.caution import Caution
from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.drawing.drawing import Lines, extent_of
from profilestack.drawing.palette import TARGET_PEN, WOOD_LOOK
from profilestack.drawing.picture import picture_bytes
from profilestack.drawing.section_picture import section_picture
from profilestack.stack import Blank, Pass, Round
from tests.unit.drawing.examples import BITS, CAUTIONS, EXAMPLES, crown, example
from tests.unit.drawing.sheets import assert_all_on_paper, overlapping_words, texts_of


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", EXAMPLES)
def test_everything_is_on_the_paper_and_no_words_meet(name: str, units: str) -> None:
    picture = section_picture(*example(name), CAUTIONS, units)
    assert_all_on_paper(picture)
    assert overlapping_words(picture) == []


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_pass_is_numbered_where_it_cuts_and_in_the_table(name: str) -> None:
    cut, comparison = example(name)
    texts = texts_of(section_picture(cut, comparison, (), "mm"))
    for single in cut.passes:
        # once over its axis, once in the table
        assert texts.count(str(single.number)) >= 2
        assert single.bit.name in texts


@pytest.mark.parametrize("count", [48, 200, 600])
def test_very_many_passes_leave_room_for_the_section(count: int) -> None:
    cut, _ = example("crown")
    bit = cut.stack.passes[0].bit
    offsets = np.linspace(1.0, 61.0, count)
    passes = tuple(Pass(bit, float(offset), 2.0) for offset in offsets)
    many = cut_stack(dataclasses.replace(cut.stack, passes=passes), BITS)
    picture = section_picture(many, compare(many), (), "mm")
    (told,) = [text for text in texts_of(picture) if text.startswith("drawn ")]
    assert float(told.split()[1]) >= 1.0
    assert_all_on_paper(picture)


def test_the_section_is_drawn_to_the_scale_that_is_told() -> None:
    cut, comparison = example("crown")
    picture = section_picture(cut, comparison, (), "mm")
    (told,) = [text for text in texts_of(picture) if text.startswith("drawn ")]
    scale = float(told.split()[1])
    edges = [
        extent_of(mark.chains)
        for mark in picture.marks
        if isinstance(mark, Lines) and mark.pen is WOOD_LOOK.edge
    ]
    # the other one is the legend's
    low_x, low_z, high_x, high_z = max(edges, key=lambda edge: edge[2] - edge[0])
    assert high_x - low_x == pytest.approx(62.0 * scale)
    assert high_z - low_z == pytest.approx(45.0 * scale)


def test_the_wanted_profile_is_the_target() -> None:
    cut, comparison = example("crown")
    assert comparison is not None
    picture = section_picture(cut, comparison, (), "mm")
    drawn = [
        chain
        for mark in picture.marks
        if isinstance(mark, Lines) and mark.pen is TARGET_PEN
        for chain in mark.chains
        if len(chain) > 2
    ]
    assert len(drawn) == 1
    scale = np.ptp(drawn[0], axis=0) / np.ptp(comparison.target, axis=0)
    assert scale[0] == pytest.approx(scale[1])
    placed = (drawn[0] - drawn[0][0]) / scale[0]
    assert placed == pytest.approx(comparison.target - comparison.target[0], abs=1e-9)


def test_the_verdict_is_in_words() -> None:
    cut, comparison = example("crown")
    texts = texts_of(section_picture(cut, comparison, CAUTIONS, "mm"))
    assert "✓ overcut (gouge) 0.05 of 0.10 mm" in texts
    assert "✓ leftover (proud) 0.00 of 0.30 mm" in texts
    assert "1 caution says stop" in texts
    cut, comparison = example("base")
    texts = texts_of(section_picture(cut, comparison, (), "mm"))
    assert any(text.startswith("✗ leftover (proud)") and "too much" in text for text in texts)


def test_the_worst_places_are_labelled_with_their_sign() -> None:
    cut, comparison = example("base")
    assert comparison is not None
    texts = texts_of(section_picture(cut, comparison, (), "mm"))
    assert f"+{comparison.leftover.max:.2f}" in texts
    assert f"−{comparison.overcut.max:.2f}" in texts


def test_inches_are_said_in_inches() -> None:
    cut, comparison = example("crown")
    texts = texts_of(section_picture(cut, comparison, (), "in"))
    assert "−0.002" in texts
    assert "2.441" in texts  # 62 mm
    assert any("lengths in inches" in text for text in texts)


def test_without_a_target_nothing_is_said_of_one() -> None:
    texts = texts_of(section_picture(*example("column"), (), "mm"))
    assert "no wanted profile to compare with" in texts
    assert not any("wanted profile" in text for text in texts if "compare" not in text)


def test_cautions_stand_in_the_picture_the_gravest_first() -> None:
    cut, comparison = example("crown")
    texts = texts_of(section_picture(cut, comparison, CAUTIONS[::-1], "mm"))
    assert [text for text in texts if text in ("STOP", "MIND", "note")] == ["STOP", "MIND", "note"]


def test_many_cautions_are_counted() -> None:
    many = tuple(Caution("too-deep", "warn", 1, f"caution {k}") for k in range(40))
    texts = texts_of(section_picture(*example("crown"), many, "mm"))
    assert "and 33 more: see the report" in texts
    assert sum("caution " in text for text in texts) == 7


def _said(text: str) -> Caution:
    return Caution("overcut", "stop", 1, text.replace("{", "{{").replace("}", "}}"))


HOSTILE = (
    "W" * 300,
    "two\nlines\r\nand\ttabs",
    "<b>bold</b> & $x^2$ \\frac{1}{2} %s {0}",
    "刨花 \u202eright to left\u202c 🪚 \x00 end",
    "   ",
)


@pytest.mark.parametrize("title", HOSTILE)
def test_hostile_titles_stay_on_the_paper(title: str) -> None:
    cut = cut_stack(crown(title), BITS)
    picture = section_picture(cut, compare(cut), (_said(title * 9),), "mm")
    assert_all_on_paper(picture)
    assert overlapping_words(picture) == []
    assert picture_bytes(picture, "svg").startswith(b"<?xml")


def test_a_stack_without_passes_is_drawn() -> None:
    cut = cut_stack(dataclasses.replace(crown(), passes=()), BITS)
    picture = section_picture(cut, compare(cut), (), "mm")
    assert_all_on_paper(picture)
    assert overlapping_words(picture) == []


def test_a_bit_far_outside_does_not_shrink_the_section() -> None:
    stack = crown()
    far = dataclasses.replace(stack.passes[0], offset=5000.0)
    cut = cut_stack(dataclasses.replace(stack, passes=(*stack.passes, far)), BITS)
    picture = section_picture(cut, compare(cut), (), "mm")
    assert_all_on_paper(picture)


def test_a_round_blanks_size_is_the_one_that_was_given() -> None:
    stack = dataclasses.replace(EXAMPLES["column"](), blank=Blank(Round(60.125)), passes=())
    texts = texts_of(section_picture(cut_stack(stack, BITS), None, (), "mm"))
    assert texts.count("60.13") == 2
    assert "round 60.13 mm · straight, 900 mm long · from the left end" in texts

"""Passes on the clipboard: out and in again, into the same document and into others."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from profilestack.errors import InputError
from profilestack.files.stack_file import stack_text
from profilestack.session.pass_text import free_name, passes_text, pasted, places_of_pasted
from profilestack.stack import CurvedRun, Pass, Setup, Stack, StraightRun
from tests.shop import board, core_box, straight

EDGE = Setup("edge", 90.0)
NOTE = 'say "so"\n[[pass]]'


def stack_with(*passes: Pass, **other: object) -> Stack:
    keys = {"blank": board(), "run": StraightRun(1000.0), "passes": passes} | other
    return Stack(**keys)  # type: ignore[arg-type]


PASSES = (
    Pass("core-box-2in", 1.0 / 3.0, 12.0, note=NOTE),
    Pass("b", -4.5, 0.1, "edge", count=3, pitch=-7.0, begin=10.0, end=900.0, on=False, relief=True),
)


def test_what_is_copied_comes_back_the_same() -> None:
    stack = stack_with(*PASSES, setups=(EDGE,))
    text = passes_text(stack, [0, 1], {})
    after, label = pasted(stack, text)
    assert after.passes == PASSES + PASSES
    assert after.setups == (EDGE,)
    assert label == "Paste 2 passes"


@given(
    st.floats(-1e5, 1e5), st.floats(1e-9, 1e5), st.text(st.characters(exclude_categories=["Cs"]))
)
def test_every_length_and_note_survives(offset: float, depth: float, note: str) -> None:
    stack = stack_with(Pass("b", offset, depth, note=note))
    after, _ = pasted(stack, passes_text(stack, [0], {}))
    assert after.passes == stack.passes * 2


def test_setups_and_bits_come_along_into_another_document() -> None:
    own = core_box(20.0)
    stack = stack_with(Pass(own.id, 10.0, 5.0, "edge"), Pass("b", 1.0, 1.0), setups=(EDGE,))
    text = passes_text(stack, [0], {own.id: own, "b": straight(3.0)})
    after, label = pasted(stack_with(), text)
    assert (after.passes, after.setups, after.bits) == ((stack.passes[0],), (EDGE,), (own,))
    assert label == "Paste a pass"


def test_a_name_that_means_another_thing_there_is_changed() -> None:
    own, other = core_box(20.0), replace(core_box(20.0), shank=8.0)
    text = passes_text(
        stack_with(Pass(own.id, 10.0, 5.0, "edge"), setups=(EDGE,)), [0], {own.id: own}
    )
    there = stack_with(setups=(Setup("edge", 45.0),), bits=(other,))
    after, _ = pasted(there, text)
    (single,) = after.passes
    assert after.setup(single.setup).angle == 90.0
    assert {bit.id: bit for bit in after.bits}[single.bit] == replace(own, id=single.bit)
    assert there.setups[0] in after.setups
    assert other in after.bits


def test_passes_go_where_they_are_put() -> None:
    stack = stack_with(Pass("a", 1.0, 1.0), Pass("b", 2.0, 1.0))
    after, _ = pasted(stack, passes_text(stack, [1], {}), at=1)
    assert [single.bit for single in after.passes] == ["a", "b", "b"]
    assert places_of_pasted(stack, after, 1) == (1,)
    assert places_of_pasted(stack, after) == (2,)


def test_a_setup_that_the_document_has_needs_no_table() -> None:
    stack = stack_with(setups=(EDGE,))
    text = '[[pass]]\nbit = "b"\nsetup = "edge"\noffset = 3\ndepth = "1/2 in"\n'
    after, _ = pasted(stack, text)
    assert after.passes == (Pass("b", 3.0, 12.7, "edge"),)


def test_a_whole_document_may_be_pasted() -> None:
    other = stack_with(*PASSES, setups=(EDGE,), units="in")
    after, _ = pasted(stack_with(), stack_text(other))
    assert after.passes == PASSES


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "holds no passes"),
        ("a shopping list", "holds no passes"),
        ("x" * 2**20 + "[[pass]]", "holds no passes"),
        ("[[pass]]\nbit = ", "pass|TOML|value"),
        ("[[pass]]\nbit = 1979-05-27\noffset = 1\ndepth = 1", "bit"),
        ('[[pass]]\nbit = "b"\noffset = nan\ndepth = 1', "offset"),
        ('[[pass]]\nbit = "b"\noffset = 1\ndepth = 1\nsetup = "egde"', "no setup is called"),
        ('setup = 3\n[[pass]]\nbit = "b"\noffset = 1\ndepth = 1', "setup"),
        ("[[pass]]\nbit = " + "[" * 5000, "nested|deep"),
    ],
)
def test_what_is_no_pass_is_refused(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        pasted(stack_with(), text)


def test_what_a_run_cannot_take_is_refused() -> None:
    text = passes_text(stack_with(*PASSES, setups=(EDGE,)), [1], {})
    bow = stack_with(run=CurvedRun(500.0, 60.0))
    with pytest.raises(InputError, match="on edge nor on a wedge"):
        pasted(bow, text)


def test_a_new_name_is_the_first_free_one() -> None:
    assert free_name("edge", ["face"]) == "edge"
    assert free_name("edge", ["edge", "edge-2"]) == "edge-3"

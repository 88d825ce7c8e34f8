"""Laws of documents: saving keeps everything, units are only a way of writing, nothing crashes."""

from __future__ import annotations

import re
from dataclasses import replace
from decimal import Decimal
from pathlib import Path as FilePath
from tempfile import TemporaryDirectory

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from profilestack.errors import InputError
from profilestack.files.library_file import library_text, read_library_text
from profilestack.files.stack_file import read_stack, read_stack_text, stack_text, write_stack
from profilestack.stack import Stack
from tests.laws.documents import bits, stacks

FILES = FilePath(__file__).parents[1] / "files"
FROZEN = (FILES / "version-1.stack.toml").read_text("utf-8")

# a document takes some milliseconds to make, and more on a busy machine
calm = settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.too_slow])


@calm
@given(stacks())
def test_save_then_load_is_equal(stack: Stack) -> None:
    text = stack_text(stack)
    again = read_stack_text(text)
    assert again == stack
    assert stack_text(again) == text


@calm
@given(stacks(), st.sampled_from(["mm", "in"]))
def test_the_units_of_a_file_change_nothing_but_the_file(stack: Stack, units: str) -> None:
    other = replace(stack, units=units)
    assert read_stack_text(stack_text(other)) == other


@calm
@given(stacks())
def test_the_disk_holds_the_same_stack(stack: Stack) -> None:
    with TemporaryDirectory() as folder:
        path = FilePath(folder) / "a.stack.toml"
        write_stack(stack, path)
        assert read_stack(path) == stack


@calm
@given(st.lists(bits(), max_size=4, unique_by=lambda bit: bit.id), st.sampled_from(["mm", "in"]))
def test_a_library_keeps_its_bits(owned: list, units: str) -> None:
    assert read_library_text(library_text(owned, units)).bits == tuple(owned)


def in_inches(inches: list[Decimal]) -> tuple[str, str]:
    """One document with these numbers as inches, and the same with the millimetres they are."""
    a, b, c, d, e, f = inches

    def document(units: str, factor: Decimal) -> str:
        def n(number: Decimal) -> str:
            return f"{number * factor:f}"

        return f"""
format = "profilestack-stack/1"
units = "{units}"
[blank]
width = {n(a + b + c)}
thickness = {n(d + c)}
[run]
kind = "straight"
length = {n(e)}
[tolerance]
leftover = {n(f)}
overcut = {n(f)}
[target]
start = [0, {n(d + c)}]
path = [
  {{ to = [{n(a)}, {n(d + c)}] }},
  {{ to = [{n(a + c)}, {n(d)}], center = [{n(a)}, {n(d)}], turn = "cw" }},
  {{ to = [{n(a + b + c)}, {n(d)}] }},
]
[[setup]]
name = "edge"
angle = 90
[[pass]]
bit = "v"
offset = {n(-b)}
depth = {n(a)}
count = 2
pitch = {n(b)}
from = 0
to = {n(e / 2)}
[[bit]]
id = "v"
shape = "v-groove"
diameter = {n(Decimal("0.5"))}
angle = 60
tip = {n(Decimal("0.02"))}
cutting_length = {n(Decimal("0.75"))}
shank = {n(Decimal("0.25"))}
length = {n(Decimal(3))}
grip = {n(Decimal("0.75"))}
"""

    return document("in", Decimal(1)), document("mm", Decimal("25.4"))


@calm
@given(st.lists(st.decimals("0.01", 30, places=3), min_size=6, max_size=6))
def test_inch_and_mm_give_the_same_stack(inches: list[Decimal]) -> None:
    first, second = (read_stack_text(text) for text in in_inches(inches))
    assert replace(first, units="mm") == second


VALUES = re.compile(r"(?<== )[^\n{]+$|(?<=\[)[^\[\]\n]+(?=\])", re.MULTILINE)
JUNK = st.sampled_from(
    ["nan", "-inf", "1e999", "1e308", "-1", "0", "true", '""', '"3.5"', '"9**9**9"', '"1/0 in"',
     "[]", "{}", "[[1, 2]]", "{ to = 1 }", "1979-05-27", "9" * 500, '"' + "x" * 300 + '"',
     "'face'", '"straight"', '"../../x"', "[1, 2]", '[{ to = [1, 2] }]']
)  # fmt: skip


@calm
@given(st.data())
def test_a_wrong_value_anywhere_is_told_at_a_line_or_is_right(data: st.DataObject) -> None:
    places = list(VALUES.finditer(FROZEN))
    place = data.draw(st.sampled_from(places))
    text = FROZEN[: place.start()] + data.draw(JUNK) + FROZEN[place.end() :]
    check(text)


@calm
@given(st.data())
def test_a_document_cut_off_or_with_a_piece_lost_is_told_or_is_right(data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(FROZEN)))
    end = data.draw(st.sampled_from([len(FROZEN), start + 1, start + 10, start + 100]))
    check(FROZEN[:start] + FROZEN[end:])


@calm
@given(st.text(max_size=200))
def test_any_text_is_told_or_is_right(text: str) -> None:
    check(text)
    check('format = "profilestack-stack/1"\n' + text)


def check(text: str) -> None:
    """A stack that can be saved, or problems that can be told."""
    try:
        stack = read_stack_text(text, "a.toml")
    except InputError as error:
        problems = error.problems
    else:
        assert read_stack_text(stack_text(stack)) == stack
        return
    assert problems
    assert all(problem.file == "a.toml" and problem.text for problem in problems)

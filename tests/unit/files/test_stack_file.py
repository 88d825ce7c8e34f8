"""Reading stacks: what each key means, what is usual, what is refused."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path as FilePath

import pytest

from profilestack.errors import FileError, InputError
from profilestack.files.stack_file import read_stack, read_stack_text, stack_text, write_stack
from profilestack.geometry.path import Path
from profilestack.stack import (
    Blank,
    CurvedRun,
    MemberTarget,
    OutlineStock,
    Pass,
    PathTarget,
    Rectangle,
    Round,
    Setup,
    StraightRun,
    Tolerance,
    TurnedRun,
)
from tests.unit.files.examples import GOOD, messages, spoiled

LENGTH_WORDS = 'a length: a number, or a text with its unit such as "1 3/8 in"'


def test_the_usual_values() -> None:
    stack = read_stack_text(GOOD)
    assert stack.title == ""
    assert stack.units == "mm"
    assert stack.blank == Blank(Rectangle(62.0, 45.0))
    assert stack.blank.species is None
    assert stack.run == StraightRun(2400.0, pieces=1)
    assert stack.tolerance == Tolerance(0.30, 0.10)
    assert stack.setups == (Setup("edge", 90.0, 1),)
    assert stack.passes == (Pass("ball", 35.0, 12.0, "face", 1, 0.0, None, None, True, False, ""),)
    (bit,) = stack.bits
    assert (bit.name, bit.flutes, bit.max_rpm, bit.plunges, bit.grip) == ("ball", 2, None, True, 20)
    assert (bit.pilot_diameter, bit.pilot_length, bit.measured) == (None, None, None)
    assert (bit.price, bit.note) == (None, "")


def test_the_target_path_is_exact() -> None:
    target = read_stack_text(GOOD).target
    wanted = Path((0, 45)).line((10, 45)).arc((30, 25), (10, 25), "cw").line((62, 25))
    assert target == PathTarget(wanted, closed=False)


def test_no_target_is_no_target() -> None:
    start = GOOD.index("[target]")
    text = GOOD[:start] + GOOD[GOOD.index("[[setup]]") :]
    assert read_stack_text(text).target is None


def test_a_file_in_inches_means_inches_but_for_angles() -> None:
    stack = read_stack_text(spoiled('units = "mm"', 'units = "in"'))
    assert stack.blank.stock == Rectangle(1574.8, 1143.0)
    assert stack.run == StraightRun(60960.0)
    assert stack.setups[0].angle == 90.0
    assert stack.passes[0].offset == 889.0
    assert stack.bits[0].shape.size == 304.8
    assert stack.bits[0].grip == 20.0
    assert stack.tolerance == Tolerance(0.30, 0.10)


def test_other_blanks() -> None:
    size = "width = 62\nthickness = 45"
    assert read_stack_text(spoiled(size, "diameter = 62")).blank == Blank(Round(62.0))
    drawn = "outline = { start = [0, 0], path = [{ to = [62, 0] }, { to = [0, 45] }] }"
    corner = Path((0, 0)).line((62, 0)).line((0, 45)).line((0, 0))
    blank = read_stack_text(spoiled(size, drawn + '\nspecies = "oak"')).blank
    assert blank == Blank(OutlineStock(corner), "oak")


STRAIGHT = 'kind = "straight"\nlength = 2400'
SETUP = '[[setup]]\nname = "edge"\nangle = 90\n'


def without_setup(text: str) -> str:
    assert SETUP in text
    return text.replace(SETUP, "")


def test_other_runs() -> None:
    curved = spoiled(STRAIGHT, 'kind = "curved"\nradius = 900\nangle = 60\npieces = 3')
    assert read_stack_text(without_setup(curved)).run == CurvedRun(900.0, 60.0, 3)
    turned = spoiled(STRAIGHT, 'kind = "turned"')
    assert read_stack_text(without_setup(turned)).run == TurnedRun(1)


def test_stopped_passes_say_from_and_to() -> None:
    stack = read_stack_text(spoiled("depth = 12", "depth = 12\nfrom = 60\nto = 2340"))
    assert (stack.passes[0].begin, stack.passes[0].end) == (60.0, 2340.0)


def test_a_closed_target_may_leave_out_its_last_line() -> None:
    start = GOOD.index("[target]")
    closed = """[target]
closed = true
start = [0, 0]
path = [{ to = [0, 45] }, { to = [62, 45] }, { to = [62, 0] }]
"""
    text = GOOD[:start] + closed + GOOD[GOOD.index("[[setup]]") :]
    round_trip = Path((0, 0)).line((0, 45)).line((62, 45)).line((62, 0)).line((0, 0))
    assert read_stack_text(text).target == PathTarget(round_trip, closed=True)
    written = text.replace("{ to = [62, 0] }]", "{ to = [62, 0] }, { to = [0, 0] }]")
    assert read_stack_text(written) == read_stack_text(text)


def test_an_arc_whose_radii_differ_by_a_hundredth_has_its_centre_moved() -> None:
    target = read_stack_text(spoiled("center = [10, 25]", "center = [10.006, 25]")).target
    assert isinstance(target, PathTarget)
    start, arc = target.typed.steps[0].to, target.typed.steps[1]
    assert math.dist(start, arc.center) == pytest.approx(math.dist(arc.to, arc.center), abs=1e-12)
    assert math.dist(arc.center, (10.006, 25)) <= 0.006


def test_members_are_read_with_their_placing() -> None:
    start = GOOD.index("[target]")
    members = """[target]
members = [
  { member = "fillet", height = 12 },
  { member = "setback", projection = "1/8 in" },
  { member = "cavetto", height = 20, projection = 20 },
]
lie = "upright"
back = 10
at = [1, 2]
scale = 0.5
rotation = 5
mirror = true
"""
    text = GOOD[:start] + members + GOOD[GOOD.index("[[setup]]") :]
    stack = read_stack_text(text)
    assert isinstance(stack.target, MemberTarget)
    column = stack.target.column
    assert [member.member for member in column.members] == ["fillet", "setback", "cavetto"]
    assert [member.projection for member in column.members] == [None, 3.175, 20.0]
    assert (column.lie, column.back, column.at) == ("upright", 10.0, (1.0, 2.0))
    assert (column.scale, column.rotation, column.mirror) == (0.5, 5.0, True)
    assert read_stack_text(stack_text(stack)) == stack


@pytest.mark.parametrize("units", ["mm", "in"])
def test_what_is_as_usual_is_not_written(units: str) -> None:
    text = stack_text(read_stack_text(spoiled('units = "mm"', f'units = "{units}"')))
    for word in ("title", "species", "pieces", "copies", "setup =", "count", "pitch", "from"):
        assert word not in text
    for word in ("on =", "relief", "note", "flutes", "max_rpm", "plunges", "grip", "price"):
        assert word not in text


def test_writing_keeps_the_former_version(tmp_path: FilePath) -> None:
    path = tmp_path / "a.stack.toml"
    first = read_stack_text(GOOD)
    second = read_stack_text(spoiled("offset = 35", "offset = 36"))
    write_stack(first, path)
    assert read_stack(path) == first
    write_stack(second, path)
    assert read_stack(path) == second
    assert read_stack(tmp_path / "a.stack.toml.bak") == first
    assert sorted(item.name for item in tmp_path.iterdir()) == ["a.stack.toml", "a.stack.toml.bak"]


def test_a_stack_that_could_not_be_read_again_is_not_written(tmp_path: FilePath) -> None:
    path = tmp_path / "a.stack.toml"
    write_stack(read_stack_text(GOOD), path)
    before = path.read_bytes()
    bow_tie = Path((0, 45)).line((40, 25)).line((40, 45)).line((0, 25))
    crossing = replace(read_stack_text(GOOD), target=PathTarget(bow_tie))
    with pytest.raises(InputError, match="crosses or touches itself"):
        write_stack(crossing, path)
    half = replace(read_stack_text(GOOD), title="\ud800")
    with pytest.raises(InputError, match="half a character"):
        write_stack(half, path)
    assert path.read_bytes() == before


def test_a_file_that_is_not_there_is_named(tmp_path: FilePath) -> None:
    with pytest.raises(FileError, match=r"no\.stack\.toml: there is no such file"):
        read_stack(tmp_path / "no.stack.toml")


def test_all_problems_of_a_file_are_told_at_once_with_file_and_line() -> None:
    text = GOOD.replace("width = 62", "widht = 62").replace("depth = 12", "depth = -12")
    text = text.replace('kind = "straight"', 'kind = "straigt"').replace(
        "angle = 90", "angle = true"
    )
    text = text.replace("diameter = 12", "diameter = nan")
    assert messages(text, "a.stack.toml") == [
        f"a.stack.toml:4: blank.width: is missing; expected {LENGTH_WORDS}",
        'a.stack.toml:5: blank.widht: "widht" is no key here; expected one of width, thickness, '
        "species (did you mean 'width'?)",
        'a.stack.toml:9: run.kind: "straigt" is unknown; expected one of "straight", "curved", '
        "\"turned\" (did you mean 'straight'?)",
        "a.stack.toml:22: setup[1].angle: is true; expected an angle in degrees: a number",
        "a.stack.toml:27: pass[1].depth: -12 is impossible; expected a length above 0",
        f"a.stack.toml:32: bit[1].diameter: nan is not finite; expected {LENGTH_WORDS}",
    ]

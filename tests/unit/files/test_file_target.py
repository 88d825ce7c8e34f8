from __future__ import annotations

from dataclasses import replace
from pathlib import Path as FilePath

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.files.file_target import LONGEST_NAME, moved_to, name_problem
from profilestack.files.stack_file import read_stack, read_stack_text, stack_text, write_stack
from profilestack.geometry.path import Arc
from profilestack.stack import FileTarget
from profilestack.targets.placement import place
from tests.unit.files.targets.drawings import dxf_of_pieces
from tests.unit.targets.profiles import STEPPED

STACK = """\
format = "profilestack-stack/1"
units = "mm"

[blank]
width = 90
thickness = 60

[run]
kind = "straight"
length = 500

[tolerance]
leftover = 0.3
overcut = 0.1

[target]
file = "profile.dxf"
at = [5, 2]
scale = 0.5
rotation = 10
mirror = true
"""


@pytest.fixture
def folder(tmp_path: FilePath) -> FilePath:
    (tmp_path / "profile.dxf").write_bytes(dxf_of_pieces(STEPPED.reversed(), "R2010"))
    (tmp_path / "a.stack.toml").write_text(STACK)
    return tmp_path


def told(folder: FilePath, old: str, new: str) -> str:
    assert old in STACK
    with pytest.raises(InputError) as caught:
        read_stack_text(STACK.replace(old, new), str(folder / "a.stack.toml"))
    return str(caught.value)


def test_the_file_is_read_fitted_and_placed(folder: FilePath) -> None:
    target = read_stack(folder / "a.stack.toml").target
    assert isinstance(target, FileTarget)
    assert not target.closed
    assert (target.file, target.folder) == ("profile.dxf", str(folder))
    # drawn from right to left, it is walked with the wood at its right all the same
    assert target.traced.start == pytest.approx((0.0, 45.0))
    assert [type(piece) for piece in target.traced.segments] == [
        type(piece) for piece in STEPPED.segments
    ]
    arcs = [piece for piece in target.traced.segments if isinstance(piece, Arc)]
    assert [arc.radius for arc in arcs] == pytest.approx([20.0, 10.0, 10.0])
    expected = place(STEPPED, (5.0, 2.0), 0.5, 10.0, True)
    np.testing.assert_allclose(target.path().flatten(0.01), expected.flatten(0.01), atol=1e-6)


def test_saved_and_read_again_it_is_equal_and_stays_a_file(folder: FilePath) -> None:
    stack = read_stack(folder / "a.stack.toml")
    write_stack(stack, folder / "a.stack.toml")
    text = (folder / "a.stack.toml").read_text()
    assert text == STACK
    assert read_stack(folder / "a.stack.toml") == stack
    assert stack_text(stack) == STACK


def test_saved_elsewhere_it_is_named_anew_from_there(folder: FilePath) -> None:
    stack = read_stack(folder / "a.stack.toml")
    (folder / "jobs").mkdir()
    write_stack(stack, folder / "jobs" / "b.stack.toml")
    again = read_stack(folder / "jobs" / "b.stack.toml").target
    assert isinstance(again, FileTarget)
    assert again.file == "../profile.dxf"
    assert stack.target is not None
    assert again.path() == stack.target.path()
    back = moved_to(again, str(folder))
    assert back == stack.target


def test_what_is_wrong_with_the_file_is_told_at_its_key(folder: FilePath) -> None:
    assert ":17: target.file: " in told(folder, "profile.dxf", "gone.dxf")
    assert "there is no such file" in told(folder, "profile.dxf", "gone.dxf")
    (folder / "two.csv").write_text("x_mm,z_mm\n0,1\n1,2\n\n5,9\n7,9\n")
    assert "target.file: falls into 2 chains" in told(folder, "profile.dxf", "two.csv")
    (folder / "bare.csv").write_text("0,1\n1,2\n")
    silent = told(folder, "profile.dxf", "bare.csv")
    assert "bare.csv: the file does not say whether its numbers are mm or inches" in silent
    assert "--" not in silent  # a stack takes no options


def test_its_numbers_are_checked_like_those_of_members(folder: FilePath) -> None:
    assert "target.scale: 0 is impossible" in told(folder, "scale = 0.5", "scale = 0")
    assert "target.lie" in told(folder, "mirror = true", 'lie = "flat"')
    assert "target.file: is the number 3" in told(folder, '"profile.dxf"', "3")


@pytest.mark.parametrize(
    "name",
    [
        "/etc/passwd",
        "/home/x/crown.dxf",
        "C:/x/crown.dxf",
        "c:crown.dxf",
        "\\\\server\\share\\crown.dxf",
        "//server/share/crown.dxf",
        "~/crown.dxf",
        "..\\crown.dxf",
        "",
        "crown\n.dxf",
        "crown\0.dxf",
        "a" * LONGEST_NAME + ".dxf",
        "crown.step",
        "crown",
    ],
)
def test_names_that_lead_elsewhere_or_nowhere_are_refused(name: str, folder: FilePath) -> None:
    problem = name_problem(name)
    assert problem is not None
    assert problem.where == "file"
    quoted = name.encode("unicode_escape").decode().replace("\\x00", "\\u0000")
    assert "target.file" in told(folder, "profile.dxf", quoted)


@pytest.mark.parametrize(
    "name", ["crown.dxf", "drawings/crown.dxf", "../crown.SVG", "a b/Gesims ä.csv", "./x.png"]
)
def test_names_from_the_stack_s_folder_on_are_followed(name: str) -> None:
    assert name_problem(name) is None


def test_no_file_of_another_kind_is_ever_opened(folder: FilePath) -> None:
    (folder / "secret.txt.key").write_text("x")
    assert "is of no kind that is read" in told(folder, "profile.dxf", "secret.txt.key")


def test_a_place_that_cannot_be_named_is_refused() -> None:
    target = FileTarget("crown.dxf", STEPPED, "/somewhere")
    bad = replace(target, file="x" * 300 + ".dxf")
    with pytest.raises(InputError, match="copy the drawing beside the stack"):
        moved_to(bad, "/elsewhere")

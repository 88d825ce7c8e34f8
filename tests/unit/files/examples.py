"""A small good stack, and ways to spoil it."""

from __future__ import annotations

from profilestack.errors import InputError
from profilestack.files.stack_file import read_stack_text

GOOD = """\
format = "profilestack-stack/1"
units = "mm"

[blank]
width = 62
thickness = 45

[run]
kind = "straight"
length = 2400

[target]
start = [0, 45]
path = [
  { to = [10, 45] },
  { to = [30, 25], center = [10, 25], turn = "cw" },
  { to = [62, 25] },
]

[[setup]]
name = "edge"
angle = 90

[[pass]]
bit = "ball"
offset = 35
depth = 12

[[bit]]
id = "ball"
shape = "core-box"
diameter = 12
cutting_length = 10
shank = 8
length = 36
"""


def spoiled(old: str, new: str) -> str:
    """The good stack with one text in it replaced."""
    assert GOOD.count(old) == 1, old
    return GOOD.replace(old, new)


def messages(text: str, file: str = "") -> list[str]:
    """What is told about a wrong document, problem by problem."""
    try:
        read_stack_text(text, file)
    except InputError as error:
        return [str(problem) for problem in error.problems]
    raise AssertionError("nothing was refused")

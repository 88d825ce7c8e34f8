"""What the tests of the command line call and write."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from profilestack.cli.main import main

Capture = pytest.CaptureFixture[str]


@dataclass(frozen=True)
class Answer:
    """How a command ended and what it said."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        return json.loads(self.out)


@dataclass(frozen=True)
class Call:
    """Runs a command in this process."""

    capture: Capture
    run: Callable[[list[str]], int] = main

    def __call__(self, *arguments: str) -> Answer:
        self.capture.readouterr()
        try:
            code = self.run(list(arguments))
        except SystemExit as ended:  # as --help does
            code = ended.code if isinstance(ended.code, int) else 1
        said = self.capture.readouterr()
        return Answer(code, said.out, said.err)


@dataclass(frozen=True)
class Folder:
    """The folder that a command runs in."""

    path: Path

    def write(self, name: str, text: str) -> str:
        (self.path / name).write_text(text, encoding="utf-8")
        return name

    def names(self) -> set[str]:
        return {each.name for each in self.path.iterdir()}


BOARD = """\
format = "profilestack-stack/1"
title = "A board with a hollow"
units = "mm"

[blank]
width = 60
thickness = 30
species = "red oak"

[run]
kind = "straight"
length = 1000
pieces = 3

[target]
start = [0, 30]
path = [
  { to = [20, 30] },
  { to = [40, 30], center = [30, 30], turn = "ccw" },
  { to = [60, 30] },
]

[[setup]]
name = "edge"
angle = 90

[[pass]]
bit = "hollow"
offset = 30
depth = 10
note = "the hollow"

[[pass]]
bit = "hollow"
offset = 30
depth = 8
relief = true
on = false

[[bit]]
id = "hollow"
shape = "core-box"
diameter = 20
cutting_length = 12
shank = 8
length = 60
"""
"""A half round of radius 10 in a board, cut by one pass of the bit that it was drawn for."""

HOLLOW = """\
format = "profilestack-bits/1"
units = "mm"

[[bit]]
id = "hollow"
shape = "core-box"
diameter = {diameter}
cutting_length = 12
shank = 8
length = 60
"""
"""A library with a bit of that id."""


def without_bits(text: str = BOARD) -> str:
    """The stack without the bits that it carries."""
    return text.partition("[[bit]]")[0]

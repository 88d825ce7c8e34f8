"""Lines of keys in a TOML text."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from profilestack.files.key_lines import first_too_deep, key_lines, line_of
from profilestack.files.reading import joined, key_word
from tests.unit.files.examples import GOOD

TRICKY = '''\
a = 1 # x = [
"quoted key" = "b = [ { # no comment"
text = """
[[pass]]
c = 1 \\""" """
literal = \'\'\'
d = 2
\'\'\'
dotted.inside.key = 3
list = [
  1, # one
  [2,
   3],
  { to = [4, 5], turn = "cw" }, { to = [
    6,
    7] },
]
inline = { e.f = 1, g = [{ h = 2 }] }

[table]
a = 2
[table.sub]
b = 3
[[pass]]
bit = "x"
[pass.more]
c = 4
[[pass]]
bit = "y"
[[pass.item]]
d = 5
[[pass.item]]
d = 6
'''


def lines_expected() -> dict[str, int]:
    return {
        "a": 1,
        '"quoted key"': 2,
        "text": 3,
        "literal": 6,
        "dotted.inside.key": 9,
        "list": 10,
        "list[1]": 11,
        "list[2]": 12,
        "list[2][1]": 12,
        "list[2][2]": 13,
        "list[3].to[2]": 14,
        "list[3].turn": 14,
        "list[4].to": 14,
        "list[4].to[1]": 15,
        "list[4].to[2]": 16,
        "inline.e.f": 18,
        "inline.g[1].h": 18,
        "table.a": 21,
        "table.sub.b": 23,
        "pass[1]": 24,
        "pass[1].bit": 25,
        "pass[1].more.c": 27,
        "pass[2].bit": 29,
        "pass[2].item[1].d": 31,
        "pass[2].item[2].d": 33,
    }


@pytest.mark.parametrize(("where", "line"), lines_expected().items())
def test_each_key_has_its_line(where: str, line: int) -> None:
    assert key_lines(TRICKY)[where] == line


def paths(value: Any, where: str = "") -> set[str]:
    """Every key path of a document."""
    found: set[str] = set()
    if isinstance(value, dict):
        for word, item in value.items():
            inner = joined(where, key_word(word))
            found |= {inner} | paths(item, inner)
    elif isinstance(value, list):
        for number, item in enumerate(value, 1):
            found |= {f"{where}[{number}]"} | paths(item, f"{where}[{number}]")
    return found


@pytest.mark.parametrize("text", [TRICKY, GOOD, GOOD.replace("\n", "\r\n")])
def test_every_key_that_the_toml_reader_finds_has_a_line(text: str) -> None:
    assert paths(tomllib.loads(text)) <= set(key_lines(text))


def test_a_key_that_is_not_there_has_the_line_of_its_table() -> None:
    lines = key_lines(TRICKY)
    assert line_of(lines, "pass[1].depth") == 24
    assert line_of(lines, "list[4].center[1]") == 14
    assert line_of(lines, "nowhere") is None
    assert line_of(lines, "") is None


def test_depth_is_counted_outside_texts() -> None:
    assert first_too_deep("a = 1\nb = [[[1]]]", 3) is None
    assert first_too_deep("a = 1\nb = [[\n[[1]]]]", 3) == 3
    assert first_too_deep('a = "[[[[[[" # [[[[[[', 3) is None
    assert first_too_deep("a.b.c = 1", 3) is None
    assert first_too_deep("x = 1.5\na.b.c.d = 1", 3) == 2

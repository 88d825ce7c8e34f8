"""Documents as TOML text."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from profilestack.errors import InputError
from profilestack.files.writing import document_text

DOCUMENTS: list[dict[str, Any]] = [
    {},
    {"a": 1, "b": 1.5, "c": True, "d": False, "e": -1e-7, "f": 1e16, "g": 5e-324},
    {"text": 'quote " backslash \\ tab \t line \n return \r bell \x07 delete \x7f ½ 😀 \u2028'},
    {"list": [1, 2.5, "3 mm"], "empty": [], "nested": [[1, 2], [3]]},
    {"table": {"a": 1, "path": [{"to": [1, 2]}, {"to": [3, 4], "turn": "cw"}]}},
    {"plain": 1, "pass": [{"a": 1}, {}, {"a": 2}], "table": {"b": {"c": 1}}, "last": 2},
    {"a key": 1, "": 2, "dotted.key": {"x y": 1}, 'quote"': 3},
]


@pytest.mark.parametrize("document", DOCUMENTS)
def test_the_toml_reader_reads_the_same_document(document: dict[str, Any]) -> None:
    assert tomllib.loads(document_text(document)) == document


def test_a_document_looks_as_a_person_would_write_it() -> None:
    document = {
        "units": "mm",
        "target": {"start": [0, 45], "path": [{"to": [10, 45]}, {"to": [30, "1 in"]}]},
        "pass": [{"bit": "a", "depth": 1.5}, {"bit": "b", "on": False}],
    }
    assert (
        document_text(document)
        == """\
units = "mm"

[target]
start = [0, 45]
path = [
  { to = [10, 45] },
  { to = [30, "1 in"] },
]

[[pass]]
bit = "a"
depth = 1.5

[[pass]]
bit = "b"
on = false
"""
    )


def test_half_a_character_cannot_be_written() -> None:
    with pytest.raises(InputError, match="half a character"):
        document_text({"title": "ab\ud800"})

from __future__ import annotations

import re
from pathlib import Path

import pytest

import profilestack
from profilestack.errors import Problem
from profilestack.session.import_words import (
    VERBS,
    all_told,
    fault_told,
    note_told,
    several_told,
    told,
)
from profilestack.session.target_import import SAID

WHERE = Path(profilestack.__file__).parent
NOUNS = {
    "a",
    "block",
    "blocks",
    "degree",
    "element",
    "its",
    "layer",
    "no",
    "one",
    "the",
    "there",
    "three",
}
"""What begins a problem that has its subject."""


@pytest.mark.parametrize(
    ("problem", "kind", "words"),
    [
        (
            Problem("units", "has no size", "mm or in", "choose it"),
            "drawing",
            "The drawing has no size; expected mm or in. Choose it.",
        ),
        (
            Problem("dpi", "does not say its scale"),
            "picture",
            "The picture does not say its scale.",
        ),
        (Problem("points", "lie 3 pixels apart"), "picture", "Marks A and B lie 3 pixels apart."),
        (
            Problem("", "has 1 column", "at least 2", line=7),
            "table",
            "Line 7 of the table has 1 column; expected at least 2.",
        ),
        (Problem("", "'x' is not finite", line=7), "table", "Line 7: 'x' is not finite."),
        (Problem("path 3", "has numbers too large"), "drawing", "Path 3 has numbers too large."),
        (Problem("pick", "99 is none of its lines"), "drawing", "Number 99 is none of its lines."),
        (
            Problem("target", "three lines meet", hint="is it one?"),
            "drawing",
            "Three lines meet. Is it one?",
        ),
    ],
)
def test_a_problem_is_told_in_sentences(problem: Problem, kind: str, words: str) -> None:
    assert told(problem, kind) == words


def test_every_problem_of_the_readers_begins_with_its_subject_or_a_known_verb() -> None:
    files = [*WHERE.glob("files/targets/*.py"), *WHERE.glob("targets/[!m]*.py")]
    found: set[str] = set()
    for file in files:
        text = file.read_text()
        found |= set(re.findall(r'Problem\(\s*"[^"]*", f?"([a-z]+) ', text))
        found |= set(re.findall(r'(?:told|problem|text|said) = f?"([a-z]+) ', text))
    assert len(found) > 15
    assert found <= {*VERBS, *NOUNS}


def test_no_more_problems_are_told_than_help() -> None:
    problems = [Problem("", "has 1 column", line=k) for k in range(1, 8)]
    lines = all_told(problems, "table").splitlines()
    assert lines[0] == "Line 1 of the table has 1 column."
    assert lines[3:] == ["And 4 more of this kind."]
    assert all_told(problems[:4], "table").splitlines()[3:] == ["And one more."]
    assert len(all_told(problems[:3], "table").splitlines()) == 3


def test_a_fault_of_the_file_is_told_without_its_path() -> None:
    file = Path("/home/someone/step.dxf")
    assert fault_told(f"{file}: is empty", file, "drawing") == "The drawing is empty."
    assert fault_told(f"{file}: its reader failed: x", file, "drawing") == "Its reader failed: x."


def test_a_note_is_a_sentence() -> None:
    assert note_told("its blank is that of layer BLANK") == "Its blank is that of layer BLANK."


def test_only_a_drawing_has_layers() -> None:
    assert "falls into 3 lines; expected one profile" in several_told(3, "drawing")
    assert "layer" in several_told(3, "drawing")
    assert "layer" not in several_told(3, "table")


def test_no_words_say_where_on_the_screen_something_stands() -> None:
    for _, words in SAID:
        assert not re.search(r"\b(above|below|left of|beside)\b", words)

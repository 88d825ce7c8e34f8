"""What is wrong with a file that a profile is read from: whole sentences, in the screen's words."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from profilestack.errors import Problem

SUBJECTS = {"picture": "The picture", "table": "The table", "drawing": "The drawing"}
"""What a message is about, by the kind of file."""

OF_FIELDS = {
    "points": "Marks A and B",
    "across": "The width of the outline",
    "distance": "The true distance from A to B",
    "wood": "The side of the wood",
}
"""What a message is about that belongs to one field."""

OF_FILE = (
    "", "units", "dpi", "threshold", "trace", "order", "columns", "layer", "target", "file",
)  # fmt: skip
"""Places of problems that are the file's own, as far as a reader can tell."""

VERBS = (
    "both", "cannot", "does", "falls", "gives", "goes", "has", "holds", "is", "lacks", "leaves",
    "lie", "makes", "names", "needs", "reaches", "says", "shares", "shows", "took", "uses",
)  # fmt: skip
"""A problem that begins with one of these words lacks its subject."""

MOST_TOLD = 3
"""So many problems are told; it is the first ones that help."""


def told(problem: Problem, kind: str) -> str:
    """A problem as sentences: of what, what is wrong, what was expected, what to do."""
    text = problem.text
    if _lacks_subject(text):
        text = f"{_subject(problem, kind)} {text}"
    elif problem.where == "pick":
        text = f"Number {text}"
    elif problem.where and problem.where not in (*OF_FILE, *OF_FIELDS):
        text = f"{problem.where}: {text}"
    elif problem.line is not None:
        text = f"Line {problem.line}: {text}"
    expected = f"; expected {problem.expected}" if problem.expected else ""
    hint = f" {_sentence(problem.hint)}" if problem.hint else ""
    return f"{_sentence(f'{text}{expected}')}{hint}"


def all_told(problems: Sequence[Problem], kind: str) -> str:
    """Several problems, each on its line, no more than help."""
    lines = [told(problem, kind) for problem in problems[:MOST_TOLD]]
    if (more := len(problems) - MOST_TOLD) > 0:
        lines.append(f"And {more} more of this kind." if more > 1 else "And one more.")
    return "\n".join(lines)


def fault_told(fault: str, file: Path, kind: str) -> str:
    """A file that cannot be read, without its path: the name stands above already."""
    text = fault.removeprefix(f"{file}: ")
    return _sentence(f"{SUBJECTS[kind]} {text}" if _lacks_subject(text) else text)


def note_told(note: str) -> str:
    """What is to be known of what was read, as a sentence."""
    return _sentence(note)


def several_told(count: int, kind: str) -> str:
    """A file that holds several lines, each of which is shown."""
    layer = " or its layer" if kind == "drawing" else ""
    return (
        f"{SUBJECTS[kind]} falls into {count} lines; expected one profile. "
        f"Click on the one that is meant, or give its number{layer}."
    )


def _subject(problem: Problem, kind: str) -> str:
    if problem.line is not None:
        return f"Line {problem.line} of {SUBJECTS[kind].lower()}"
    if problem.where in OF_FILE:
        return SUBJECTS[kind]
    return OF_FIELDS.get(problem.where, problem.where)


def _lacks_subject(text: str) -> bool:
    return text.partition(" ")[0] in VERBS


def _sentence(text: str) -> str:
    ended = text if text.endswith((".", "?", "!")) else f"{text}."
    return f"{ended[:1].upper()}{ended[1:]}"

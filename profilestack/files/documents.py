"""From a file to the tables of a document: size, encoding, TOML, depth, version."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from profilestack.errors import FileError, InputError, Problem
from profilestack.files.key_lines import first_too_deep, key_lines, line_of
from profilestack.files.versions import Format, up_to_date

MOST_BYTES = 20 * 2**20
"""A larger file is not looked at."""

DEEPEST = 32
"""Lists, tables and dotted keys may be nested so deep; our formats need 6."""

_PLACE = re.compile(r" ?\(at (?:line (?P<line>\d+), column (?P<column>\d+)|end of document)\)$")


def read_text(path: str | os.PathLike[str]) -> str:
    """The text of a file, UTF-8.

    Raises:
        FileError: it is not there, cannot be read, is too large or is no text; the file is named.
    """
    name = os.fspath(path)
    try:
        with open(name, "rb") as file:
            data = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise FileError(f"{name}: there is no such file{_hint_of_copy(name)}") from None
    except IsADirectoryError:
        raise FileError(f"{name}: is a folder, not a file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise FileError(f"{name}: cannot be read: {reason}") from None
    if len(data) > MOST_BYTES:
        raise FileError(f"{name}: is larger than {MOST_BYTES // 2**20} MiB; that is no document")
    try:
        # a mark of byte order in front is common where a text editor has saved the file
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise FileError(
            f"{name}:{line}: is no UTF-8 text at byte {error.start + 1}{_hint_of_copy(name)}"
        ) from None


def document_from(text: str, wanted: Format, file: str = "") -> dict[str, Any]:
    """The tables of a document in the newest version of its format.

    Raises:
        InputError: it is no TOML, nested too deep, of another kind or of a newer version.
    """
    try:
        _refuse_depth(text)
        document = tomllib.loads(text)
        if _is_deeper(document, DEEPEST):
            raise RecursionError
    except RecursionError:
        line = first_too_deep(text, DEEPEST)
        problem = Problem("", f"is nested deeper than {DEEPEST} levels", line=line, file=file)
        raise InputError(problem) from None
    except ValueError as error:
        raise InputError(_syntax_problem(str(error), text, file)) from None
    try:
        return up_to_date(document, wanted)
    except InputError as error:
        raise InputError(placed(error.problems, text, file)) from None


def placed(problems: Sequence[Problem], text: str, file: str) -> list[Problem]:
    """The problems with file and line, in the order of the file."""
    lines = key_lines(text)
    found = [
        replace(problem, file=file, line=line_of(lines, problem.where)) for problem in problems
    ]
    return sorted(found, key=lambda problem: problem.line or 0)


def former_copy(path: str) -> str:
    """Where the former version of a document is kept when a new one is saved."""
    return f"{path}.bak"


def _refuse_depth(text: str) -> None:
    """Dotted keys take the TOML reader the square of their parts: look at them first."""
    if any(line.count(".") > 2 * DEEPEST for line in text.splitlines()) and first_too_deep(
        text, DEEPEST
    ):
        raise RecursionError


def _is_deeper(document: dict[str, Any], most: int) -> bool:
    level: list[Any] = [document]
    for _ in range(most):
        level = [
            item
            for outer in level
            for item in (outer.values() if isinstance(outer, dict) else outer)
            if isinstance(item, (dict, list))
        ]
        if not level:
            return False
    return True


def _syntax_problem(message: str, text: str, file: str) -> Problem:
    """What the TOML reader says, with its line; a file that was cut off is told as such."""
    match = _PLACE.search(message)
    said = _PLACE.sub("", message)
    if "integer string conversion" in message:
        return Problem("", "has a whole number of thousands of digits", file=file)
    if match is None:
        return Problem("", f"is no TOML: {said}", file=file)
    if match["line"] is None:
        line = text.count("\n") + 1
        where = "the file ends in the middle of a value: it seems to be cut off"
        return Problem("", where, "TOML", _copy_words(file), line=line, file=file)
    told = f"is no TOML at column {match['column']}: {said[:1].lower()}{said[1:]}"
    return Problem("", told, "TOML", _copy_words(file), line=int(match["line"]), file=file)


def _copy_words(file: str) -> str:
    copy = former_copy(file)
    return f"the last good copy is {copy}" if file and os.path.exists(copy) else ""


def _hint_of_copy(file: str) -> str:
    words = _copy_words(file)
    return f" ({words})" if words else ""

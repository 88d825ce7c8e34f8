"""Readings of the sheet's numbered check dimensions: a table with the columns check and measured.

Comma, semicolon, tab or blanks part the columns; the head names the unit (``measured_mm``); a
reading may also carry its own. Lines without a reading are left out.
"""

from __future__ import annotations

import os
import re

from profilestack.errors import InputError, Problem
from profilestack.files.documents import read_text
from profilestack.units import parse_length

_HEAD = re.compile(r"\s*\"?(check|number|no)\b", re.IGNORECASE)
_PARTS = re.compile(r"[;,\t]|\s+")

MOST_LINES = 1000


def has_checks(path: str | os.PathLike[str]) -> bool:
    """Whether a file is a table of readings: its head begins with "check".

    Raises:
        FileError: it cannot be read.
    """
    return bool(_HEAD.match(_head(_lines(path))))


def read_checks(path: str | os.PathLike[str]) -> dict[int, float]:
    """The readings [mm] by the number of their dimension.

    Raises:
        FileError: it cannot be read.
        InputError: no unit, no number, no readings; each with its line.
    """
    name = os.fspath(path)
    lines = _lines(path)
    words = _head(lines).lower()
    units = "in" if re.search(r"(_|\b)(in|inch|inches)\b", words) else None
    units = "mm" if re.search(r"(_|\b)mm\b", words) else units
    found: dict[int, float] = {}
    problems = []
    begun = False
    for number, line in enumerate(lines[:MOST_LINES], 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        if not begun:
            begun = True
            continue
        cells = [cell.strip().strip('"') for cell in _PARTS.split(line.strip(), maxsplit=1)]
        if len(cells) < 2 or not cells[1]:
            continue
        try:
            found[_number(cells[0], found)] = parse_length(cells[1], units)
        except InputError as error:
            first = error.problems[0]
            problems.append(Problem("", first.text, first.expected, line=number, file=name))
    if not problems and not found:
        text = "holds no reading"
        problems.append(Problem("", text, "lines such as 3,11.82 below the head", file=name))
    if problems:
        raise InputError(problems)
    return found


def _number(cell: str, found: dict[int, float]) -> int:
    if not (cell.isascii() and cell.isdigit()):
        raise InputError(Problem("", f"{cell!r} is no number of a check dimension", "1, 2 ..."))
    if int(cell) in found:
        raise InputError(Problem("", f"check {int(cell)} is there twice", "each once"))
    return int(cell)


def _lines(path: str | os.PathLike[str]) -> list[str]:
    return read_text(path).splitlines()


def _head(lines: list[str]) -> str:
    plain = (line for line in lines if line.strip() and not line.lstrip().startswith("#"))
    return next(plain, "")

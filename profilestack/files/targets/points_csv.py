"""Measured points from a table (CSV): a contour gauge, a caliper, a scanner.

Comma, semicolon, tab or blanks part the columns; a decimal comma is understood where a comma does
not part them. A head line may name the columns and their units (``x_mm``, ``z (in)``); a line
``# units: mm`` may. An empty line begins a new slice. Lines that begin with # are notes.
"""

from __future__ import annotations

import csv
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.files.targets.wishes import FARTHEST, MOST_NUMBERS, ReadingWishes
from profilestack.geometry.path import Points
from profilestack.targets.tracing import Chain, Curve, Tracing
from profilestack.units import MILLIMETRES, parse_length

TOLERANCE = 0.05
"""Points by hand or by a usual scanner are true to about this [mm] (common practice, memory)."""

MOST_LINES = 2 * MOST_NUMBERS

MOST_SORTED = 5000
"""So many points are ordered by the nearest at most."""

MOST_PROBLEMS = 10
"""So many wrong lines are told."""

JUMP = 20.0
"""A step so many times the usual one is a jump: the points may be out of order."""

_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?")
_COMMA_PAIR = re.compile(r"[+-]?\d+,\d+\s+[+-]?\d+,\d+")
_UNITS = {"mm": "mm", "millimetre": "mm", "millimeter": "mm", "millimetres": "mm",
          "millimeters": "mm", "in": "in", "inch": "in", "inches": "in", '"': "in"}  # fmt: skip
_ACROSS = ("x", "across", "width", "offset", "position")
_UP = ("z", "height", "depth", "up", "y")


@dataclass(slots=True)
class _Table:
    """Cells with their line numbers, slices parted, and what the head says."""

    slices: list[list[tuple[int, list[str]]]]
    head: list[str] | None = None
    units: str | None = None
    part: str | None = None


def read_points(data: bytes, wishes: ReadingWishes) -> Tracing:
    """The slices of a table of points.

    Raises:
        InputError: no units, no numbers, wrong lines; each with its line.
    """
    text = _decoded(data)
    table = _parted(text)
    columns = _columns(table, wishes)
    units, notes = _units(table, columns, wishes)
    # a decimal comma among commas makes a column too many: told, not read as another number
    is_told = table.part == "," and table.head is not None and wishes.columns is None
    most = len(table.head or ()) if is_told else None
    chains, problems = [], []
    for number, rows in enumerate(table.slices, 1):
        values, wrong = _values(rows, columns, units, most)
        problems += wrong
        if len(values) >= 2:
            points, told = _ordered(np.array(values), wishes.order, f"slice {number}")
            notes += told
            label = f"slice {number}" if len(table.slices) > 1 else ""
            chains.append(Chain((Curve(points),), label, measured=True))
    if problems:
        raise InputError(problems[:MOST_PROBLEMS])
    if not chains:
        raise InputError(Problem("", "holds no two points", "two columns of numbers, x and z"))
    return Tracing(tuple(chains), units, TOLERANCE, tuple(notes))


def _decoded(data: bytes) -> str:
    if b"\0" in data[:4096]:
        raise InputError(Problem("", "is no table: it holds zero bytes", "a CSV text"))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("latin-1")  # numbers are the same; only notes may look odd


def _parted(text: str) -> _Table:
    """The cells of every line; head and notes set aside."""
    if text.count("\n") > MOST_LINES:
        raise InputError(Problem("", f"has more than {MOST_LINES} lines", "fewer", "thin them out"))
    lines = text.splitlines()
    plain = [line for line in lines if line.strip() and not line.lstrip().startswith("#")]
    part = _separator(plain[:50])
    table = _Table([[]], part=part)
    count = 0
    for number, line in enumerate(lines, 1):
        stripped = line.strip()
        if stripped.startswith("#") or re.match(r"units?\s*[:=,;]", stripped, re.IGNORECASE):
            table.units = _unit_in_note(stripped) or table.units
            continue
        if not stripped.strip(",;\t "):
            if table.slices[-1]:
                table.slices.append([])
            continue
        cells = _cells(stripped, part)
        if table.head is None and not table.slices[-1] and not any(map(_looks_number, cells)):
            table.head = cells
            continue
        count += len(cells)
        if count > MOST_NUMBERS:
            told = f"holds more than {MOST_NUMBERS} cells"
            raise InputError(Problem("", told, "fewer points", "thin them out", line=number))
        table.slices[-1].append((number, cells))
    table.slices = [rows for rows in table.slices if rows]
    return table


def _cells(line: str, part: str | None) -> list[str]:
    """The cells of a line; what stands in quotes is one cell, a closing inch mark stays."""
    if part is None:
        return [cell.strip('"') if cell.startswith('"') else cell for cell in line.split()]
    try:
        cells = next(csv.reader([line], delimiter=part, skipinitialspace=True))
    except csv.Error:  # a cell of a hundred thousand signs: no number in any case
        cells = line.split(part)
    return [cell.strip() for cell in cells]


def _separator(lines: Sequence[str]) -> str | None:
    """What parts the columns, None for blanks: the strongest mark that stands in most lines."""

    def in_most(mark: str) -> bool:
        return bool(lines) and sum(mark in line for line in lines) >= 0.8 * len(lines)

    if in_most(";") or in_most("\t"):
        return ";" if in_most(";") else "\t"
    decimal = sum(bool(_COMMA_PAIR.fullmatch(line.strip())) for line in lines)
    if in_most(",") and decimal < 0.8 * len(lines):
        return ","
    return None


def _unit_in_note(line: str) -> str | None:
    match = re.match(r"#?\s*units?\s*[:=,;]?\s*([a-zA-Z\"]+)", line, re.IGNORECASE)
    return _UNITS.get(match.group(1).lower()) if match else None


def _looks_number(cell: str) -> bool:
    return bool(re.match(r"[+-]?[\d.,½¼¾⅛⅜⅝⅞]", cell)) or cell.lower() in ("nan", "inf", "-inf")


def _columns(table: _Table, wishes: ReadingWishes) -> tuple[int, int]:
    """The indexes of x and z."""
    widths = {len(cells) for rows in table.slices for _, cells in rows}
    width = max(widths, default=0)
    if wishes.columns is not None:
        first, second = (_column(table, word, width) for word in wishes.columns)
        return first, second
    names = [re.split(r"[^a-z]", cell.lower())[0] for cell in table.head or ()]
    across = next((names.index(word) for word in _ACROSS if word in names), None)
    up = next((names.index(word) for word in _UP if word in names), None)
    if across is not None and up is not None:
        return across, up
    if width <= 2:
        return 0, 1
    named = f" ({', '.join(table.head)})" if table.head else ""
    raise InputError(
        Problem("columns", f"the table has {width} columns{named}", "two, or x and z by name",
                "say which: --columns 1,3 or --columns NAME,NAME")
    )  # fmt: skip


def _column(table: _Table, word: str, width: int) -> int:
    head = [cell.lower() for cell in table.head or ()]
    if word.lower() in head:
        return head.index(word.lower())
    if word.isascii() and word.isdigit() and 1 <= int(word) <= max(width, 1):
        return int(word) - 1
    expected = f"1 to {width}" + (f", or one of {', '.join(table.head)}" if table.head else "")
    raise InputError(Problem("columns", f"there is no column {word!r}", expected))


def _units(table: _Table, columns: tuple[int, int], wishes: ReadingWishes) -> tuple[str, list[str]]:
    said = table.units
    if table.head:
        for column in columns:
            cell = table.head[column] if column < len(table.head) else ""
            words = re.split(r"[^a-z\"]+", cell.lower())
            said = next((_UNITS[word] for word in words if word in _UNITS), said)
    if wishes.units is not None:
        if said is not None and said != wishes.units:
            return wishes.units, [f"the file says {said}; it was read as {wishes.units}"]
        return wishes.units, []
    if said is None:
        raise InputError(
            Problem("units", "the file does not say whether its numbers are mm or inches",
                    "a head line such as x_mm,z_mm", "or say so: --units-of-file mm or in")
        )  # fmt: skip
    return said, []


def _values(
    rows: Sequence[tuple[int, list[str]]],
    columns: tuple[int, int],
    units: str,
    most: int | None,
) -> tuple[list[tuple[float, float]], list[Problem]]:
    """Points [mm], one that repeats the last left out, and the lines that hold none."""
    values: list[tuple[float, float]] = []
    problems: list[Problem] = []
    for line, cells in rows:
        if len(problems) >= MOST_PROBLEMS:
            break
        if len(cells) <= max(columns):
            text = f"has {len(cells)} column{'s' if len(cells) != 1 else ''}"
            problems.append(Problem("", text, f"at least {max(columns) + 1}", line=line))
            continue
        if most is not None and any(cells[most:]):
            told = f"has {len(cells)} columns, the head {most}"
            fix = "is a comma both decimal and between columns? put semicolons or quotes"
            problems.append(Problem("", told, f"{most}", fix, line=line))
            continue
        try:
            point = (_length(cells[columns[0]], units), _length(cells[columns[1]], units))
        except InputError as error:
            first = error.problems[0]
            problems.append(Problem("", first.text, first.expected, line=line))
            continue
        if not values or math.dist(values[-1], point) > 1e-9:
            values.append(point)
    return values, problems


def _length(cell: str, units: str) -> float:
    """A cell as a length [mm]: a plain number, or any length with its own unit."""
    if re.fullmatch(r"[+-]?\d+,\d+", cell):
        cell = cell.replace(",", ".")
    if _NUMBER.fullmatch(cell):
        value = float(cell) * float(MILLIMETRES[units])
    elif cell.lower().lstrip("+-") in ("nan", "inf", "infinity"):
        raise InputError(Problem("", f"{cell!r} is not finite", "a number"))
    else:
        value = parse_length(cell, units)
    if not abs(value) <= FARTHEST:
        raise InputError(Problem("", f"{cell[:40]!r} is too large", f"at most {FARTHEST:g} mm"))
    return value


def _ordered(points: Points, order: str, label: str) -> tuple[Points, list[str]]:
    if order == "x":
        return points[np.argsort(points[:, 0], kind="stable")], []
    if order == "nearest":
        return _by_nearest(points), []
    steps = np.hypot(*np.diff(points, axis=0).T)
    usual = float(np.median(steps))
    worst = int(np.argmax(steps))
    if len(points) > 10 and steps[worst] > JUMP * usual:
        x, z = points[worst]
        return points, [
            f"{label} jumps {steps[worst]:.2f} mm behind ({x:.2f}, {z:.2f}): if the points are out "
            "of order, say --order x or --order nearest"
        ]
    return points, []


def _by_nearest(points: Points) -> Points:
    """From the leftmost point on, the nearest that is left, each time."""
    if len(points) > MOST_SORTED:
        text = f"{len(points)} points are too many to order by the nearest"
        raise InputError(
            Problem("order", text, f"at most {MOST_SORTED}", "thin them out, or --order x")
        )
    left = points[np.lexsort((points[:, 1], points[:, 0]))]
    found = [left[0]]
    left = left[1:]
    while len(left):
        near = int(np.argmin(np.hypot(*(left - found[-1]).T)))
        found.append(left[near])
        left = np.delete(left, near, axis=0)
    return np.array(found)

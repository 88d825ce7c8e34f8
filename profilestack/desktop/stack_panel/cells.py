"""What the cells of the table of passes hold, by column and role."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from enum import IntEnum

from PySide6.QtCore import Qt

from profilestack.drawing.wording import number_text
from profilestack.session.pass_rows import (
    SEVERITY_WORDS,
    PassRow,
    area_number,
    area_text,
    bit_about,
    bit_second_line,
    bit_words,
    both_lengths,
    caution_text,
    lie_words,
    standing_words,
    volume_text,
)
from profilestack.stack import Pass, Stack

Role = Qt.ItemDataRole
SECOND_ROLE = Role.UserRole + 1
"""The second, quieter line of a cell."""

LIE_ROLE = Role.UserRole + 2
"""The second line of a bit where no column says how the blank lies for it."""


class Column(IntEnum):
    """The columns, from the left."""

    NUMBER = 0
    BIT = 1
    SETUP = 2
    OFFSET = 3
    DEPTH = 4
    CAUTION = 5
    REMOVES = 6
    NOTE = 7


HEADS = {
    Column.NUMBER: (
        "Pass",
        "Pass",
        "The order of cutting, first at the top; what is checked is cut.",
    ),
    Column.BIT: ("Bit", "Bit", "Double click or F2 to choose another bit."),
    Column.SETUP: ("Setup", "Setup", "How the blank lies."),
    Column.OFFSET: (
        "Edge to\ncentre\n{}",
        "Edge to bit centre",
        "From the blank's left side, as it lies, to the axis.",
    ),
    Column.DEPTH: (
        "Below\nface\n{}",
        "Below face",
        "From the blank's top, as it lies, to the lowest cutting point.",
    ),
    Column.CAUTION: ("!", "Caution", "What to mind before cutting this pass."),
    Column.REMOVES: (
        "Removes\n{}²",
        "Removes",
        "Area of the section and volume of a piece taken away.",
    ),
    Column.NOTE: ("Note", "Note", "Your own words."),
}
"""The head of each column, the whole word for it, and what it means."""

LENGTHS = (Column.OFFSET, Column.DEPTH)
NUMBERS = (*LENGTHS, Column.REMOVES)
EDITABLE = (*LENGTHS, Column.BIT, Column.SETUP, Column.NOTE)


def alignment(column: Column) -> Qt.AlignmentFlag:
    """Numbers stand at the right, signs in the middle, words at the left."""
    flag = Qt.AlignmentFlag
    side = flag.AlignHCenter if column == Column.CAUTION else flag.AlignLeft
    return (flag.AlignRight if column in NUMBERS else side) | flag.AlignVCenter


def head(column: Column, units: str) -> str:
    """The head of a column; it says the unit of the numbers below it."""
    return HEADS[column][0].format(units)


def changed_columns(old: PassRow, new: PassRow, units: str) -> tuple[Column, ...]:
    """The columns in which two rows of one place look different."""
    found = []
    if old.cautions != new.cautions:
        found.append(Column.CAUTION)
    if (old.area, old.volume, old.share) != (new.area, new.volume, new.share) and (
        _removes(old, units) != _removes(new, units)
    ):
        found.append(Column.REMOVES)
    a, b = old.single, new.single
    # all passes but the one in the hand are the very same values
    if a is b and old.bit is new.bit and old.setup is new.setup:
        return tuple(found)
    if old.bit != new.bit or _but_places(a) != _but_places(b):
        return tuple(Column)
    for column, differs in (
        (Column.SETUP, old.setup != new.setup),
        (Column.OFFSET, a.offset != b.offset),
        (Column.DEPTH, a.depth != b.depth),
    ):
        if differs:
            found.append(column)
    return tuple(found)


def _but_places(single: Pass) -> Pass:
    return replace(single, offset=0.0, depth=1.0, setup="face")


def _removes(row: PassRow, units: str) -> tuple[str, str, int]:
    """What is seen of it: its words, and how long the bar is."""
    words = area_number(row.area, units), volume_text(row.volume, units)
    # the least bar is painted for whatever is more than nothing
    return (*words, max(1, round(256.0 * row.share)) if row.share > 0.0 else 0)


def cell(row: PassRow, column: Column, role: int, stack: Stack, units: str) -> object:
    """What a cell holds in a role; None where it has nothing to say."""
    answer = _ROLES.get(role)
    return None if answer is None else answer(row, column, stack, units)


def _edit_value(row: PassRow, column: Column, stack: Stack, units: str) -> object:
    values = {
        Column.BIT: row.bit,
        Column.SETUP: row.single.setup,
        Column.OFFSET: row.single.offset,
        Column.DEPTH: row.single.depth,
        Column.NOTE: row.single.note,
    }
    return values.get(column)


def _check_state(row: PassRow, column: Column, stack: Stack, units: str) -> Qt.CheckState | None:
    if column != Column.NUMBER:
        return None
    return Qt.CheckState.Checked if row.single.on else Qt.CheckState.Unchecked


def _alignment(row: PassRow, column: Column, stack: Stack, units: str) -> Qt.AlignmentFlag:
    return alignment(column)


def _second_line(row: PassRow, column: Column, stack: Stack, units: str) -> str:
    if column == Column.BIT:
        return bit_second_line(row, units)
    return volume_text(row.volume, units) if column == Column.REMOVES else ""


def _second_line_with_lie(row: PassRow, column: Column, stack: Stack, units: str) -> str:
    if column == Column.BIT:
        return bit_second_line(row, units, row.setup.name)
    return _second_line(row, column, stack, units)


def _tooltip(row: PassRow, column: Column, stack: Stack, units: str) -> str:
    match column:
        case Column.NUMBER:
            return "Cut. Space switches it off." if row.single.on else "Off. Space switches it on."
        case Column.BIT:
            return "\n".join(
                word for word in (bit_about(row, units), standing_words(row, units)) if word
            )
        case Column.SETUP:
            return lie_words(row, stack)
        case Column.OFFSET:
            return f"Edge to bit centre: {both_lengths(row.single.offset)}"
        case Column.DEPTH:
            return f"Below face: {both_lengths(row.single.depth)}"
        case Column.REMOVES:
            return f"{area_text(row.area, units)} of the section, {volume_text(row.volume, units)}"
        case Column.CAUTION:
            return "\n".join(caution_text(caution, units) for caution in row.cautions)
        case _:
            return row.single.note


def _spoken(row: PassRow, column: Column, stack: Stack, units: str) -> str:
    """A cell as it is read out: with its head's words and all of its lines."""
    word = HEADS[column][1]
    first = _DISPLAY[column](row, units)
    if column in LENGTHS:
        first = f"{first} {units}"
    if column == Column.REMOVES:
        first = area_text(row.area, units)
    if column == Column.NUMBER:
        return f"{word} {first}{'' if row.single.on else ', off'}"
    second = _second_line(row, column, stack, units)
    return f"{word}: {first}{f', {second}' if second else ''}"


_DISPLAY: dict[Column, Callable[[PassRow, str], str]] = {
    Column.NUMBER: lambda row, units: str(row.number),
    Column.BIT: lambda row, units: bit_words(row, units)[0],
    Column.SETUP: lambda row, units: row.setup.name,
    Column.OFFSET: lambda row, units: number_text(row.single.offset, units),
    Column.DEPTH: lambda row, units: number_text(row.single.depth, units),
    Column.REMOVES: lambda row, units: area_number(row.area, units),
    Column.CAUTION: lambda row, units: SEVERITY_WORDS.get(row.severity, ""),
    Column.NOTE: lambda row, units: row.single.note,
}
_ROLES: dict[int, Callable[[PassRow, Column, Stack, str], object]] = {
    Role.DisplayRole: lambda row, column, stack, units: _DISPLAY[column](row, units),
    Role.EditRole: _edit_value,
    Role.CheckStateRole: _check_state,
    Role.TextAlignmentRole: _alignment,
    Role.ToolTipRole: _tooltip,
    Role.AccessibleTextRole: _spoken,
    SECOND_ROLE: _second_line,
    LIE_ROLE: _second_line_with_lie,
}

"""From values to TOML text: our tables in our order, one key a line, one step of a path a line.

A general TOML writer spreads every list over several lines, or turns ``[[pass]]`` into one list;
a person reads and edits these files, so that they are written as the examples are.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import MISSING, fields
from typing import Any

from profilestack.errors import InputError, Problem
from profilestack.files.reading import Key, Table, key_word


def write_keys(value: Any, keys: Iterable[Key], units: str) -> Table:
    """The table of a value: one word for each key whose value is not the usual one."""
    usual = {
        field.name: field.default if field.default_factory is MISSING else field.default_factory()
        for field in fields(value)
    }
    table: Table = {}
    for key in keys:
        here = getattr(value, key.name)
        if here is None or (here == usual[key.name] and type(here) is type(usual[key.name])):
            continue
        table[key.word] = key.kind.write(here, units)
    return table


def document_text(document: Table) -> str:
    """A document as TOML: plain keys first, then a block for each table.

    Raises:
        InputError: a text that no file can hold.
    """
    plain = {word: value for word, value in document.items() if not _is_block(value)}
    blocks = ["".join(f"{key_word(word)} = {_value(value)}\n" for word, value in plain.items())]
    for word, value in document.items():
        if isinstance(value, dict):
            blocks.append(f"[{key_word(word)}]\n{_lines(value)}")
        elif _is_block(value):
            blocks += [f"[[{key_word(word)}]]\n{_lines(table)}" for table in value]
    return "\n".join(blocks)


def _is_block(value: object) -> bool:
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and all(isinstance(item, dict) for item in value)
    )


def _lines(table: Table) -> str:
    return "".join(f"{key_word(word)} = {_value(value)}\n" for word, value in table.items())


def _value(value: object) -> str:
    """A value; a list of tables has a line for each."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (int, float)):
        return repr(value)
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, dict):
        inside = ", ".join(f"{key_word(word)} = {_value(item)}" for word, item in value.items())
        return f"{{ {inside} }}"
    assert isinstance(value, list), value
    if _is_block(value):
        return "[\n" + "".join(f"  {_value(item)},\n" for item in value) + "]"
    return "[" + ", ".join(_value(item) for item in value) + "]"


def _quoted(text: str) -> str:
    """A basic string: JSON's escapes are TOML's, but for the one control character it leaves."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError as error:
        told = f"{text[: error.start]!r}... holds half a character, which no file can hold"
        raise InputError(Problem("", told, "plain text")) from None
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007F")

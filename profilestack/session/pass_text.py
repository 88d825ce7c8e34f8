"""Passes as text, as they go to the clipboard and come back: tables of a stack file, in mm.

Beside the ``[[pass]]`` tables stand the setups that they are cut in and the bits that others may
not have, so that what is copied in one document can be cut in another.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace

from profilestack.bits.bit import Bit
from profilestack.errors import InputError, Problem
from profilestack.files.bit_keys import bit_table
from profilestack.files.reading import Table
from profilestack.files.stack_file import PASS_KEYS, SETUP_KEYS, read_stack_text
from profilestack.files.versions import STACK
from profilestack.files.writing import document_text, write_keys
from profilestack.session.pass_edits import Edited, named, with_bits_carried
from profilestack.stack import FACE, Pass, Setup, Stack
from profilestack.stack.blank import LARGEST
from profilestack.stack.edits import with_passes_added

MOST_CHARACTERS = 2**20
"""A longer text on the clipboard is not looked at."""

_AROUND: Table = {
    "format": STACK.line,
    "units": "mm",
    "blank": {"width": 1, "thickness": 1},
    "run": {"kind": "straight", "length": LARGEST},
}


def passes_text(stack: Stack, indices: Iterable[int], bits: Mapping[str, Bit]) -> str:
    """These passes as text; ``bits`` are those that must go along, by id."""
    passes = [stack.passes[index] for index in sorted(set(indices)) if index < len(stack.passes)]
    setups = [setup for setup in stack.setups if any(p.setup == setup.name for p in passes)]
    ids = dict.fromkeys(single.bit for single in passes)
    document = {
        "setup": [write_keys(setup, SETUP_KEYS, "mm") for setup in setups],
        "pass": [write_keys(single, PASS_KEYS, "mm") for single in passes],
        "bit": [bit_table(bits[word], "mm") for word in ids if word in bits],
    }
    return document_text({word: tables for word, tables in document.items() if tables}).lstrip()


def pasted(stack: Stack, text: str, at: int | None = None) -> Edited:
    """The passes of a text put into the stack, from ``at`` on; None: at the end.

    A whole stack file is taken too. Setups and bits that come along are added; one whose name is
    already used for another thing gets a new name.

    Raises:
        InputError: a text without passes, or passes that this stack cannot take.
    """
    other = _read(text, stack)
    setups, setup_names = _merged_setups(stack, other)
    bits, bit_names = _merged_bits(stack, other)
    passes = [
        replace(
            single,
            setup=setup_names.get(single.setup, single.setup),
            bit=bit_names.get(single.bit, single.bit),
        )
        for single in other.passes
    ]
    place = len(stack.passes) if at is None else at
    together = with_bits_carried(replace(stack, setups=setups), bits)
    return with_passes_added(together, passes, place), f"Paste {_counted(passes)}"


def places_of_pasted(before: Stack, after: Stack, at: int | None = None) -> tuple[int, ...]:
    """Where the new passes are after :func:`pasted`."""
    place = len(before.passes) if at is None else at
    return tuple(range(place, place + len(after.passes) - len(before.passes)))


def cut_label(indices: Iterable[int]) -> str:
    """What taking passes to the clipboard is called."""
    return f"Cut out {named(indices)}"


def _read(text: str, stack: Stack) -> Stack:
    if len(text) > MOST_CHARACTERS or "[[pass]]" not in text:
        expected = "passes copied from a stack, or [[pass]] tables"
        raise InputError(Problem("", "the clipboard holds no passes", expected))
    try:
        tables = tomllib.loads(text)
    except (ValueError, RecursionError):
        tables = {}
    if "format" in tables:
        return read_stack_text(text)
    known = _names(tables.get("setup"))
    own = [setup for setup in stack.setups if setup.name not in known]
    setups = [write_keys(setup, SETUP_KEYS, "mm") for setup in own]
    around = document_text({**_AROUND, "setup": setups} if setups else _AROUND)
    try:
        return read_stack_text(f"{around}\n{text}")
    except InputError as error:
        # lines would be those of the text made here
        raise InputError([replace(problem, line=None) for problem in error.problems]) from None


def _names(tables: object) -> list[str]:
    if not isinstance(tables, list):
        return []
    return [str(table.get("name")) for table in tables if isinstance(table, dict)]


def _merged_setups(stack: Stack, other: Stack) -> tuple[tuple[Setup, ...], dict[str, str]]:
    """The setups of both, and new names for those of ``other`` that needed one."""
    setups, names = list(stack.setups), {}
    for setup in other.setups:
        if setup in setups or not any(single.setup == setup.name for single in other.passes):
            continue
        taken = [FACE.name, *(known.name for known in setups)]
        name = free_name(setup.name, taken)
        if name != setup.name:
            names[setup.name] = name
        setups.append(replace(setup, name=name))
    return tuple(setups), names


def _merged_bits(stack: Stack, other: Stack) -> tuple[list[Bit], dict[str, str]]:
    """The bits that come along, and new ids for those that needed one."""
    own = {bit.id: bit for bit in stack.bits}
    bits, names = [], {}
    for bit in other.bits:
        if own.get(bit.id, bit) == bit:
            bits.append(bit)
            continue
        names[bit.id] = free_name(bit.id, own)
        bits.append(replace(bit, id=names[bit.id]))
    return bits, names


def free_name(name: str, taken: Iterable[str]) -> str:
    """The name, or the name with the first number that makes it a new one."""
    used = set(taken)
    if name not in used:
        return name
    number = 2
    while f"{name}-{number}" in used:
        number += 1
    return f"{name}-{number}"


def _counted(passes: list[Pass]) -> str:
    return "a pass" if len(passes) == 1 else f"{len(passes)} passes"

"""Opening a stack, with every bit that its passes name."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from profilestack.bits.bit import Bit
from profilestack.bits.library import Library
from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.documents import placed, read_text
from profilestack.files.shipped import ALL, read_bits, read_drawer
from profilestack.files.stack_file import read_stack
from profilestack.stack import Stack


@dataclass(frozen=True, slots=True)
class OpenedStack:
    """A stack, its bits by id, and notes on where a bit was taken from when that was a choice."""

    stack: Stack
    bits: dict[str, Bit]
    notes: tuple[str, ...]


def open_stack(path: Path, libraries: Sequence[str] = ()) -> OpenedStack:
    """Read a stack and look up its bits.

    A bit's id is looked for in the document, then the given libraries (files, or names such as
    "@all"), then the drawer, then the shipped libraries; the first wins.

    Raises:
        FileError: a file that cannot be read.
        InputError: all problems of the file, or bits that nobody knows.
    """
    stack = read_stack(path)
    try:
        bits, notes = find_bits(stack, libraries)
    except InputError as error:
        if not all(problem.where.startswith("pass[") for problem in error.problems):
            raise
        raise InputError(placed(error.problems, read_text(path), os.fspath(path))) from None
    return OpenedStack(stack, bits, notes)


def find_bits(
    stack: Stack, libraries: Sequence[str] = ()
) -> tuple[dict[str, Bit], tuple[str, ...]]:
    """The bits that a stack's passes name, and notes on ids that stand in several places.

    Raises:
        FileError: a library that cannot be read.
        InputError: bits that nobody knows, with the nearest known id.
    """
    places = [("the document", {bit.id: bit for bit in stack.bits})]
    places += [(name, _by_id(read_bits(name))) for name in libraries]
    wanted = dict.fromkeys(single.bit for single in stack.passes)
    if not _has_all(places, wanted) or libraries:
        places.append(("the drawer", _by_id(read_drawer())))
    if not _has_all(places, wanted):
        places.append(("the shipped library", _by_id(read_bits(ALL))))
    found, notes = {}, []
    for bit_id in wanted:
        owners = [(name, bits[bit_id]) for name, bits in places if bit_id in bits]
        if owners:
            found[bit_id] = owners[0][1]
            others = [name for name, bit in owners[1:] if bit != owners[0][1]]
            if others:
                differing = f"{' and '.join(others)} {'has' if len(others) == 1 else 'have'}"
                notes.append(f"{bit_id} is taken from {owners[0][0]}; {differing} another one")
    if problems := list(_unknown(stack, found, places)):
        raise InputError(problems)
    return found, tuple(notes)


def _by_id(library: Library) -> dict[str, Bit]:
    return {bit.id: bit for bit in library.bits}


def _has_all(places: list[tuple[str, dict[str, Bit]]], wanted: Iterable[str]) -> bool:
    return all(any(bit_id in bits for _, bits in places) for bit_id in wanted)


def _unknown(
    stack: Stack, found: dict[str, Bit], places: list[tuple[str, dict[str, Bit]]]
) -> Iterator[Problem]:
    known = [bit_id for _, bits in places for bit_id in bits]
    for number, single in enumerate(stack.passes, 1):
        if single.bit not in found:
            text = f"no bit is called {single.bit!r} in {', '.join(name for name, _ in places)}"
            expected = "the id of a bit; profilestack bits lists them"
            hint = nearest_word(single.bit, known)
            yield Problem(f"pass[{number}].bit", text, expected, hint)

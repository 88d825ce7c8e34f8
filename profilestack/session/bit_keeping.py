"""Keeping new and changed bits: in the document, in the shop's own drawer, in a library file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from profilestack.bits.bit import Bit
from profilestack.bits.library import Library
from profilestack.errors import FileError, InputError, Problem
from profilestack.files.library_file import ENDING, read_library, write_library
from profilestack.files.shipped import drawer_path, read_drawer
from profilestack.session.pass_edits import Edited
from profilestack.stack import Stack


@dataclass(frozen=True, slots=True)
class Kept:
    """A library file that was written: where, what it held before, how many bits it holds."""

    path: Path
    before: Library | None
    count: int


def with_bit_kept(stack: Stack, bit: Bit, former: str | None = None) -> Edited:
    """The stack with a new or changed bit in it, and what that is called.

    ``former`` is the id that a changed bit had: passes that name it go on with the bit.

    Raises:
        InputError: the document has another bit of that id.
    """
    place = _place(stack.bits, bit, former)
    bits = _put(stack.bits, bit, place)
    passes = stack.passes
    if former is not None and former != bit.id:
        passes = tuple(replace(p, bit=bit.id) if p.bit == former else p for p in passes)
    used = any(single.bit == bit.id for single in passes)
    word = "Change" if place is not None or used else "Add"
    return replace(stack, bits=bits, passes=passes), f"{word} bit {bit.id}"


def without_bit(stack: Stack, bit_id: str) -> Edited:
    """The stack that does not carry the bit."""
    kept = tuple(bit for bit in stack.bits if bit.id != bit_id)
    return replace(stack, bits=kept), f"Take bit {bit_id} out"


def keep_in_drawer(bit: Bit, former: str | None = None) -> Kept:
    """Save a new or changed bit in the shop's own drawer.

    The first time the drawer begins with the shipped drawer's bits.

    Raises:
        InputError: the drawer has another bit of that id.
        FileError: it cannot be read or saved; the former version stays.
    """
    return _keep(drawer_path(), read_drawer(), bit, former)


def keep_in_library(path: Path, bit: Bit, former: str | None = None, units: str = "mm") -> Kept:
    """Save a new or changed bit in a library file, a new one in ``units`` if it is not there.

    Raises:
        InputError: a name that does not end in .bits.toml, or another bit of that id in it.
        FileError: it cannot be read or saved; the former version stays.
    """
    if not path.name.endswith(ENDING):
        text = f"{path.name!r} is no name for a library"
        raise InputError(Problem("", text, f"a name that ends in {ENDING}"))
    library = read_library(path) if path.exists() else Library(units=units)
    return _keep(path, library, bit, former)


def take_from_drawer(bit_id: str) -> Kept:
    """Take a bit out of the shop's own drawer.

    Raises:
        FileError: it cannot be read or saved; the former version stays.
    """
    path, library = drawer_path(), read_drawer()
    bits = tuple(bit for bit in library if bit.id != bit_id)
    return _write(path, library, bits)


def put_back(kept: Kept) -> None:
    """Let the file hold again what it held before.

    Raises:
        FileError: it cannot be saved.
    """
    before = kept.before or Library()
    write_library(before, kept.path, before.units)


def _keep(path: Path, library: Library, bit: Bit, former: str | None) -> Kept:
    place = _place(library.bits, bit, former)
    return _write(path, library, _put(library.bits, bit, place))


def _write(path: Path, library: Library, bits: tuple[Bit, ...]) -> Kept:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(f"{path.parent}: cannot be made: {error.strerror}") from None
    write_library(bits, path, library.units)
    return Kept(path, library, len(bits))


def _place(bits: Iterable[Bit], bit: Bit, former: str | None) -> int | None:
    """Where the bit stands already; None where it is new."""
    ids = [each.id for each in bits]
    if bit.id in ids and bit.id != former:
        text = f"{bit.id!r} is there already"
        raise InputError(Problem("id", text, "a short name that no other bit has"))
    return ids.index(former) if former in ids else None


def _put(bits: tuple[Bit, ...], bit: Bit, place: int | None) -> tuple[Bit, ...]:
    if place is None:
        return (*bits, bit)
    return (*bits[:place], bit, *bits[place + 1 :])

"""Library files, ``NAME.bits.toml``: format ``profilestack-bits/1``."""

from __future__ import annotations

import os
from collections.abc import Iterable

from profilestack.bits import Bit
from profilestack.bits.library import Library
from profilestack.errors import InputError
from profilestack.files.bit_keys import bit_table, read_bit, stand_in_bit
from profilestack.files.documents import document_from, placed, read_text
from profilestack.files.kinds import TEXT, Word
from profilestack.files.reading import Key, Reading, Table, as_tables, read_keys, shown
from profilestack.files.saving import DISK, FileLayer, save_text
from profilestack.files.versions import BITS
from profilestack.files.writing import document_text
from profilestack.units import MILLIMETRES

TOP_KEYS = (
    Key("format", TEXT, required=True),
    Key("units", Word(tuple(MILLIMETRES)), required=True),
)
TABLES = ("bit",)
ENDING = ".bits.toml"
"""How the name of a library file ends."""


def read_library(path: str | os.PathLike[str]) -> Library:
    """The library of a file, named after it.

    Raises:
        FileError: the file is not there or cannot be read.
        InputError: every problem of the document, each with its key and line.
    """
    return read_library_text(read_text(path), os.fspath(path))


def read_library_text(text: str, file: str = "") -> Library:
    """The library of a document's text; ``file`` is named in messages and gives its name.

    Raises:
        InputError: every problem of the document, each with its key and line.
    """
    reading = Reading()
    document = document_from(text, BITS, file)
    top = read_keys(reading, "", document, TOP_KEYS, dict.fromkeys(TABLES, ""))
    reading.units = top.good.get("units", "mm")
    bits = [
        read_bit(reading, where, table) or stand_in_bit(where, table)
        for where, table in as_tables(reading, "bit", document.get("bit", []))
    ]
    _refuse_twice(reading, bits)
    if reading.problems:
        raise InputError(placed(reading.problems, text, file))
    return Library(tuple(bits), os.path.basename(file).removesuffix(ENDING), reading.units)


def write_library(
    bits: Iterable[Bit],
    path: str | os.PathLike[str],
    units: str = "mm",
    layer: FileLayer = DISK,
) -> None:
    """Save a library; the former version is kept beside it as ``.bak`` and survives any failure.

    Raises:
        InputError: the library could not be read again, as when an id is there twice.
        FileError: it could not be saved; the former version is untouched.
    """
    text = library_text(bits, units)
    read_library_text(text, os.fspath(path))
    save_text(path, text, layer)


def library_text(bits: Iterable[Bit], units: str = "mm") -> str:
    """The document of a library, its bare numbers in ``units``.

    Raises:
        InputError: a text that no file can hold.
    """
    tables = [bit_table(bit, units) for bit in bits]
    document: Table = {"format": BITS.line, "units": units}
    return document_text(document | ({"bit": tables} if tables else {}))


def _refuse_twice(reading: Reading, bits: list[Bit]) -> None:
    first: dict[str, int] = {}
    for number, bit in enumerate(bits, 1):
        if bit.id in first:
            text = f"{shown(bit.id)} is there twice, first as bit[{first[bit.id]}]"
            reading.refuse(f"bit[{number}].id", text, "a new id")
        first.setdefault(bit.id, number)

"""The job of listing, choosing and drawing bits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, has_undercut, largest_radius
from profilestack.bits.library import Library, filtered
from profilestack.bits.words import kind_of, size_text
from profilestack.drawing.bit_picture import bit_picture
from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.picture import picture_bytes
from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.saving import save_bytes
from profilestack.files.shipped import ALL, read_bits, read_drawer
from profilestack.jobs import picture
from profilestack.units import format_length

TABLE_HEAD = ("id", "kind", "size", "edge", "shank", "overall", "tip to nut", "top rpm", "plunges")
"""The columns of :func:`table_rows`."""


@dataclass(frozen=True, slots=True)
class BitSummary:
    """One bit in numbers; lengths [mm], speed [rpm]. ``diameter`` is the largest that cuts."""

    id: str
    name: str
    kind: str
    shape: str
    diameter: float
    cutting_length: float
    shank: float
    length: float
    reach: float
    flutes: int
    max_rpm: float | None
    plunges: bool
    undercut: bool
    bearing: bool


def read_libraries(names: Sequence[str] = ()) -> Library:
    """The bits of the given files or names such as "@all", an id's first bit winning; without
    any, the drawer.

    Raises:
        FileError: a file that cannot be read.
        InputError: all problems of a file, or an unknown name.
    """
    return list_bits(names).library


@dataclass(frozen=True, slots=True)
class ListedBits:
    """The bits of some libraries, and notes on ids that stand for different bits in them."""

    library: Library
    notes: tuple[str, ...] = ()


def list_bits(names: Sequence[str] = ()) -> ListedBits:
    """As :func:`read_libraries`, with notes on the bits that were left out.

    Raises:
        FileError: a file that cannot be read.
        InputError: the problems of all files, or an unknown name.
    """
    if not names:
        return ListedBits(read_drawer())
    library = Library(name=", ".join(names))
    notes: list[str] = []
    problems: list[Problem] = []
    owner: dict[str, str] = {}
    for name in names:
        try:
            added = read_bits(name)
        except InputError as error:
            problems += error.problems
            continue
        for bit in added:
            first = owner.setdefault(bit.id, name)
            if first != name and library.bit(bit.id) != bit:
                notes.append(f"{bit.id} is taken from {first}; {name} has another one")
        library = library.joined(added)
    if problems:
        raise InputError(problems)
    return ListedBits(library, tuple(notes))


def choose_bits(
    names: Sequence[str] = (),
    shapes: Iterable[str] = (),
    smallest: float | None = None,
    largest: float | None = None,
    search: str = "",
) -> Library:
    """The bits of some libraries (else the drawer) by shape, diameter [mm] and words.

    Raises:
        FileError: a file that cannot be read.
        InputError: all problems of a file, an unknown name or shape.
    """
    return filtered(read_libraries(names), shapes, smallest, largest, search)


def bit_of(id: str, names: Sequence[str] = ()) -> Bit:
    """The bit of that id: in the given libraries, else in the drawer, else as shipped.

    Raises:
        FileError: a file that cannot be read.
        InputError: nobody knows it; with the nearest id that is known.
    """
    library = read_libraries(names).joined(read_drawer())
    if id not in library:
        library = library.joined(read_bits(ALL))
    if id not in library:
        hint = nearest_word(id, library.ids)
        raise InputError(Problem("show", f"no bit is called {id!r}", "the id of a bit", hint))
    return library.bit(id)


def summaries(bits: Iterable[Bit]) -> tuple[BitSummary, ...]:
    """The bits in numbers, in their order."""
    return tuple(
        BitSummary(
            id=bit.id,
            name=bit.name,
            kind=kind_of(bit),
            shape=bit.shape.word,
            diameter=2.0 * largest_radius(bit),
            cutting_length=edge_height(bit),
            shank=bit.shank,
            length=bit.length,
            reach=bit.reach,
            flutes=bit.flutes,
            max_rpm=bit.max_rpm,
            plunges=bit.plunges,
            undercut=has_undercut(bit),
            bearing=bit.pilot_diameter is not None,
        )
        for bit in bits
    )


def table_rows(bits: Iterable[Bit], units: str) -> tuple[tuple[str, ...], ...]:
    """The bits as rows of text under ``TABLE_HEAD``, lengths in ``units`` ("mm" or "in")."""
    return tuple(
        (
            bit.id,
            kind_of(bit),
            _size_and_wear(bit, units),
            format_length(edge_height(bit), units),
            format_length(bit.shank, units),
            format_length(bit.length, units),
            format_length(bit.reach, units),
            f"{bit.max_rpm:,.0f}" if bit.max_rpm is not None else "not marked",
            "yes" if bit.plunges else "no",
        )
        for bit in bits
    )


def write_bit_picture(bit: Bit, path: Path, units: str) -> picture.WrittenPicture:
    """Draw a bit at its own size and save it, whole or not at all; the suffix says the kind.

    Raises:
        InputError: a suffix that is no kind of picture.
        FileError: it could not be saved.
    """
    kind = picture.kind_of(path)
    drawing = bit_picture(bit, units)
    # a page asks its viewer to print it at its own size
    data = pages_bytes([drawing], bit.name) if kind == "pdf" else picture_bytes(drawing, kind)
    save_bytes(path, data, keeps_former=False)
    return picture.WrittenPicture(path, kind, drawing.width, drawing.height, len(data))


def _size_and_wear(bit: Bit, units: str) -> str:
    size = size_text(bit, units)
    if bit.measured is None:
        return size
    return f"{size} (measured {format_length(bit.measured, units)})"

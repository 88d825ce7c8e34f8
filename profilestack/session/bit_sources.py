"""Where the bits that are shown come from, and in which rows they hang."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, largest_radius
from profilestack.bits.library import Library
from profilestack.bits.shapes import SHAPES
from profilestack.files.shipped import ALL, drawer_path, read_bits, read_drawer
from profilestack.session.bits_at_hand import BitsAtHand
from profilestack.stack import Stack

DRAWER, SHIPPED, OWN = "drawer", "shipped", "document"
"""The sources that are always there; any other is the name of an opened file."""

_SAID = {DRAWER: "The drawer", SHIPPED: "All shipped bits", OWN: "This document's own"}


def sources_of(bits_at_hand: BitsAtHand) -> tuple[str, ...]:
    """All sources, in the order in which they are offered."""
    return (DRAWER, SHIPPED, *bits_at_hand.libraries, OWN)


def source_said(source: str) -> str:
    """What a source is called on the screen."""
    return _SAID.get(source, Path(source).name)


def source_about(source: str) -> str:
    """Where the bits of a source lie, in full."""
    about = {
        DRAWER: f"The bits that you own: {drawer_path()}",
        SHIPPED: "Every bit that comes with profilestack",
        OWN: "The bits that the document carries",
    }
    return about.get(source, source)


def bits_from(source: str, stack: Stack) -> Library:
    """The bits of a source.

    Raises:
        FileError: a file that is not there or cannot be read.
        InputError: all problems of a file.
    """
    if source == OWN:
        return Library(stack.bits, source_said(OWN), stack.units)
    if source == DRAWER:
        return read_drawer()
    return read_bits(ALL if source == SHIPPED else source)


@dataclass(frozen=True, slots=True)
class Row:
    """Bits of one shape, the small ones first."""

    shape: str
    bits: tuple[Bit, ...]


def in_rows(bits: Iterable[Bit]) -> tuple[Row, ...]:
    """The bits by shape, in the order of the shapes; shapes without any are left out."""
    by_shape: dict[str, list[Bit]] = {word: [] for word in SHAPES}
    for bit in bits:
        by_shape[bit.shape.word].append(bit)
    return tuple(
        Row(word, tuple(sorted(found, key=lambda bit: (largest_radius(bit), edge_height(bit)))))
        for word, found in by_shape.items()
        if found
    )

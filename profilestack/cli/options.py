"""Arguments that several commands share, and how they are read."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from profilestack.errors import InputError, Problem

if TYPE_CHECKING:
    from profilestack.bits.bit import Bit
    from profilestack.stack import Stack

CHORD = 0.001


def add_stack(parser: argparse.ArgumentParser) -> None:
    """The stack file, and the bits to look in."""
    parser.add_argument("stack", metavar="STACK", type=Path, help="a NAME.stack.toml file")
    add_bits(parser)


def add_bits(parser: argparse.ArgumentParser) -> None:
    """``--bits``, repeatable."""
    parser.add_argument(
        "--bits", metavar="FILE", action="append", default=[],
        help="a NAME.bits.toml file to look bits up in; @small-shop and @all name the shipped "
        "ones; may be given again",
    )  # fmt: skip


def add_units(parser: argparse.ArgumentParser, usual: str = "the document's own") -> None:
    """``--units`` for what people read."""
    parser.add_argument(
        "--units", choices=("mm", "in"),
        help=f"units of the text and pictures; by default {usual}",
    )  # fmt: skip


def add_json(parser: argparse.ArgumentParser) -> None:
    """``--json`` and ``-o``."""
    parser.add_argument("--json", action="store_true", help="answer as JSON, in mm and mm2")
    parser.add_argument("-o", "--output", metavar="FILE", type=Path, help="write the answer there")


def add_chord(parser: argparse.ArgumentParser) -> None:
    """``--chord``, always mm."""
    parser.add_argument(
        "--chord", metavar="MM", type=_millimetres, default=CHORD,
        help="flatten arcs so that no point is off by more than this (mm; 0.001 by default)",
    )  # fmt: skip


def open_stack(call: argparse.Namespace) -> tuple[Stack, Mapping[str, Bit]]:
    """The stack and all bits it may name; what was taken from where is told on stderr."""
    from profilestack.jobs.opening import open_stack as opening

    opened = opening(call.stack, call.bits)
    for note in opened.notes:
        print(f"note: {note}", file=sys.stderr)
    return opened.stack, opened.bits


def length(text: str, key: str, units: str) -> float:
    """A length on the command line [mm]; a bare number is in the document's units."""
    from profilestack.units import parse_length

    try:
        return parse_length(text, units)
    except InputError as error:
        raise InputError(problem.within(key) for problem in error.problems) from None


def deliver(text: str, output: Path | None) -> None:
    """Print the answer, or write it to a file whole or not at all."""
    if output is None:
        print(text)
        return
    from profilestack.files.saving import save_text

    save_text(output, text + "\n")


def _millimetres(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        problem = Problem("--chord", f"{text!r} is no number", "a number of mm such as 0.001")
        raise InputError(problem) from None

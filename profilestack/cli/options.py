"""Arguments that several commands share, and how they are read."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from profilestack.errors import FileError, InputError, Problem

if TYPE_CHECKING:
    from profilestack.bits.bit import Bit
    from profilestack.progress import Progress
    from profilestack.stack import Stack

CHORD = 0.001

PICTURES = (".png", ".svg", ".pdf")
"""How the names of pictures end."""


def add_stack(parser: argparse.ArgumentParser) -> None:
    """The stack file, and the bits to look in."""
    parser.add_argument("stack", metavar="STACK", type=Path, help="a NAME.stack.toml file")
    add_bits(parser)


def add_bits(parser: argparse.ArgumentParser, told: str = "") -> None:
    """``--bits``, repeatable; ``told`` is its help where the usual one does not hold."""
    parser.add_argument(
        "--bits", metavar="FILE", action="append", default=[],
        help=told
        or "a NAME.bits.toml file to look bits up in; @small-shop and @all name the shipped "
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


def add_shop(parser: argparse.ArgumentParser) -> None:
    """``--shop``, the machine and what things take."""
    parser.add_argument(
        "--shop", metavar="FILE", type=Path,
        help="a NAME.shop.toml file: machine, woods, minutes; by default a usual small shop",
    )  # fmt: skip


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
    tell(opened.notes)
    return opened.stack, opened.bits


def tell(notes: Iterable[str]) -> None:
    """Say notes beside the answer, on stderr."""
    for note in notes:
        print(f"note: {note}", file=sys.stderr)


def refuse_outputs(call: argparse.Namespace, *keys: str) -> None:
    """Look at all files that will be written before the first one is.

    ``keys`` name the arguments that they stand in. None may be the stack itself or another of
    them, and each must be a place that can be written to.

    Raises:
        InputError: two of the files are one.
        FileError: a file cannot be written.
    """
    from profilestack.files.saving import check_can_save

    taken = {call.stack.resolve(): "the stack"} if "stack" in call else {}
    for key in keys:
        path = getattr(call, key)
        if path is None:
            continue
        where = "-o" if key == "output" else f"--{key}"
        if (same := taken.get(path.resolve())) is not None:
            raise InputError(Problem(where, f"{str(path)!r} is {same} as well", "another file"))
        taken[path.resolve()] = f"the file of {where}"
        check_can_save(path)


def length(text: str, key: str, units: str) -> float:
    """A length on the command line [mm]; a bare number is in the document's units."""
    from profilestack.units import parse_length

    try:
        return parse_length(text, units)
    except InputError as error:
        raise InputError(problem.within(key) for problem in error.problems) from None


def deliver(text: str, output: Path | None) -> None:
    """Print the answer, or write it to a file whole or not at all.

    Raises:
        InputError: the file's name is that of a picture.
        FileError: it could not be saved.
    """
    if output is None:
        say(text)
        return
    from profilestack.files.saving import save_text

    save_text(output, text + "\n")


def refuse_picture(output: Path | None, instead: str) -> None:
    """A name that ends as a picture's is no name for text.

    Raises:
        InputError: it is one; with what to do ``instead``.
    """
    if output is not None and output.suffix.lower() in PICTURES:
        text = f"{output.name!r} is the name of a picture, and the answer is text"
        raise InputError(Problem("-o", text, instead))


def say(text: str) -> None:
    """Print; where the reader of a pipe went away there is nothing more to say, and no fault."""
    try:
        print(text, flush=True)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as error:
        raise FileError(f"the answer cannot be printed: {error.strerror}") from None


def _millimetres(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        problem = Problem("--chord", f"{text!r} is no number", "a number of mm such as 0.001")
        raise InputError(problem) from None


class shown_progress:  # noqa: N801 - reads as a verb in a with statement
    """Progress on stderr while the finder works; Ctrl-C asks it to hand over what it has."""

    def __init__(self, quiet: bool) -> None:
        self._quiet = quiet or not sys.stderr.isatty()
        self._stopped = False

    def __enter__(self) -> Progress:
        import signal

        from profilestack.progress import Progress

        def stop(number: int, frame: object) -> None:
            del number, frame
            if self._stopped:  # asked twice: leave at once
                raise KeyboardInterrupt
            self._stopped = True
            text = "stopping: the best so far follows; press again to leave at once"
            print(f"\r{text:<79}", file=sys.stderr, flush=True)

        self._former = signal.signal(signal.SIGINT, stop)
        return Progress(self._say, lambda: self._stopped)

    def __exit__(self, *exception: object) -> None:
        import signal

        signal.signal(signal.SIGINT, self._former)
        if not self._quiet:
            print("\r" + " " * 79 + "\r", end="", file=sys.stderr)

    def _say(self, share: float, doing: str) -> None:
        if not self._quiet:
            line = f"{100 * share:3.0f} %  {doing}; Ctrl-C gives the best so far"
            print(f"\r{line[:79]:<79}", end="", file=sys.stderr, flush=True)

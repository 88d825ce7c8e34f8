"""``profilestack bits``: list, check and draw bits."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from profilestack.cli import options
from profilestack.errors import InputError, Problem

if TYPE_CHECKING:
    from profilestack.bits.library import Library

HELP = "list, check and draw bits"
ABOUT = (
    "Lists the bits of the given files, or of your own drawer, and checks the files: every "
    "problem is told at once. With --show it tells all of one bit, or draws it at its own size."
)

_TEXTS = (".txt", ".json")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    parser.add_argument(
        "files", metavar="FILE", nargs="*",
        help="a NAME.bits.toml file; @small-shop and @all name the shipped ones; your own drawer "
        "when none is given",
    )  # fmt: skip
    options.add_bits(parser)
    options.add_units(parser, "those that the files are written in")
    options.add_json(parser)
    parser.add_argument(
        "--show", metavar="ID",
        help="only this bit; with -o FILE (.png, .svg or .pdf) draw it at its own size",
    )  # fmt: skip
    parser.add_argument(
        "--shape", metavar="S", action="append", default=[],
        help="only bits of this shape, as core-box; may be given again",
    )  # fmt: skip
    parser.add_argument(
        "--size", metavar="FROM..TO",
        help="only bits whose largest diameter lies between, as 10..20, '1/2 in..1 in' or ..12; "
        "a single length means just that one",
    )  # fmt: skip
    parser.add_argument(
        "--search", metavar="WORDS", default="",
        help="only bits of which all these words are said, as 'plunging roundover'",
    )  # fmt: skip


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.bits.library import filtered
    from profilestack.jobs.bits import list_bits
    from profilestack.reports.bits_report import bits_json, bits_text

    _refuse_what_does_not_go_together(call)
    names = [*call.files, *call.bits]
    listed = list_bits(names)
    units = call.units or listed.library.units
    options.tell(listed.notes)
    if call.show is not None:
        return _show(call, names, units)
    smallest, largest = _size(call.size, units)
    chosen = filtered(listed.library, call.shape, smallest, largest, call.search)
    if call.json:
        text = bits_json(chosen)
    else:
        text = bits_text(chosen, _heading(names, listed.library, chosen), units)
    options.deliver(text, call.output)
    return 0


def _refuse_what_does_not_go_together(call: argparse.Namespace) -> None:
    choosing = [f"--{key}" for key in ("shape", "size", "search") if getattr(call, key)]
    if call.show is not None and choosing:
        text = f"shows the one bit of that id, so {' and '.join(choosing)} cannot choose"
        raise InputError(Problem("--show", text, "one or the other"))
    if call.show is None:
        options.refuse_picture(call.output, "--show ID beside it, to draw one bit")


def _show(call: argparse.Namespace, names: list[str], units: str) -> int:
    from profilestack.jobs.bits import bit_of, write_bit_picture
    from profilestack.reports.bits_report import bit_text, bits_json
    from profilestack.units import format_length

    bit = bit_of(call.show, names)
    text = bits_json([bit]) if call.json else bit_text(bit, units)
    if call.output is None or call.output.suffix.lower() in _TEXTS:
        options.deliver(text, call.output)
        return 0
    written = write_bit_picture(bit, call.output, units)
    if not call.json:
        size = " x ".join(format_length(side, units) for side in (written.width, written.height))
        text += f"\n\ndrawn at its own size on {size}: {written.path}"
    options.say(text)
    return 0


def _size(text: str | None, units: str) -> tuple[float | None, float | None]:
    """Smallest and largest diameter [mm] of a text such as "10..20"."""
    if text is None:
        return None, None
    first, dots, last = text.partition("..")
    smallest = options.length(first, "--size", units) if first.strip() else None
    if not dots:
        return smallest, smallest
    largest = options.length(last, "--size", units) if last.strip() else None
    if smallest is None and largest is None:
        raise InputError(Problem("--size", f"{text!r} has no length", "FROM..TO, as 10..20"))
    if smallest is not None and largest is not None and smallest > largest:
        text = f"{text!r} goes from the larger to the smaller"
        raise InputError(Problem("--size", text, "the smaller one first"))
    return smallest, largest


def _heading(names: list[str], library: Library, chosen: Library) -> str:
    from profilestack.files.shipped import drawer_path
    from profilestack.reports.bits_report import count_text

    if len(chosen) == len(library):
        count = count_text(len(library))
    else:
        count = f"{len(chosen)} of {count_text(len(library))}"
    if names:
        files = sum(not name.startswith("@") for name in names)
        order = ("", " The file is in order.", " The files are in order.")[min(files, 2)]
        return f"{', '.join(names)}: {count}.{order}"
    if drawer_path().exists():
        return f"Your drawer, {drawer_path()}: {count}. The file is in order."
    return (
        f"The shipped small shop's drawer: {count}. Your own would lie in {drawer_path()}; until "
        "it does, these are taken for yours."
    )

"""``profilestack find``: the bits and passes that make a wanted profile."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from profilestack.cli import options
from profilestack.errors import Cancelled, InputError, Problem

if TYPE_CHECKING:
    from profilestack.finding.request import FindRequest
    from profilestack.jobs.find import FindResult
    from profilestack.stack import Stack

HELP = "find which bits, at which offsets and depths, make the wanted profile"
ABOUT = (
    "Finds ways to cut the stack's wanted profile with the bits at hand; the stack's own passes "
    "are ignored. Each way is cut and judged before it is shown. Ends with 1 when some of the "
    "profile stays, or nothing was found."
)


TYPED = {
    "most_passes": "--passes",
    "most_bits": "--max-bits",
    "leftover": "--leftover",
    "overcut": "--overcut",
    "resolution": "--resolution",
    "seconds": "--seconds",
    "adapt": "--adapt",
}
"""What the parts of a request are called on the command line."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_stack(parser)
    options.add_units(parser)
    parser.add_argument("--json", action="store_true", help="answer as JSON, in mm and minutes")
    lengths = (
        ("--leftover", "stock may stand proud so far; the document's tolerance by default"),
        ("--overcut", "and be cut away so far; the document's tolerance by default"),
        ("--resolution", "offsets and depths are whole numbers of this (0.01 mm or 0.001 in)"),
        (
            "--adapt",
            "fit the profile to the bits first: radii move by up to L and 10 %% to what a bit has, "
            "quirks widen by up to L, fillets take up the slack",
        ),
    )
    for flag, words in lengths:
        parser.add_argument(flag, metavar="L", help=words)
    parser.add_argument(
        "--setup", metavar="NAME", action="append", default=[],
        help="a setup of the document that may be used; may be given again; face alone by default",
    )  # fmt: skip
    parser.add_argument("--passes", metavar="N", type=int, help="at most so many finishing passes")
    parser.add_argument("--max-bits", metavar="N", type=int, help="at most so many bits")
    parser.add_argument(
        "--seconds", metavar="S", type=float, help="take up to so long over each harder proof"
    )
    parser.add_argument(
        "--option", metavar="N", type=int,
        help="which way -o writes, counted from 1; by default the first that holds",
    )  # fmt: skip
    parser.add_argument(
        "-o", "--output", metavar="NEW.stack.toml", type=Path, help="write the chosen way there"
    )
    parser.add_argument(
        "--plot", metavar="FILE", type=Path,
        help="draw each way into FILE with its number added (.png, .svg or .pdf)",
    )  # fmt: skip


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.files.stack_file import read_stack
    from profilestack.jobs.find import find

    if call.option is not None and call.option < 1:
        raise InputError(Problem("--option", f"{call.option} is no way", "1 or more"))
    stack = read_stack(call.stack)
    request = _request(call, stack)
    options.refuse_outputs(call, "output", "plot")
    if call.plot is not None:
        from profilestack.jobs.picture import kind_of

        kind_of(call.plot)
    with options.shown_progress(call.json) as progress:
        result = find(request, progress)
    if result.stopped and not result.options:
        raise Cancelled
    count = len(result.options)
    if count and call.option is not None and call.option > count:
        raise InputError(Problem("--option", f"there is no way {call.option}", f"1 to {count}"))
    units = call.units or stack.units
    if call.json:
        from profilestack.reports.json_find import find_json

        options.say(find_json(result))
    else:
        from profilestack.reports.text_find import find_text

        options.say(find_text(result, units))
    if result.options and (call.output is not None or call.plot is not None):
        _write(call, result, stack, units)
    return 0 if result.is_good else 1


def _request(call: argparse.Namespace, stack: Stack) -> FindRequest:
    from profilestack.jobs.find import FindWishes, request_for

    def length(text: str | None, key: str) -> float | None:
        return None if text is None else options.length(text, key, stack.units)

    wishes = FindWishes(
        libraries=tuple(call.bits),
        leftover=length(call.leftover, "--leftover"),
        overcut=length(call.overcut, "--overcut"),
        resolution=length(call.resolution, "--resolution"),
        setups=tuple(call.setup),
        most_passes=call.passes,
        most_bits=call.max_bits,
        seconds=call.seconds,
        adapt=length(call.adapt, "--adapt"),
    )
    try:
        return request_for(stack, wishes)
    except InputError as error:  # told by the words of the call
        raise InputError(
            replace(problem, where=TYPED.get(problem.where, problem.where))
            for problem in error.problems
        ) from None


def _write(call: argparse.Namespace, result: FindResult, stack: Stack, units: str) -> None:
    from profilestack.files.stack_file import write_stack
    from profilestack.jobs.find import drawn_before, report_of, stack_of
    from profilestack.jobs.picture import write_picture

    if call.output is not None:
        number = call.option or result.chosen
        option = result.options[number - 1]
        write_stack(stack_of(option, result.strange, stack), call.output)
        print(f"way {number} written to {call.output}", file=sys.stderr)
    if call.plot is not None:
        for number, option in enumerate(result.options, 1):
            path = call.plot.with_stem(f"{call.plot.stem}-{number}")
            write_picture(report_of(option), path, units, drawn_before(result))
            print(f"way {number} drawn in {path}", file=sys.stderr)

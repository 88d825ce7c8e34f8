"""``profilestack cut``: cut a stack and judge it."""

from __future__ import annotations

import argparse
from pathlib import Path

from profilestack.cli import options

HELP = "cut a stack: passes, volumes, leftover, overcut, ridges, cautions"
ABOUT = (
    "Cuts the stack's passes in order, compares the section they leave with the wanted profile "
    "and says what to mind. Ends with 1 when a tolerance is broken or a caution says stop."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_stack(parser)
    options.add_json(parser)
    options.add_units(parser)
    options.add_chord(parser)
    options.add_shop(parser)
    parser.add_argument(
        "--plot", metavar="FILE", type=Path, help="draw the cut (.png, .svg or .pdf)"
    )
    parser.add_argument(
        "--spread", action="store_true",
        help="cut it also with usual errors of touch-off, fence, bits, blank and wedge, and say "
        "how far the fit then spreads and what matters most",
    )  # fmt: skip


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.jobs.cut import cut_and_judge

    options.refuse_picture(call.output, "--plot FILE for the picture")
    options.refuse_outputs(call, "plot", "output")
    if call.plot is not None:
        from profilestack.jobs.picture import kind_of, write_picture

        kind_of(call.plot)  # refused before the work
    stack, bits = options.open_stack(call)
    units = call.units or stack.units
    report = cut_and_judge(stack, bits, call.chord)
    spread = None
    if call.spread:
        from profilestack.jobs.plan import shop_of
        from profilestack.jobs.spread import spread_of
        from profilestack.planning.usual_errors import errors_on

        spread = spread_of(report, bits, errors=errors_on(shop_of(call.shop).machine))
    if call.json:
        from profilestack.reports.json_report import cut_json

        text = cut_json(report, spread)
    else:
        from profilestack.reports.text_report import cut_text

        text = cut_text(report, units, spread)
    if call.plot is not None:
        write_picture(report, call.plot, units)
    options.deliver(text, call.output)
    if call.spread and spread is None:
        options.tell(["--spread: without a wanted profile and passes no cut can be off it"])
    return 0 if report.is_good else 1

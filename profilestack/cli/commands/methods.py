"""``profilestack methods``: stacked bits beside the other ways of making a molding."""

from __future__ import annotations

import argparse
from pathlib import Path

from profilestack.cli import options

HELP = "stacked bits, 3D ball-nose and a made-to-order cutter side by side"
ABOUT = (
    "Sets the planned stack beside 3D ball-nose finishing, a cutter made to order and, where no "
    "bit reaches some of the profile, stacked bits with ball rows there: minutes, ridge, sanding, "
    "cost, break-even length, for one piece and for all. Figures are the shop's: assumptions "
    "without a shop file. Ends with 1 when the stacked way breaks a tolerance or may not be cut."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_stack(parser)
    options.add_shop(parser)
    options.add_json(parser)
    options.add_units(parser)
    parser.add_argument(
        "--cusp", metavar="L",
        help="ridge that the ball's rows may leave; by default as much as the stack leaves, "
        "0.05 mm at least",
    )  # fmt: skip
    parser.add_argument(
        "--plot", metavar="FILE", type=Path, help="draw the minutes (.png, .svg or .pdf)"
    )


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.jobs.methods import methods_for
    from profilestack.jobs.plan import is_good, shop_of

    options.refuse_picture(call.output, "--plot FILE for the chart")
    options.refuse_outputs(call, "plot", "output")
    if call.plot is not None:
        from profilestack.jobs.picture import kind_of

        kind_of(call.plot)
    shop = shop_of(call.shop)
    stack, bits = options.open_stack(call)
    units = call.units or stack.units
    cusp = None if call.cusp is None else options.length(call.cusp, "--cusp", stack.units)
    report = methods_for(stack, bits, shop, call.bits, cusp)
    if call.json:
        from profilestack.reports.json_methods import methods_json

        text = methods_json(report)
    else:
        from profilestack.reports.text_methods import methods_text

        text = methods_text(report, units)
    if call.plot is not None:
        from profilestack.jobs.methods_chart import write_chart

        write_chart(report, call.plot, units)
    options.deliver(text, call.output)
    return 0 if is_good(report.methods.plan) and not report.leaves else 1

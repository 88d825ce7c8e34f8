"""``profilestack demo``: the main job end to end on the shipped example."""

from __future__ import annotations

import argparse
from pathlib import Path

from profilestack.cli import options

HELP = "the main job end to end on the shipped example"
ABOUT = (
    "Cuts the crown of the reading-room bookcase and writes its picture, its full-size section "
    "and a copy of its stack to work on."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_units(parser)
    parser.add_argument(
        "-o", "--output", metavar="DIR", type=Path, default=Path("profilestack-demo"),
        help="the folder to write to (profilestack-demo by default)",
    )  # fmt: skip


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.cli.text_report import cut_text
    from profilestack.jobs.demo import run_demo

    result = run_demo(call.output, call.units)
    report = result.report
    print(cut_text(report, call.units or report.stack.units))
    print()
    print(f"picture            {result.picture}")
    print(f"full-size section  {result.template}")
    print(f"stack to work on   {result.stack}")
    return 0 if report.is_good else 1

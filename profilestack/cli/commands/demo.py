"""``profilestack demo``: the main job end to end on the shipped example."""

from __future__ import annotations

import argparse
from pathlib import Path

from profilestack.cli import options

HELP = "the main job end to end on the shipped example"
ABOUT = (
    "Finds the bits and passes that make the crown of the reading-room bookcase from a small "
    "shop's drawer, cuts it the quickest way, and writes its picture, its full-size section and "
    "the stack to work on."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_bits(parser)
    options.add_units(parser)
    parser.add_argument("--json", action="store_true", help="answer as JSON, in mm and mm2")
    parser.add_argument(
        "-o", "--output", metavar="DIR", type=Path, default=Path("profilestack-demo"),
        help="the folder to write to (profilestack-demo by default)",
    )  # fmt: skip


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.jobs.demo import run_demo

    with options.shown_progress(call.json) as progress:
        result = run_demo(call.output, call.units, call.bits, progress)
    report = result.report
    files = {
        "picture": result.picture,
        "full-size section": result.template,
        "stack to work on": result.stack,
    }
    if call.json:
        from profilestack.reports.json_report import cut_answer, json_text

        paths = dict(zip(("picture", "template", "stack"), map(str, files.values()), strict=True))
        answer = {"format": "profilestack-demo/1", "cut": cut_answer(report), "files": paths}
        options.say(json_text(answer))
    else:
        from profilestack.reports.text_find import ways_text
        from profilestack.reports.text_report import cut_text

        units = call.units or report.stack.units
        written = "\n".join(f"{word:<17}  {path}" for word, path in files.items())
        taken = f"Way {result.way}, the quickest, cut:"
        options.say(
            f"{ways_text(result.found, units)}\n\n{taken}\n\n{cut_text(report, units)}\n\n{written}"
        )
    return 0 if report.is_good else 1

"""``profilestack sheet``: the run sheet to take along to the machine."""

from __future__ import annotations

import argparse
from pathlib import Path

from profilestack.cli import options

HELP = "print the run sheet (PDF), one setup a page"
ABOUT = (
    "Plans a stack and writes the sheet to take along to the machine, one setup a page: how many "
    "and how long, how the blank lies, bits with boxes for their measured diameter, speeds, "
    "offsets and depths in large type, cautions on the line of their cut, check dimensions. For a "
    "router table or a spindle moulder (--shop) it gives fence and height above the table."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_stack(parser)
    options.add_shop(parser)
    options.add_units(parser)
    parser.add_argument("--json", action="store_true", help="say what was written as JSON")
    parser.add_argument(
        "-o", "--output", metavar="OUT.pdf", type=Path, required=True, help="the file to write"
    )
    parser.add_argument(
        "--paper", help="A4, Letter, A3 or Tabloid; A4 by default, Letter for a stack in inches"
    )


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.jobs.plan import is_good, plan_for, shop_of
    from profilestack.jobs.sheet import write_sheet

    options.refuse_outputs(call, "output")
    shop = shop_of(call.shop)
    stack, bits = options.open_stack(call)
    plan = plan_for(stack, bits, shop, call.bits)
    paper = call.paper or ("Letter" if stack.units == "in" else "A4")
    written = write_sheet(plan, bits, call.output, call.units or stack.units, paper)
    if call.json:
        from profilestack.reports.json_report import json_text

        answer = {
            "format": "profilestack-sheet/1",
            "file": str(written.path),
            "pages": written.pages,
            "paper": written.paper,
        }
        options.say(json_text(answer))
    else:
        pages = f"{written.pages} page{'s' if written.pages != 1 else ''}"
        options.say(f"{written.path}: {pages} {written.paper}\nTest in scrap, well held.")
    if not is_good(plan):
        told = "a tolerance is broken or a caution says stop"
        options.tell([f"{told}: profilestack plan says why"])
    return 0 if is_good(plan) else 1

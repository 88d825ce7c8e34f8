"""``profilestack template``: the full-size section on paper."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from profilestack.cli import options

if TYPE_CHECKING:
    from profilestack.drawing.template.options import TemplateOptions

HELP = "print the full-size section (1:1) as a PDF"
ABOUT = (
    "Writes the full-size section as a PDF at true scale: seen from the left end and from the "
    "right end, with the axes of the bits, and check bars on every sheet. Print it at 100 % and "
    "measure the bars before you trust it."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_stack(parser)
    options.add_units(parser)
    options.add_chord(parser)
    parser.add_argument("--json", action="store_true", help="say what was written as JSON, in mm")
    parser.add_argument(
        "-o", "--output", metavar="OUT.pdf", type=Path, required=True, help="the file to write"
    )
    parser.add_argument(
        "--paper", help="A4, Letter, A3 or Tabloid; A4 by default, Letter for a stack in inches"
    )
    parser.add_argument(
        "--orientation", default="auto", help="portrait, landscape or auto (by default)"
    )
    parser.add_argument("--margin", metavar="L", help="kept free on all sides, 10 mm by default")
    parser.add_argument(
        "--reverse", metavar="CLEARANCE", nargs="?", const="0.2 mm",
        help="draw the reverse as well: a gauge, scraper or sanding block that stands off the "
        "profile by CLEARANCE (0.2 mm by default)",
    )  # fmt: skip
    for side, way in (("x", "across"), ("z", "up")):
        parser.add_argument(
            f"--bar-{side}", metavar="L",
            help=f"what the 100 mm bar {way} the sheet measured on this printer: corrects for it",
        )  # fmt: skip


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.jobs.cut import cut_and_judge
    from profilestack.jobs.template import TemplateRequest, write_template
    from profilestack.reports.template_report import template_json, template_text

    options.refuse_outputs(call, "output")
    stack, bits = options.open_stack(call)
    units = call.units or stack.units
    wanted = _wanted(call, stack.units, units)
    report = cut_and_judge(stack, bits, call.chord)
    written = write_template(TemplateRequest(report, call.output, wanted))
    options.say(template_json(written) if call.json else template_text(written, units))
    if not report.is_good:
        told = "the stack as it is does not make its wanted profile, or must not be cut"
        options.tell([f"{told}: profilestack cut says why"])
    return 0 if report.is_good else 1


def _wanted(call: argparse.Namespace, document: str, units: str) -> TemplateOptions:
    """How it is to be printed; bare lengths are in the ``document``'s units."""
    from profilestack.drawing.template.options import TemplateOptions

    given = {
        "margin": ("--margin", call.margin),
        "clearance": ("--reverse", call.reverse),
        "printed_x": ("--bar-x", call.bar_x),
        "printed_z": ("--bar-z", call.bar_z),
    }
    lengths = {
        key: options.length(text, typed, document)
        for key, (typed, text) in given.items()
        if text is not None
    }
    paper = call.paper or ("Letter" if document == "in" else "A4")
    reverse = call.reverse is not None
    return TemplateOptions(paper, call.orientation, reverse=reverse, units=units, **lengths)

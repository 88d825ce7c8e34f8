"""``profilestack export``: a stack for other programs and machines."""

from __future__ import annotations

import argparse
from pathlib import Path

from profilestack.cli import options

HELP = "write DXF, SVG, CSV, a PDF report or machine code"
ABOUT = (
    "Writes a stack for other programs and machines, as the name's ending says: .dxf and .svg hold "
    "the wanted profile, the section as cut with its arcs, and the bits' axes in plan; .csv the "
    "plan's steps; .pdf a report; .nc machine code in plain RS-274 words for straight and curved "
    "runs. Ends with 1 when a tolerance is broken or a caution says stop; machine code is not "
    "written then."
)

VERSIONS = ("R12", "R2000", "R2010")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_stack(parser)
    options.add_shop(parser)
    parser.add_argument(
        "-o", "--output", metavar="OUT", type=Path, required=True,
        help="the file to write: .dxf, .svg, .csv, .pdf or .nc",
    )  # fmt: skip
    parser.add_argument("--force", action="store_true", help="write over files that are there")
    parser.add_argument(
        "--units", choices=("mm", "in"),
        help="units of the file; by default the document's own (SVG is always in mm)",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="say what was written as JSON")
    drawings = parser.add_argument_group("DXF and SVG")
    drawings.add_argument(
        "--version", choices=VERSIONS, default="R2010", help="of the DXF; R2010 by default"
    )
    drawings.add_argument(
        "--polylines", action="store_true",
        help="arcs as straight pieces within 0.001 mm, for programs that know no bulges (DXF)",
    )  # fmt: skip
    drawings.add_argument(
        "--show", choices=("both", "section", "plan"), default="both",
        help="the section, the axes in plan, or both (by default)",
    )  # fmt: skip
    parser.add_argument("--paper", help="of the PDF: A4, Letter, A3 or Tabloid")
    code = parser.add_argument_group("machine code")
    code.add_argument(
        "--per-bit", action="store_true", help="a file for each bit, no changes in it"
    )
    code.add_argument(
        "--zero", choices=("bed", "face"), default="bed",
        help="where z is 0: the bed under the blank (by default) or the face on top of it",
    )  # fmt: skip
    code.add_argument(
        "--extra", metavar="L", default="0",
        help="wood beyond each end of the part, 0 by default: bits start and stop beyond it",
    )  # fmt: skip


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.jobs.export import export, kind_of
    from profilestack.jobs.exports.order import ExportOrder
    from profilestack.jobs.plan import shop_of
    from profilestack.reports.export_report import export_json, export_text

    kind_of(call.output)
    options.refuse_outputs(call, "output")
    shop = shop_of(call.shop)
    stack, bits = options.open_stack(call)
    units = call.units or stack.units
    paper = call.paper or ("Letter" if stack.units == "in" else "A4")
    order = ExportOrder(
        stack, bits, call.output, units, tuple(call.bits), shop, call.force, call.version,
        call.polylines, call.show, paper, call.zero, call.per_bit,
        options.length(call.extra, "--extra", stack.units),
    )  # fmt: skip
    done = export(order)
    options.say(export_json(done) if call.json else export_text(done))
    if done.files and not done.is_good:
        told = "the stack as it is does not make its wanted profile, or must not be cut"
        options.tell([f"{told}: profilestack cut and profilestack plan say why"])
    return 0 if done.is_good else 1

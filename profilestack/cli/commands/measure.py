"""``profilestack measure``: what explains a measured test cut."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from profilestack.cli import options
from profilestack.errors import InputError, Problem

if TYPE_CHECKING:
    from profilestack.bits.bit import Bit
    from profilestack.stack import Stack

HELP = "explain a measured test cut, and write corrected settings"
ABOUT = (
    "Lays points measured on a test cut (CSV with x and z, as for target), or readings of the "
    "numbered check dimensions (CSV with the columns check and measured_mm), over the section "
    "and tells the offsets, depths and diameters that explain them best. Without POINTS: lists "
    "the check dimensions. Ends with 1 when points lie far off what explains the others."
)


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    options.add_stack(parser)
    parser.add_argument(
        "points", metavar="POINTS", type=Path, nargs="?",
        help="points or readings of check dimensions; without: what to measure",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="answer as JSON, in mm and degrees")
    parser.add_argument(
        "-o", "--output", metavar="NEW.stack.toml", type=Path,
        help="write the corrected settings there",
    )  # fmt: skip
    options.add_shop(parser)
    options.add_units(parser)
    parser.add_argument(
        "--true-to", metavar="L", help="standard deviation of what is measured (0.05 mm)"
    )
    parser.add_argument(
        "--lay", action="store_true",
        help="the points are not measured from the blank's lower left: lay them over the section",
    )  # fmt: skip
    parser.add_argument(
        "--units-of-file", choices=("mm", "in"), help="what the points are in, if they do not say"
    )
    parser.add_argument("--columns", metavar="X,Z", help="columns of a table, by number or name")


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    options.refuse_outputs(call, "output")
    stack, bits = options.open_stack(call)
    units = call.units or stack.units
    if call.points is None:
        if call.output is not None:
            raise InputError(Problem("-o", "there is nothing measured", "POINTS as well"))
        return _list(call, stack, bits, units)
    from profilestack.files.targets import ReadingWishes
    from profilestack.jobs.measure import MeasureWishes, measure
    from profilestack.jobs.plan import shop_of
    from profilestack.planning.explaining import TRUE_TO
    from profilestack.planning.usual_errors import errors_on

    true_to = TRUE_TO
    if call.true_to is not None:
        true_to = options.length(call.true_to, "--true-to", stack.units)
    columns = tuple(call.columns.split(",")) if call.columns else None
    if columns is not None and len(columns) != 2:
        raise InputError(Problem("--columns", f"{call.columns!r} names no two", "two, as 1,3"))
    reading = ReadingWishes(units=call.units_of_file, columns=columns)
    wishes = MeasureWishes(true_to, call.lay, errors_on(shop_of(call.shop).machine), reading)
    found = measure(stack, bits, call.points, wishes)
    options.tell(found.notes)
    if call.json:
        from profilestack.reports.json_measure import measure_json

        options.say(measure_json(found))
    else:
        from profilestack.reports.text_measure import measure_text

        options.say(measure_text(found, units))
    if call.output is not None:
        from profilestack.files.stack_file import write_stack

        write_stack(found.corrected, call.output)
        print(f"corrected settings written to {call.output}", file=sys.stderr)
    return 1 if found.explanation.outlying else 0


def _list(call: argparse.Namespace, stack: Stack, bits: Mapping[str, Bit], units: str) -> int:
    from profilestack.planning.check_dimensions import check_dimensions
    from profilestack.reports.json_measure import checks_json
    from profilestack.reports.text_measure import checks_text

    checks = check_dimensions(stack, bits)
    options.say(checks_json(checks) if call.json else checks_text(checks, units))
    return 0

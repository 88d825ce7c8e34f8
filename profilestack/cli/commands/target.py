"""``profilestack target``: a wanted profile from a drawing, measured points or a picture."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from profilestack.cli import options
from profilestack.errors import InputError, Problem

if TYPE_CHECKING:
    from profilestack.files.targets import PictureWishes, ReadingWishes
    from profilestack.jobs.target import TargetReport, TargetRequest

HELP = "a target from DXF, SVG, CSV or a picture"
ABOUT = (
    "Reads a wanted profile (measured points as CSV; DXF; SVG; a scan or photograph as PNG or "
    "JPEG), reduces it to few lines and arcs within a tolerance, lays it into a blank, and writes "
    "a new stack. Says the largest deviation. Look at the picture (--plot) before you cut."
)

PICTURE_ENDINGS = (".png", ".jpg", ".jpeg", ".bmp", ".tif", ".tiff")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which arguments the command takes."""
    parser.add_argument("file", metavar="FILE", type=Path, help="points, drawing or picture")
    parser.add_argument(
        "-o", "--output", metavar="NEW.stack.toml", type=Path, help="the new stack to write"
    )
    parser.add_argument(
        "--plot", metavar="PICTURE", type=Path,
        help="draw the tracing against the fitted path (.png, .svg or .pdf)",
    )  # fmt: skip
    parser.add_argument("--json", action="store_true", help="answer as JSON, in mm")
    options.add_bits(parser, "taken as on every command; a target needs no bits")
    options.add_units(parser, "the file's own; those of the new stack, and of bare lengths here")
    _add_reading(parser.add_argument_group("what is read"))
    _add_picture(parser.add_argument_group("pictures"))
    _add_fitting(parser.add_argument_group("corrections and fit"))
    _add_laying(parser.add_argument_group("how it lies in the blank"))


def _add_reading(group: Any) -> None:
    group.add_argument(
        "--units-of-file", choices=("mm", "in"), help="what the file's numbers are, if it is silent"
    )
    group.add_argument(
        "--layer", metavar="NAME", action="append", default=[],
        help="only this layer of a DXF, this group of an SVG; may be given again",
    )  # fmt: skip
    group.add_argument("--columns", metavar="X,Z", help="columns of a table, by number or name")
    group.add_argument(
        "--order", choices=("file", "x", "nearest"), default="file",
        help="order of measured points: as in the file, by x, or each the nearest next",
    )  # fmt: skip
    group.add_argument(
        "--slice", metavar="FILE", type=Path, action="append", default=[],
        help="one more measurement of the same profile: the mean is taken; may be given again",
    )  # fmt: skip
    group.add_argument(
        "--average", action="store_true", help="the chains of the file are slices: take the mean"
    )
    group.add_argument("--gap", metavar="L", help="join ends up to this far apart (0.05 mm)")
    group.add_argument(
        "--pick", metavar="WHICH", help="of several chains take this: longest, or its number"
    )


def _add_picture(group: Any) -> None:
    group.add_argument("--dpi", type=float, help="dots per inch (of an SVG in pixels as well)")
    group.add_argument("--across", metavar="L", help="scale: the width of the outline")
    group.add_argument(
        "--points", nargs=4, type=float, metavar=("X1", "Y1", "X2", "Y2"),
        help="scale: two places in pixels from the upper left, with --distance",
    )  # fmt: skip
    group.add_argument("--distance", metavar="L", help="scale: between the two --points")
    group.add_argument("--threshold", type=float, help="tone between wood and ground, 0 to 255")
    group.add_argument(
        "--trace", choices=("edge", "line"), default="edge",
        help="follow the edge of what is dark, or the middle of a drawn line",
    )  # fmt: skip
    group.add_argument("--light", action="store_true", help="what is followed is the lighter")
    group.add_argument("--smooth", type=float, default=0.0, metavar="PIXELS", help="blur first")


def _add_fitting(group: Any) -> None:
    group.add_argument("--scale-x", type=float, default=1.0, help="multiply x alone")
    group.add_argument("--scale-z", type=float, default=1.0, help="multiply z alone")
    group.add_argument(
        "--tilt", type=float, default=0.0, metavar="DEGREES",
        help="take this tilt off (counter-clockwise)",
    )  # fmt: skip
    group.add_argument("--paint", metavar="L", help="take this thickness of paint off the wood")
    group.add_argument(
        "--tolerance", metavar="L",
        help="how far the fitted path may deviate (0.02 mm for drawings, 0.05 for points, 1.2 "
        "pixels for pictures)",
    )  # fmt: skip
    group.add_argument(
        "--tangent", choices=("where-it-fits", "everywhere", "nowhere"), default="where-it-fits",
        help="joints without a kink: where that needs no more pieces, everywhere but at corners, "
        "or nowhere",
    )  # fmt: skip
    group.add_argument(
        "--no-level", action="store_true", help="leave nearly level and upright lines as they are"
    )
    group.add_argument(
        "--corner", nargs=2, action="append", default=[], metavar=("X", "Z"),
        help="this place of the file is a sharp corner; may be given again",
    )  # fmt: skip
    group.add_argument(
        "--blunt", metavar="L",
        help="leave out measured points nearer to a --corner than this: the probe rounded it",
    )  # fmt: skip


def _add_laying(group: Any) -> None:
    group.add_argument(
        "--wood", choices=("below", "above", "left", "right"), default="below",
        help="on which side of an open profile the wood lies (below)",
    )  # fmt: skip
    group.add_argument("--mirror", action="store_true", help="swap left and right")
    group.add_argument("--scale", type=float, default=1.0, help="multiply both x and z")
    group.add_argument(
        "--rotation", type=float, default=0.0, metavar="DEGREES", help="turn counter-clockwise"
    )
    group.add_argument(
        "--at", nargs=2, metavar=("X", "Z"),
        help="move by this; by default the profile's box lies against the blank's sides",
    )  # fmt: skip
    group.add_argument("--width", metavar="L", help="of the blank; by default the profile's own")
    group.add_argument("--thickness", metavar="L", help="of the blank")
    group.add_argument(
        "--margin", metavar="L", help="wood behind the profile without a size given (8 mm)"
    )
    group.add_argument("--length", metavar="L", help="of the part (1000 mm)")
    group.add_argument("--title", help="of the new stack; by default the file's name")


def run(call: argparse.Namespace) -> int:
    """Do the job; returns the exit code."""
    from profilestack.jobs.picture import kind_of
    from profilestack.jobs.target import make_target

    _refuse_outputs(call)
    if call.plot is not None:
        kind_of(call.plot)
    report = make_target(_request(call))
    _write(call, report)
    units = report.stack.units
    if call.json:
        from profilestack.reports.json_report import json_text
        from profilestack.reports.target_report import target_answer

        options.say(json_text(target_answer(report, call.output)))
    else:
        from profilestack.reports.target_report import target_text

        options.say(target_text(report, call.output, units))
    return 0 if report.is_good else 1


def _refuse_outputs(call: argparse.Namespace) -> None:
    options.refuse_picture(call.output, "NEW.stack.toml, and --plot for the picture")
    options.refuse_outputs(call, "plot", "output")
    read = {path.resolve() for path in (call.file, *call.slice)}
    for key, path in (("-o", call.output), ("--plot", call.plot)):
        if path is not None and path.resolve() in read:
            raise InputError(Problem(key, f"{str(path)!r} is the file read", "another file"))


def _write(call: argparse.Namespace, report: TargetReport) -> None:
    """The picture first: it can fail for more reasons, and then no stack is there either."""
    if call.plot is not None:
        from profilestack.jobs.target_picture import write_target_picture

        write_target_picture(report, call.plot, report.stack.units)
    if call.output is not None:
        from profilestack.files.stack_file import write_stack

        write_stack(report.stack, call.output)


def _request(call: argparse.Namespace) -> TargetRequest:
    from profilestack.jobs.target import Corrections, Laying, TargetRequest
    from profilestack.targets.rows import Corner

    units = _bare_units(call)

    def size(key: str) -> float | None:
        text = getattr(call, key)
        return None if text is None else options.length(text, key, units)

    def place(texts: list[str], key: str) -> tuple[float, float]:
        x, z = (options.length(text, key, units) for text in texts)
        return (x, z)

    blunt = size("blunt") or 0.0
    given = {"gap": size("gap"), "length": size("length")}
    return TargetRequest(
        file=call.file,
        slices=tuple(call.slice),
        average=call.average,
        reading=_reading(call, size("across"), size("distance")),
        pick=int(call.pick) if call.pick and call.pick.isdecimal() else call.pick,
        corrections=Corrections(call.scale_x, call.scale_z, call.tilt, size("paint") or 0.0),
        tolerance=size("tolerance"),
        tangent=call.tangent,
        level=not call.no_level,
        corners=tuple(Corner(place(texts, "corner"), blunt) for texts in call.corner),
        laying=Laying(
            call.mirror, call.scale, call.rotation,
            None if call.at is None else place(call.at, "at"),
            size("width"), size("thickness"), size("margin"), call.wood,
        ),
        title=call.title,
        units=call.units,
        **{key: value for key, value in given.items() if value is not None},
    )  # fmt: skip


def _bare_units(call: argparse.Namespace) -> str:
    """What a bare length on the command line is in: the new stack's units."""
    if call.units or call.units_of_file:
        return str(call.units or call.units_of_file)
    if call.file.suffix.lower() in PICTURE_ENDINGS:
        return "mm"
    from profilestack.files.targets.isolation import read_tracing

    return read_tracing(call.file, _reading(call, None, None)).units


def _reading(
    call: argparse.Namespace, across: float | None, distance: float | None
) -> ReadingWishes:
    from profilestack.files.targets import ReadingWishes

    columns = None
    if call.columns is not None:
        columns = tuple(word.strip() for word in call.columns.split(","))
        if len(columns) != 2:
            told = f"{call.columns!r} names {len(columns)}"
            raise InputError(Problem("columns", told, "two, as 1,3 or x,z"))
    return ReadingWishes(
        units=call.units_of_file,
        layers=tuple(call.layer),
        columns=columns,
        order=call.order,
        picture=_picture(call, across, distance),
    )


def _picture(
    call: argparse.Namespace, across: float | None, distance: float | None
) -> PictureWishes:
    from profilestack.files.targets import PictureWishes

    return PictureWishes(
        dpi=call.dpi,
        across=across,
        points=None if call.points is None else tuple(call.points),
        distance=distance,
        threshold=call.threshold,
        trace=call.trace,
        light=call.light,
        smooth=call.smooth,
    )

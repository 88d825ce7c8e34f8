"""The answer of ``cut`` as a person reads it, in 80 columns."""

from __future__ import annotations

from collections.abc import Iterator

from profilestack.cutting.caution import Caution
from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import PassCut
from profilestack.jobs.cut import CutReport
from profilestack.jobs.spread import Spread
from profilestack.reports.layout import WIDTH, columns, fixed, joined, paragraph, plain, shortened
from profilestack.reports.text_spread import spread_lines
from profilestack.stack import CurvedRun, OutlineStock, Rectangle, Run, Stack, StraightRun
from profilestack.units import format_length, to_units

MOST_RIDGES = 8
MOST_CORNERS = 4
"""The highest are listed, the others counted."""

ABOUT_BITS = ("too-fast", "short-grip")
"""Cautions of these codes are about a bit, whatever the pass."""

SEVERITY_WORDS = {"stop": "STOP", "warn": "mind", "note": "note"}

_LEAST_WIDTHS = (4, 18, 6, 8, 8, 9, 9)
"""Of the columns of the table of passes."""

BIG_UNITS = {"mm": "cm3", "in": "in3"}
"""Units of volumes, by the unit of lengths."""


def cut_text(report: CutReport, units: str, spread: Spread | None = None) -> str:
    """The report as text; ``units`` are "mm" or "in"."""
    lines = [*head_lines(report.stack, units), "", *_passes(report, units), ""]
    lines += _fit(report, units)
    if spread is not None:
        lines += spread_lines(spread, units)
    if report.comparison is not None and report.comparison.ridges:
        lines += ["", *_ridges(report.comparison, units)]
    lines += ["", *_cautions(report, units), "", *_sureness(report, units)]
    return "\n".join(lines)


def head_lines(stack: Stack, units: str) -> Iterator[str]:
    """Title, blank, wood, run and pieces."""
    yield from paragraph(stack.title or "Untitled stack")
    wood = f", {stack.blank.species}" if stack.blank.species else ""
    pieces = f"{stack.run.pieces} piece{'s' if stack.run.pieces != 1 else ''}"
    yield from paragraph(f"Blank {_blank(stack, units)}{wood}; {_run(stack.run, units)}; {pieces}.")


def _blank(stack: Stack, units: str) -> str:
    stock = stack.blank.stock
    if isinstance(stock, Rectangle):
        width = format_length(stock.width, units).removesuffix(f" {units}")
        return f"{width} x {format_length(stock.thickness, units)}"
    if isinstance(stock, OutlineStock):
        return "drawn as an outline"
    return f"round, {format_length(stock.diameter, units)} across"


def _run(run: Run, units: str) -> str:
    if isinstance(run, StraightRun):
        return f"straight, {format_length(run.length, units)} long"
    if isinstance(run, CurvedRun):
        return f"radius {format_length(run.radius, units)}, {run.angle:g} degrees round"
    return "turned"


def _passes(report: CutReport, units: str) -> Iterator[str]:
    """The table of the passes, and what the section keeps."""
    if not report.cut.passes:
        yield "No passes: nothing is cut yet."
    else:
        yield from _table(report, units)
    if off := [str(place) for place, each in enumerate(report.stack.passes, 1) if not each.on]:
        yield from paragraph(f"Switched off: pass{'es' if len(off) > 1 else ''} {joined(off)}.")
    cut, digits = report.cut, _digits(units)
    areas = [fixed(_square(area, units), digits) for area in (cut.section.area, cut.blank.area)]
    yield from paragraph(
        f"The section keeps {areas[0]} {units}2 of the blank's {areas[1]} {units}2: "
        f"{fixed(_cubic(cut.volume, units), 1)} {BIG_UNITS[units]} a piece."
    )


def _table(report: CutReport, units: str) -> Iterator[str]:
    digits, big = _digits(units), BIG_UNITS[units]
    heads = (
        ("", "", "", "edge to", "below", "", ""),
        ("", "", "", "centre", "face", "removes", "volume"),
        ("pass", "bit", "setup", units, units, f"{units}2", big),
    )
    rows = [
        (
            str(single.number),
            plain(single.bit.id),
            shortened(single.cut.setup, 10),
            fixed(to_units(single.cut.offset, units), digits),
            fixed(to_units(single.cut.depth, units), digits),
            fixed(_square(single.removed_area, units), digits),
            fixed(_cubic(single.removed_volume, units), 1),
        )
        for single in report.cut.passes
    ]
    wide = [
        max(least, *(len(row[place]) for row in (*heads, *rows)))
        for place, least in enumerate(_LEAST_WIDTHS)
    ]
    wide[1] = min(wide[1], max(8, WIDTH - sum(wide) + wide[1] - len(wide) + 1))
    widths = [-wide[0], wide[1], wide[2], *(-width for width in wide[3:])]
    yield from columns(heads, widths)
    for single, row in zip(report.cut.passes, rows, strict=True):
        yield from columns([(row[0], shortened(row[1], wide[1]), *row[2:])], widths)
        if told := _told(single, report.stack, units):
            yield from paragraph(told, " " * (wide[0] + 1))


def _told(single: PassCut, stack: Stack, units: str) -> str:
    """What else is to be known of a pass: repeats, copies, its stretch, roughing out, its note."""
    cut = single.cut
    told = []
    if cut.count > 1:
        told.append(f"{cut.count} times, {format_length(abs(cut.pitch), units)} apart")
    if (copies := stack.setup(cut.setup).copies) > 1:
        told.append(f"{copies} times round")
    stretch = (("from", cut.begin), ("to", cut.end))
    if ends := [f"{word} {format_length(at, units)}" for word, at in stretch if at is not None]:
        told.append(f"{' '.join(ends)} along the part")
    if cut.relief and "rough out" not in cut.note:
        told.append("rough out")
    if cut.note:
        told.append(cut.note)
    return "; ".join(told)


def _fit(report: CutReport, units: str) -> Iterator[str]:
    """The verdict, and the figures that it rests on."""
    comparison, tolerance = report.comparison, report.stack.tolerance
    stops = sum(caution.severity == "stop" for caution in report.cautions)
    but = f"do not cut it yet: {stops} caution{'s say' if stops > 1 else ' says'} stop"
    if comparison is None:
        yield "No wanted profile in this stack: nothing to compare with."
        if stops:
            yield f"But {but}."
        return
    sides = {"leftover (proud)": comparison.leftover, "overcut (gouge)": comparison.overcut}
    worst = {
        "leftover (proud)": (comparison.leftover.max, tolerance.leftover),
        "not reached": (comparison.unreached_max, tolerance.leftover),
        "overcut (gouge)": (comparison.overcut.max, tolerance.overcut),
        "cut away whole": (comparison.missing_max, tolerance.overcut),
    }
    fits = all(most <= allowed for most, allowed in worst.values())
    yield f"It {'fits' if fits else 'does not fit'}{f', and {but}' if stops else ''}."
    rows: list[tuple[str, ...]] = [
        ("", "worst", "allowed", "", "rms", "area", "volume"),
        ("", units, units, "", units, f"{units}2", BIG_UNITS[units]),
    ]
    for word, (most, allowed) in worst.items():
        side, fine = sides.get(word), _digits(units) + 1
        rest = ["", "", ""]
        if side is not None:
            rest = [
                fixed(to_units(side.rms, units), fine),
                fixed(_square(side.area, units), fine),
                fixed(_cubic(side.volume, units), 2),
            ]
        holds = "holds" if most <= allowed else "BROKEN"
        numbers = (fixed(to_units(length, units), fine) for length in (most, allowed))
        rows.append((f"  {word}", *numbers, holds, *rest))
    yield from columns(rows, (18, -10, -10, 7, -8, -10, -10))
    yield from _places(comparison, units)


def _places(comparison: Comparison, units: str) -> Iterator[str]:
    """Where it is worst."""
    for said, side in (("Proudest", comparison.leftover), ("Deepest gouge", comparison.overcut)):
        if side.at is not None and side.max > 0.005:
            yield f"  {said} at {place_text(side.at, units)}."
    corners = [corner for corner in comparison.corners if corner.distance > 0.05]
    for corner in corners[:MOST_CORNERS]:
        yield (
            f"  Inside corner at {place_text(corner.at, units)}: the cut stays "
            f"{_fine(corner.distance, units)} short."
        )
    if len(corners) > MOST_CORNERS:
        yield f"  {len(corners) - MOST_CORNERS} more inside corners are not reached."


def _ridges(comparison: Comparison, units: str) -> Iterator[str]:
    ridges = sorted(comparison.ridges, key=lambda ridge: -ridge.height)
    yield f"Ridges to sand: {len(ridges)}"
    for ridge in ridges[:MOST_RIDGES]:
        yield from paragraph(
            f"{_fine(ridge.height, units)} high, {_fine(ridge.width, units)} wide at "
            f"{place_text(ridge.at, units)}: {_makers(*ridge.between)}",
            "  ",
            indent=4,
        )
    if len(ridges) > MOST_RIDGES:
        yield f"  and {len(ridges) - MOST_RIDGES} lower ones"


def _makers(first: int, second: int) -> str:
    """Whose cuts leave a ridge; 0 is the blank's own face."""
    if first == second:
        return f"pass {first} on both sides" if first else "the blank's face"
    if 0 in (first, second):
        return f"pass {max(first, second)} and the blank's face"
    return f"passes {first} and {second}"


def _cautions(report: CutReport, units: str) -> Iterator[str]:
    """The cautions, the gravest first; the same sentence of several passes is said once."""
    if not report.cautions:
        yield "No cautions."
        return
    alike: dict[tuple[str, str], list[Caution]] = {}
    for caution in report.cautions:
        alike.setdefault((caution.severity, caution.say(units)), []).append(caution)
    bits = {single.number: single.bit.id for single in report.cut.passes}
    yield "Cautions"
    for (severity, sentence), cautions in alike.items():
        numbers = [caution.number for caution in cautions if caution.number]
        place = f"pass{'es' if len(numbers) > 1 else ''} {joined([*map(str, numbers)])}: "
        if cautions[0].code in ABOUT_BITS:
            place = f"{joined([bits[number] for number in numbers])}: "
        said = f"{place if numbers else ''}{sentence}"
        yield from paragraph(said, f"  {SEVERITY_WORDS[severity]}  ")


def _sureness(report: CutReport, units: str) -> Iterator[str]:
    chord = f"{float(f'{to_units(report.cut.chord, units):.1g}'):.9f}".rstrip("0").rstrip(".")
    yield from paragraph(
        f"Computed for the bits as told, arcs drawn true to {chord} {units}. Bits "
        "and machines differ: measure yours, and make a test cut in scrap. The marks on your bits, "
        "your machine's manual, local rules and a qualified operator come first."
    )


def place_text(at: tuple[float, float], units: str) -> str:
    """A place of the section, as "x 29.84, z 13.18 mm"."""
    x, z = (fixed(to_units(value, units), _digits(units)) for value in at)
    return f"x {x}, z {z} {units}"


def _fine(mm: float, units: str) -> str:
    return f"{fixed(to_units(mm, units), _digits(units) + 1)} {units}"


def _digits(units: str) -> int:
    return 2 if units == "mm" else 3


def _square(mm2: float, units: str) -> float:
    return mm2 * to_units(1.0, units) ** 2


def _cubic(mm3: float, units: str) -> float:
    """Cubic centimetres, or cubic inches."""
    return mm3 / 1000.0 if units == "mm" else mm3 * to_units(1.0, units) ** 3

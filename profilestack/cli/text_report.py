"""The answer of ``cut`` as a person reads it, in 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from profilestack.cutting.comparison import Comparison
from profilestack.jobs.cut import CutReport
from profilestack.jobs.spread import Spread
from profilestack.stack import CurvedRun, OutlineStock, Rectangle, Run, Stack, StraightRun
from profilestack.units import format_length, to_units

WIDTH = 80

MOST_RIDGES = 8
"""The highest ridges are listed, the others counted."""

SEVERITY_WORDS = {"stop": "STOP", "warn": "mind", "note": "note"}


def cut_text(report: CutReport, units: str, spread: Spread | None = None) -> str:
    """The report as text; ``units`` are "mm" or "in"."""
    lines = [*_head(report.stack, units), "", *_passes(report, units), ""]
    lines += _fit(report, units)
    if spread is not None:
        lines += _spread(spread, units)
    if report.comparison is not None and report.comparison.ridges:
        lines += ["", *_ridges(report.comparison, units)]
    lines += ["", *_cautions(report, units), "", *_sureness(report, units)]
    return "\n".join(lines)


def _head(stack: Stack, units: str) -> Iterator[str]:
    yield stack.title or "Untitled stack"
    wood = f", {stack.blank.species}" if stack.blank.species else ""
    pieces = f"{stack.run.pieces} piece{'s' if stack.run.pieces != 1 else ''}"
    yield f"blank {_blank(stack, units)}{wood}; {_run(stack.run, units)}; {pieces}"


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
    digits = 2 if units == "mm" else 3
    big = "cm3" if units == "mm" else "in3"
    yield (
        f"{'pass':>4}  {'bit':<24} {'setup':<8} {'edge to':>9} {'below':>8} "
        f"{'removes':>9} {'volume':>9}"
    )
    yield (
        f"{'':>4}  {'':<24} {'':<8} {'centre ' + units:>9} {'face ' + units:>8} "
        f"{units + '2':>9} {big:>9}"
    )
    for single in report.cut.passes:
        one = single.cut
        more = f" x{one.count}" if one.count > 1 else ""
        copies = report.stack.setup(one.setup).copies
        more += f" ({copies} round)" if copies > 1 else ""
        name = textwrap.shorten(single.bit.id + more, 24, placeholder="...")
        yield (
            f"{single.number:>4}  {name:<24} {_clip(one.setup, 8):<8} "
            f"{to_units(one.offset, units):>9.{digits}f} {to_units(one.depth, units):>8.{digits}f} "
            f"{_square(single.removed_area, units):>9.{digits}f} "
            f"{_cubic(single.removed_volume, units):>9.1f}"
        )
    cut = report.cut
    section = cut.section.area
    yield (
        f"{'left':>4}  {'of ' + format(_square(cut.blank.area, units), f'.{digits}f'):<24} "
        f"{'':<8} {'':>9} {'':>8} "
        f"{_square(section, units):>9.{digits}f} {_cubic(cut.volume, units):>9.1f}"
    )


def _fit(report: CutReport, units: str) -> Iterator[str]:
    comparison, tolerance = report.comparison, report.stack.tolerance
    if comparison is None:
        yield "No wanted profile in this stack: nothing to compare with."
        return
    rows = (
        ("leftover (proud)", comparison.leftover.max, tolerance.leftover, comparison.leftover.at),
        ("not reached", comparison.unreached_max, tolerance.leftover, None),
        ("overcut (gouge)", comparison.overcut.max, tolerance.overcut, comparison.overcut.at),
        ("cut away whole", comparison.missing_max, tolerance.overcut, None),
    )
    good = all(worst <= allowed for _, worst, allowed, _ in rows)
    yield "It fits." if good else "It does not fit."
    for word, worst, allowed, at in rows:
        sign = "holds" if worst <= allowed else "BROKEN"
        where = ""
        if at is not None and worst > 0.005:
            where = f"  worst at {_place(at, units)}"
        yield (
            f"  {word:<17} {_fine(worst, units):>10}  of {_fine(allowed, units)} allowed  "
            f"{sign:<6}{where}"
        )
    sides = (comparison.leftover, comparison.overcut)
    rms = " / ".join(_fine(side.rms, units) for side in sides)
    areas = " / ".join(f"{_square(side.area, units):.3f}" for side in sides)
    volumes = " / ".join(f"{_cubic(side.volume, units):.2f}" for side in sides)
    big = "cm3" if units == "mm" else "in3"
    yield f"  proud / gouged: rms {rms}; area {areas} {units}2; volume {volumes} {big}"
    for corner in comparison.corners[:4]:
        if corner.distance > 0.05:
            text = f"{_fine(corner.distance, units)} short of it"
            yield f"  inside corner at {_place(corner.at, units)}: the cut stays {text}"


def _spread(spread: Spread, units: str) -> Iterator[str]:
    over, left = spread.overcut, spread.leftover
    yield f"  as made, with usual errors ({spread.cuts} trial cuts): half of them stay within"
    yield (
        f"  overcut {_fine(over[0], units)}, leftover {_fine(left[0], units)}; 95 in 100 within "
        f"{_fine(over[1], units)}, {_fine(left[1], units)}"
    )


def _ridges(comparison: Comparison, units: str) -> Iterator[str]:
    ridges = sorted(comparison.ridges, key=lambda ridge: -ridge.height)
    yield f"Ridges to sand: {len(ridges)}"
    for ridge in ridges[:MOST_RIDGES]:
        first, second = ridge.between
        makers = f"passes {first} and {second}" if first != second else f"pass {first}'s corner"
        if 0 in ridge.between:
            other = max(ridge.between)
            makers = f"pass {other} and the blank's face" if other else "the blank's face"
        yield (
            f"  {_fine(ridge.height, units):>10} high, {_fine(ridge.width, units):>10} wide at "
            f"{_place(ridge.at, units)}, {makers}"
        )
    if len(ridges) > MOST_RIDGES:
        yield f"  and {len(ridges) - MOST_RIDGES} lower ones"


def _cautions(report: CutReport, units: str) -> Iterator[str]:
    if not report.cautions:
        yield "No cautions."
        return
    yield "Cautions"
    for caution in report.cautions:
        place = f"pass {caution.number}" if caution.number else "part"
        head = f"  {SEVERITY_WORDS[caution.severity]}  {place + ':':<9} "
        yield textwrap.fill(
            caution.say(units), WIDTH, initial_indent=head, subsequent_indent=" " * len(head)
        )


def _sureness(report: CutReport, units: str) -> Iterator[str]:
    text = (
        f"Computed for nominal bits on outlines true to {_fine(report.cut.chord, units)}; bits "
        "and machines differ: measure yours, and make a test cut in scrap."
    )
    yield from textwrap.wrap(text, WIDTH)


def _place(at: tuple[float, float], units: str) -> str:
    digits = 2 if units == "mm" else 3
    x, z = (to_units(value, units) for value in at)
    return f"({x:.{digits}f}, {z:.{digits}f})"


def _fine(mm: float, units: str) -> str:
    digits = 3 if units == "mm" else 4
    return f"{to_units(mm, units):.{digits}f} {units}"


def _square(mm2: float, units: str) -> float:
    return mm2 * to_units(1.0, units) ** 2


def _cubic(mm3: float, units: str) -> float:
    """Cubic centimetres, or cubic inches."""
    return mm3 / 1000.0 if units == "mm" else mm3 * to_units(1.0, units) ** 3


def _clip(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "~"

"""The answer of ``target`` as a person reads it, and as JSON (mm)."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from profilestack.geometry.path import Arc
from profilestack.jobs.target import TargetReport
from profilestack.reports.layout import joined, paragraph, plain
from profilestack.stack import Rectangle
from profilestack.units import format_length, to_units


def target_text(report: TargetReport, written: Path | None, units: str) -> str:
    """The report as text; ``units`` are "mm" or "in"."""
    return "\n".join(_lines(report, written, units))


def _lines(report: TargetReport, written: Path | None, units: str) -> Iterator[str]:
    stack, path = report.stack, report.fitted
    arcs = sum(isinstance(piece, Arc) for piece in path.segments)
    kind = "closed, the whole section" if path.is_closed else "open, the wood at its right"
    yield from paragraph(f"{stack.title or 'Untitled'}: wanted profile, {kind}")
    yield (
        f"  {_count(report.after, 'piece')} ({report.after - arcs} straight, {arcs} round) for "
        f"{_count(report.before, 'segment')} of what was read"
    )
    sign = "" if report.is_good else ": TOO MUCH"
    yield (
        f"  largest deviation {_fine(report.deviation.largest, units)} of "
        f"{_fine(report.tolerance, units)} allowed{sign}"
    )
    stock = stack.blank.stock
    assert isinstance(stock, Rectangle), "the job lays every target into a board"
    size = " x ".join(format_length(side, units) for side in (stock.width, stock.thickness))
    yield f"  blank {size}"
    if report.average is not None:
        yield (
            f"  mean of {len(report.average.moves)} slices: they lie within "
            f"{_fine(report.average.spread, units)} of it, {_fine(report.average.rms, units)} rms"
        )
        turned = [f"{move[2]:.2f}" for move in report.average.moves[1:]]
        yield from paragraph(f"laid upon the first, turned by {joined(turned)} degrees", "  ")
    for note in report.notes:
        yield from paragraph(note, "  note: ")
    if written is None:
        yield "Nothing was written: say -o NEW.stack.toml."
    else:
        yield f"Written: {plain(str(written))}. Look at it before you cut: --plot FILE draws it."


def target_answer(report: TargetReport, written: Path | None) -> dict[str, Any]:
    """The report as a table for JSON, lengths in mm."""
    stack, path = report.stack, report.fitted
    stock = stack.blank.stock
    assert isinstance(stock, Rectangle), "the job lays every target into a board"
    target = stack.target
    assert target is not None, "the job makes one"
    average = report.average
    return {
        "format": "profilestack-target/1",
        "file": None if written is None else str(written),
        "units": stack.units,
        "blank": {"width": stock.width, "thickness": stock.thickness},
        "closed": target.closed,
        "pieces": {
            "before": report.before,
            "after": report.after,
            "lines": sum(not isinstance(piece, Arc) for piece in path.segments),
            "arcs": sum(isinstance(piece, Arc) for piece in path.segments),
        },
        "deviation": {
            "largest": report.deviation.largest,
            "points": report.deviation.points,
            "path": report.deviation.path,
        },
        "tolerance": report.tolerance,
        "slices": None if average is None else {
            "count": len(average.moves),
            "spread": average.spread,
            "rms": average.rms,
            "moves": [list(move) for move in average.moves],
        },
        "notes": list(report.notes),
    }  # fmt: skip


def _count(number: int, noun: str) -> str:
    return f"{number} {noun}{'s' if number != 1 else ''}"


def _fine(mm: float, units: str) -> str:
    digits = 3 if units == "mm" else 4
    return f"{to_units(mm, units):.{digits}f} {units}"

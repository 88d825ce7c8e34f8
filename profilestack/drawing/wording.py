"""The shop's words and numbers, as they stand on pictures and sheets."""

from __future__ import annotations

from profilestack.cutting.cut import PassCut
from profilestack.drawing.fonts import plain
from profilestack.stack import (
    Blank,
    CurvedRun,
    Rectangle,
    Round,
    Run,
    Stack,
    StraightRun,
)
from profilestack.units import format_length, to_units

UNIT_WORDS = {"mm": "mm", "in": "inches"}
"""The units as they are said."""


def number_text(mm: float, units: str) -> str:
    """A length without its unit, for labels on a sheet that says its unit."""
    # five digits: a size read off a flattened outline is the size that was given
    return format_length(round(mm, 5), units).removesuffix(f" {units}")


def fine_text(mm: float, units: str) -> str:
    """A deviation without its unit, always with the step's decimals."""
    digits = 2 if units == "mm" else 3
    return f"{to_units(mm, units):.{digits}f}"


def signed_text(mm: float, units: str) -> str:
    """A deviation with its sign: + stands proud, − is gouged."""
    return f"{'+' if mm >= 0.0 else '−'}{fine_text(abs(mm), units)}"


def title_of(stack: Stack) -> str:
    """The title on one line, or a word for a stack without one."""
    return plain(stack.title) or "Untitled stack"


def blank_text(blank: Blank, units: str) -> str:
    """The blank's size and wood."""
    stock = blank.stock
    if isinstance(stock, Rectangle):
        size = f"{number_text(stock.width, units)} × {format_length(stock.thickness, units)}"
    elif isinstance(stock, Round):
        size = f"round {format_length(stock.diameter, units)}"
    else:
        width, height = stock.path.flatten(1e-3).max(axis=0)
        size = f"shaped blank within {number_text(width, units)} × {format_length(height, units)}"
    return f"{size}, {plain(blank.species)}" if blank.species else size


def run_text(run: Run, units: str) -> str:
    """How the section becomes a part, and how many."""
    if isinstance(run, StraightRun):
        text = f"straight, {format_length(run.length, units)} long"
    elif isinstance(run, CurvedRun):
        text = f"radius {format_length(run.radius, units)} over {run.angle:g}°"
    else:
        text = "turned about the bottom side"
    return f"{text}, {run.pieces} pieces" if run.pieces > 1 else text


def setup_text(stack: Stack, name: str) -> str:
    """How the blank lies for a pass."""
    setup = stack.setup(name)
    text = plain(setup.name)
    angle = setup.angle % 360.0
    if angle == 180.0:
        text += ", turned over"
    elif angle:
        # a slope is tipped, a side is turned; the shorter way round is what one does
        turn = angle - 360.0 if angle > 180.0 else angle
        text += f", {'turned' if angle % 90.0 == 0.0 else 'tipped'} by {turn:g}°"
    if setup.copies > 1:
        text += f", {setup.copies} times around"
    return text


def repeat_text(single: PassCut, units: str) -> str:
    """How a pass repeats across, or nothing."""
    cut = single.cut
    if cut.count == 1:
        return ""
    return f"{cut.count} times, {format_length(abs(cut.pitch), units)} apart"

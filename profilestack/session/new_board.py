"""A new document: a small blank board, to begin with."""

from __future__ import annotations

from profilestack.stack import Blank, Rectangle, Stack, StraightRun
from profilestack.units import from_units

SIZES = {"mm": (60.0, 20.0, 1000.0), "in": (2.5, 0.75, 36.0)}
"""Width, thickness and length of the board, in each unit."""


def new_board(units: str) -> Stack:
    """A straight board without target and passes, in sizes as a shop with these units has them."""
    width, thickness, length = (from_units(size, units) for size in SIZES[units])
    blank = Blank(Rectangle(width, thickness))
    return Stack(blank, StraightRun(length), units=units)

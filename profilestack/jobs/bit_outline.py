"""The job of reading the outline of a bit from a drawing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path as FilePath

import numpy as np

from profilestack.bits.shapes.outline import Outline
from profilestack.cutting.nearest import polyline
from profilestack.errors import InputError, Problem
from profilestack.files.targets.isolation import read_tracing
from profilestack.geometry.crossing import path_of
from profilestack.geometry.extent import box_of
from profilestack.geometry.motion import move
from profilestack.geometry.path import Path, Segment
from profilestack.geometry.trimming import beside_axis
from profilestack.targets.bulges import tidied
from profilestack.targets.choosing import chosen
from profilestack.targets.fitting import FitWishes, fit
from profilestack.targets.joining import joined

SAME_SIDES = 0.05
"""Two sides of a drawn bit that differ by no more are meant to be the same [mm]."""

NEAR = 1e-3
"""Pieces so near to the axis or to the top are the drawing's frame, no edge [mm]."""

DIGITS = 9
"""Decimals of a mm that the points of an outline are given with."""


@dataclass(frozen=True, slots=True)
class DrawnOutline:
    """The outline of a bit from a drawing: right half, tip at h = 0; notes on what was left out."""

    outline: Path
    notes: tuple[str, ...]


def read_outline(file: FilePath) -> DrawnOutline:
    """The outline of a bit in a DXF or SVG drawing, drawn upright, its tip down.

    A bit drawn with both sides is taken by its right half. Of a half the axis is x = 0, or its
    left end where it lies left of that.

    Raises:
        FileError: the file cannot be read.
        InputError: what is wrong with it.
    """
    tracing = read_tracing(file)
    chain, notes = chosen(joined(tracing.chains).chains, "longest")
    drawn = fit(chain, FitWishes(tracing.tolerance)).path
    outline = right_half(drawn)
    try:
        Outline(outline)
    except InputError as error:
        told = [
            Problem(p.where, p.text, p.expected, p.hint, p.line, str(file)) for p in error.problems
        ]
        raise InputError(told) from None
    return DrawnOutline(outline, (*tracing.notes, *notes))


def right_half(drawn: Path) -> Path:
    """The right half of a drawn bit, from its tip at h = 0 upward (r, h) [mm]."""
    box = box_of(drawn)
    middle = (box.left + box.right) / 2.0
    if _has_two_sides(drawn, middle):
        whole = move(-middle, 0.0).apply_to(drawn)
        if whole.is_closed:
            whole = _rolled(whole, lambda x, z: (x, z))
        elif whole.start[0] > whole.end[0]:
            whole = whole.reversed()
        half = beside_axis(whole)
    else:
        half = move(-min(0.0, box.left), 0.0).apply_to(drawn)
        if half.is_closed:
            half = _rolled(half, lambda x, z: (z, x))
        elif half.start[1] > half.end[1]:
            half = half.reversed()
    half = _without_frame(half)
    return tidied(move(0.0, -box_of(half).bottom).apply_to(half), DIGITS)


def _has_two_sides(drawn: Path, middle: float) -> bool:
    """Whether what is drawn is the same left and right of its middle."""
    points = drawn.flatten(SAME_SIDES / 10.0)
    mirrored = points * (-1.0, 1.0) + (2.0 * middle, 0.0)
    far, _ = polyline([points]).nearest(mirrored)
    return bool(np.max(far) <= SAME_SIDES)


def _rolled(ring: Path, first: Callable[[float, float], tuple[float, float]]) -> Path:
    """A closed path counter-clockwise, from its first corner in the order of ``first`` on."""
    if ring.signed_area < 0.0:
        ring = ring.reversed()
    pieces = list(ring.segments)
    begin = min(
        range(len(pieces)),
        key=lambda k: first(round(pieces[k].start[0], 6), round(pieces[k].start[1], 6)),
    )
    return path_of(pieces[begin:] + pieces[:begin])


def _without_frame(half: Path) -> Path:
    """The half without what closes it: the flat top, and the way back along the axis."""
    pieces = list(half.segments)
    top = box_of(half).top

    def frames(piece: Segment) -> bool:
        ends = (piece.start, piece.end)
        return all(x <= NEAR for x, _ in ends) or all(z >= top - NEAR for _, z in ends)

    while len(pieces) > 1 and frames(pieces[-1]):
        pieces.pop()
    return path_of(pieces)

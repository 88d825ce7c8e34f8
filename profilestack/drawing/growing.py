"""Marks made larger or smaller as a whole, pens and type with them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from profilestack.drawing.drawing import Fill, Lines, Mark, Window


def grown(marks: Iterable[Mark], factor: float) -> list[Mark]:
    """The marks ``factor`` times as large, about the sheet's lower left."""
    found: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Fill):
            found.append(Fill(tuple(ring * factor for ring in mark.rings), mark.color))
        elif isinstance(mark, Lines):
            dash = tuple(part * factor for part in mark.pen.dash)
            pen = replace(mark.pen, width=mark.pen.width * factor, dash=dash)
            found.append(Lines(tuple(chain * factor for chain in mark.chains), pen, mark.closed))
        elif isinstance(mark, Window):
            at = (mark.at[0] * factor, mark.at[1] * factor)
            inner = tuple(grown(mark.marks, factor))
            found.append(Window(at, mark.width * factor, mark.height * factor, inner))
        else:
            at = (mark.at[0] * factor, mark.at[1] * factor)
            found.append(replace(mark, at=at, size=mark.size * factor))
    return found

"""What the colours and hatches of a section picture mean, in the shop's words."""

from __future__ import annotations

from profilestack.cutting.comparison import Comparison
from profilestack.drawing.blocks import Block, heading, stacked
from profilestack.drawing.drawing import Mark, box, line, words
from profilestack.drawing.fonts import line_height
from profilestack.drawing.palette import (
    AXIS_PEN,
    BLANK_PEN,
    BODY,
    DRAWN_PEN,
    LEFTOVER,
    LEFTOVER_LOOK,
    OVERCUT_LOOK,
    TARGET_PEN,
    WHITE,
    WOOD_LOOK,
    Look,
    Pen,
    pass_look,
)
from profilestack.drawing.scene import spot

_SWATCH = 9.0


def legend_block(comparison: Comparison | None, width: float, *, has_drawn: bool = False) -> Block:
    """The legend; what belongs to a target is left out where there is none.

    ``has_drawn``: the profile is shown as it was drawn as well.
    """
    rows: list[tuple[list[Mark], str]] = [
        (_patch(WOOD_LOOK), "the section as cut"),
        (_stroke(BLANK_PEN), "blank"),
        (_patch(pass_look(1)), "removed by pass 1, 2, 3 ..."),
        (_stroke(AXIS_PEN), "bit axis, cross at the tip"),
    ]
    if comparison is not None:
        rows += [
            (_stroke(TARGET_PEN), "wanted profile, fitted" if has_drawn else "wanted profile"),
            *([(_stroke(DRAWN_PEN), "as drawn")] if has_drawn else []),
            (_patch(LEFTOVER_LOOK), "leftover (proud), value +"),
            (_patch(OVERCUT_LOOK), "overcut (gouge), value −"),
        ]
        if comparison.ridges:
            rows.append((spot((_SWATCH / 2.0, -2.0), LEFTOVER), "ridge with its height"))
    step = line_height(BODY) + 1.1
    parts = [heading("Key", width)]
    for marks, text in rows:
        row = [*marks, words((_SWATCH + 2.5, -2.0), text, BODY, centered=True)]
        parts.append(Block(tuple(row), width, step))
    return stacked(parts)


def _patch(look: Look) -> list[Mark]:
    return [*box(0.0, -3.4, _SWATCH, 2.8, Look(WHITE)), *box(0.0, -3.4, _SWATCH, 2.8, look)]


def _stroke(pen: Pen) -> list[Mark]:
    return [line((0.0, -2.0), (_SWATCH, -2.0), pen=pen)]

"""Ways of making one molding as bars of minutes a piece: for one piece, and for the batch."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from profilestack.drawing.drawing import Drawing, Mark, box, line, words
from profilestack.drawing.fonts import fitted, text_width
from profilestack.drawing.palette import (
    BODY,
    FRAME_PEN,
    HEADING,
    INK,
    PAPER,
    QUIET_INK,
    SMALL,
    TITLE,
    WHITE,
    Hatch,
    Look,
    Pen,
)
from profilestack.drawing.strip import nice_step

PARTS = ("bit changes", "setups", "cutting", "sanding")
"""What the minutes of a bar go into, from the left."""

_EDGE = Pen(INK, 0.2)
_LOOKS = (
    Look("#C9DDF0", (Hatch(90.0, 1.6, Pen("#0060A8", 0.2)),), _EDGE),
    Look("#DCEDE3", (Hatch(0.0, 1.3, Pen("#00714E", 0.2)),), _EDGE),
    Look("#F6D3B8", (Hatch(45.0, 1.5, Pen("#C24A00", 0.2)),), _EDGE),
    Look(WHITE, (Hatch(-45.0, 2.4, Pen("#59626A", 0.15)),), _EDGE),
)
"""Told apart by hatch as well as by colour."""

WIDTH = 190.0
LEFT, RIGHT = 46.0, 36.0
BAR, GAP = 7.0, 3.0
HEAD, FOOT = 29.0, 20.0


@dataclass(frozen=True, slots=True)
class Bar:
    """One way: its words, minutes a piece of each part for one piece and for the batch.

    ``told`` stands at the end of each bar; both are None where the way cannot be.
    """

    name: str
    one: tuple[float, float, float, float] | None
    batch: tuple[float, float, float, float] | None
    one_told: str = ""
    batch_told: str = ""


def methods_chart(title: str, about: str, pieces: int, bars: Sequence[Bar]) -> Drawing:
    """The chart; with one piece there is one group of bars."""
    groups = [("For one piece", [(bar.name, bar.one, bar.one_told) for bar in bars])]
    if pieces > 1:
        told = [(bar.name, bar.batch, bar.batch_told) for bar in bars]
        groups.append((f"For all {pieces} pieces, minutes a piece", told))
    longest = max(
        (sum(parts) for _, rows in groups for _, parts, _ in rows if parts is not None), default=1.0
    )
    step = nice_step(longest / 8.0)
    scale = (WIDTH - LEFT - RIGHT) / (step * (int(longest / step) + 1))
    tall = HEAD + FOOT + sum(9.0 + len(rows) * (BAR + GAP) for _, rows in groups)
    marks: list[Mark] = [
        words((8.0, tall - 10.0), fitted(title, TITLE, WIDTH - 16.0, bold=True), TITLE, bold=True),
        words((8.0, tall - 16.0), fitted(about, BODY, WIDTH - 16.0), BODY, QUIET_INK),
        *_key(tall - 25.0),
    ]
    bottom = FOOT
    marks += _axis(bottom, tall - HEAD, step, scale, longest)
    top = tall - HEAD
    for heading, rows in groups:
        marks.append(words((8.0, top - 5.0), heading, HEADING, bold=True))
        top -= 9.0
        for name, parts, said in rows:
            marks += _bar(name, parts, said, top, scale)
            top -= BAR + GAP
    return Drawing(WIDTH, tall, tuple(marks), title, PAPER)


def _key(level: float) -> list[Mark]:
    marks: list[Mark] = []
    left = LEFT
    for word, look in zip(PARTS, _LOOKS, strict=True):
        marks += box(left, level, 8.0, 4.0, look)
        marks.append(words((left + 9.5, level + 2.0), word, BODY, centered=True))
        left += 14.0 + text_width(word, BODY)
    return marks


def _axis(bottom: float, top: float, step: float, scale: float, longest: float) -> list[Mark]:
    marks: list[Mark] = []
    for k in range(int(longest / step) + 2):
        x = LEFT + k * step * scale
        marks.append(line((x, bottom), (x, top - 2.0), pen=FRAME_PEN))
        marks.append(words((x, bottom - 4.0), f"{k * step:g}", SMALL, QUIET_INK, "middle"))
    marks.append(words((LEFT, bottom - 9.0), "minutes a piece", BODY, QUIET_INK))
    note = "Minutes from the shop's figures: assumptions without a shop file."
    marks.append(words((LEFT, bottom - 14.0), note, SMALL, QUIET_INK))
    return marks


def _bar(
    name: str, parts: tuple[float, float, float, float] | None, told: str, top: float, scale: float
) -> list[Mark]:
    middle = top - BAR / 2.0
    marks: list[Mark] = [words((LEFT - 3.0, middle), name, BODY, anchor="end", centered=True)]
    if parts is None:
        marks.append(words((LEFT + 2.0, middle), told, BODY, QUIET_INK, centered=True))
        return marks
    x = LEFT
    for minutes, look in zip(parts, _LOOKS, strict=True):
        if minutes > 0.0:
            marks += box(x, top - BAR, minutes * scale, BAR, look)
            x += minutes * scale
    ground = Look(PAPER)
    marks += box(x + 0.8, middle - 2.0, text_width(told, BODY) + 1.4, 4.0, ground)
    marks.append(words((x + 1.5, middle), told, BODY, centered=True))
    return marks

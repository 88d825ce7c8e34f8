"""Colours, pens, hatches and type of everything drawn: a sheet of drawing paper on a bench.

Colour never says anything alone: hatch, dash, sign or number say it too. Widths and dashes are
in mm on the paper, type in points.
"""

from __future__ import annotations

from dataclasses import dataclass

PAPER = "#FAF8F4"
PANEL = "#F1EEE8"
RULE = "#D8D2C6"
INK = "#1E2326"
QUIET_INK = "#59626A"
WHITE = "#FFFFFF"

WOOD = "#E6CFA9"
WOOD_EDGE = "#6B4A1F"
BLANK = "#F3E7D0"
TARGET = "#0060A8"
LEFTOVER = "#C24A00"
OVERCUT = "#7A2E7A"
INSIDE = "#00714E"
CHOSEN = "#FFE9B0"
STEEL = "#C9CED2"

LEFTOVER_TINT = "#F6D3B8"
OVERCUT_TINT = "#E6CBE6"
INSIDE_TINT = "#DCEDE3"

TITLE = 13.0
HEADING = 9.0
BODY = 7.5
SMALL = 6.5
"""Type sizes [pt]."""


@dataclass(frozen=True, slots=True)
class Pen:
    """A line's colour, ``width`` [mm] and ``dash`` (on, off, ... [mm]; empty: unbroken)."""

    color: str = INK
    width: float = 0.25
    dash: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Hatch:
    """Parallel lines at ``angle`` [deg] from level, ``spacing`` [mm] apart on the paper."""

    angle: float
    spacing: float
    pen: Pen


@dataclass(frozen=True, slots=True)
class Look:
    """How an area is shown: a fill, hatches over it, an edge; each may be absent."""

    fill: str | None = None
    hatches: tuple[Hatch, ...] = ()
    edge: Pen | None = None


WOOD_LOOK = Look(WOOD, (), Pen(WOOD_EDGE, 0.45))
BLANK_PEN = Pen(QUIET_INK, 0.25, (2.4, 1.2))
TARGET_PEN = Pen(TARGET, 0.5)
DRAWN_PEN = Pen(TARGET, 0.3, (1.2, 0.8))
AXIS_PEN = Pen(INK, 0.18, (4.0, 0.9, 0.6, 0.9))
LEADER_PEN = Pen(QUIET_INK, 0.15)
DIMENSION_PEN = Pen(QUIET_INK, 0.18)
FRAME_PEN = Pen(RULE, 0.25)

LEFTOVER_LOOK = Look(LEFTOVER_TINT, (Hatch(45.0, 0.9, Pen(LEFTOVER, 0.22)),), Pen(LEFTOVER, 0.3))
OVERCUT_LOOK = Look(
    OVERCUT_TINT,
    (Hatch(45.0, 1.1, Pen(OVERCUT, 0.2)), Hatch(-45.0, 1.1, Pen(OVERCUT, 0.2))),
    Pen(OVERCUT, 0.3),
)

_PASS_EDGE = Pen(QUIET_INK, 0.15)
_ANGLES = (-45.0, 0.0, 90.0, -70.0, 20.0, 70.0)
_DASHES: tuple[tuple[float, ...], ...] = ((), (1.6, 0.9), (0.35, 0.9))
_TINTS = ("#EEF1EA", "#F4EBDA", "#E7EDF1", "#F3EEE6", "#E9EFE9", "#F1EAEC")


def pass_look(number: int) -> Look:
    """How the stock that a pass removes is shown; 18 passes in a row differ in their hatch."""
    index = number - 1
    turn, rest = divmod(index, len(_ANGLES))
    dash = _DASHES[turn % len(_DASHES)]
    hatch = Hatch(_ANGLES[rest], 2.2, Pen("#8A9299", 0.13, dash))
    return Look(_TINTS[index % len(_TINTS)], (hatch,), _PASS_EDGE)


PRINT_WOOD_LOOK = Look("#DCDCDC", (), Pen(INK, 0.35))
PRINT_TARGET_PEN = Pen(TARGET, 0.25)
PRINT_BLANK_PEN = Pen(INK, 0.2, (2.4, 1.2))
PRINT_REVERSE_LOOK = Look(None, (Hatch(45.0, 3.0, Pen("#A9AFB4", 0.12)),), Pen(INK, 0.35))
EXTENSION_PEN = Pen("#8A9299", 0.1)
JOIN_PEN = Pen(INK, 0.15, (3.0, 1.5))
"""For sheets at true scale: wood in grey, so that any printer shows it."""

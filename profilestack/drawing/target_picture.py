"""What was traced against the lines and arcs fitted to it: the profile, and how far they differ."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely.geometry.base import BaseGeometry

from profilestack.drawing.drawing import (
    Drawing,
    Lines,
    Mark,
    area,
    box,
    circle,
    dimension,
    line,
    tag,
    words,
)
from profilestack.drawing.fonts import fitted
from profilestack.drawing.palette import (
    BLANK_PEN,
    BODY,
    DIMENSION_PEN,
    FRAME_PEN,
    INK,
    INSIDE,
    INSIDE_TINT,
    LEFTOVER,
    PAPER,
    QUIET_INK,
    SMALL,
    TARGET,
    TARGET_PEN,
    TITLE,
    WHITE,
    WOOD,
    Look,
    Pen,
)
from profilestack.drawing.placing import Placing
from profilestack.drawing.strip import nice_step
from profilestack.drawing.wording import UNIT_WORDS, fine_text, number_text, title_of
from profilestack.geometry.crossing import direction_at, point_on
from profilestack.geometry.path import Arc, Path, Point, Points
from profilestack.geometry.region import rings_of
from profilestack.stack import Stack
from profilestack.targets.deviation import signed_along
from profilestack.units import from_units, to_units

CHORD = 0.005
"""Arcs are drawn as lines that leave them by at most this [mm]."""

WIDTH = 230.0
PROFILE_HEIGHT = 130.0
STRIP = 46.0
MARGIN = 9.0
HEADER = 17.0
SIDE = 14.0
FOOT = 14.0
"""Of the sheet [mm]."""

TRACED_PEN = Pen(LEFTOVER, 0.3, (0.5, 0.7))
OFF_PEN = Pen(LEFTOVER, 0.3)
JOINT_LOOK = Look(WHITE, (), Pen(TARGET, 0.3))

LABELLED = 7.0
"""Pieces shorter than this on the sheet carry no radius [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Fitting:
    """A fitted path in its stack, and what it was fitted to.

    ``traced``, shape (n, 2) [mm], and ``fitted`` as they lie in the blank; ``wood`` is the wanted
    region there. ``before`` and ``after`` count segments and pieces; ``largest`` and ``tolerance``
    [mm] are the deviation and what it may be.
    """

    stack: Stack
    traced: Points
    fitted: Path
    wood: BaseGeometry
    before: int
    after: int
    largest: float
    tolerance: float


def target_picture(fitting: Fitting, units: str) -> Drawing:
    """A fitted target as one drawing, its words and numbers in ``units`` ("mm" or "in")."""
    outline = fitting.stack.blank.outline().flatten(CHORD)
    every = np.concatenate((outline, fitting.traced))
    low, high = every.min(axis=0), every.max(axis=0)
    wide, tall = (float(v) for v in high - low)
    scale = min((WIDTH - 2.0 * (MARGIN + SIDE)) / wide, PROFILE_HEIGHT / tall)
    panel = scale * tall + FOOT
    height = 2.0 * MARGIN + HEADER + panel + 6.0 + STRIP
    bottom = MARGIN + STRIP + 6.0 + FOOT
    spare = WIDTH - 2.0 * (MARGIN + SIDE) - scale * wide
    left = MARGIN + SIDE + spare / 2.0
    placing = Placing(left - scale * float(low[0]), bottom - scale * float(low[1]), scale, scale)
    marks = _header(fitting, units, height)
    marks += _profile_marks(fitting, outline, placing, units)
    marks += _strip_marks(fitting, units)
    return Drawing(WIDTH, height, tuple(marks), title_of(fitting.stack), PAPER)


def _header(fitting: Fitting, units: str, height: float) -> list[Mark]:
    top, right = height - MARGIN, WIDTH - MARGIN
    keeps = fitting.largest <= fitting.tolerance
    sign = "✓" if keeps else "✗"
    verdict = (
        f"{sign} off by {_fine(fitting.largest, units)} of {_fine(fitting.tolerance, units)} "
        f"{units}{'' if keeps else ', too much'}"
    )
    lines = sum(not isinstance(piece, Arc) for piece in fitting.fitted.segments)
    about = (
        f"{fitting.after} pieces ({lines} straight, {fitting.after - lines} round) for "
        f"{fitting.before} traced"
    )
    title = fitted(f"{title_of(fitting.stack)}: wanted profile", TITLE, 130.0, bold=True)
    return [
        words((MARGIN, top - 4.6), title, TITLE, bold=True),
        words((MARGIN, top - 10.6), about, BODY + 1.0, QUIET_INK),
        words((right, top - 4.2), verdict, 9.0, INSIDE if keeps else LEFTOVER, "end", bold=True),
        words((right, top - 10.6), f"lengths in {UNIT_WORDS[units]}", SMALL, QUIET_INK, "end"),
        line((MARGIN, top - 13.4), (right, top - 13.4), pen=FRAME_PEN),
    ]


def _profile_marks(fitting: Fitting, outline: Points, placing: Placing, units: str) -> list[Mark]:
    rings = [placing.points(ring) for ring in rings_of(fitting.wood)]
    marks = area(tuple(rings), Look(WOOD))
    marks.append(Lines((placing.points(outline),), BLANK_PEN, closed=True))
    marks.append(Lines((placing.points(fitting.fitted.flatten(CHORD)),), TARGET_PEN))
    marks.append(Lines((placing.points(fitting.traced),), TRACED_PEN))
    for joint in [fitting.fitted.start, *(step.to for step in fitting.fitted.steps)]:
        marks += circle(placing.point(joint), 0.6, JOINT_LOOK)
    for piece in fitting.fitted.segments:
        if isinstance(piece, Arc) and piece.length * placing.across >= LABELLED:
            at, way = placing.point(point_on(piece, 0.5)), direction_at(piece, 0.5)
            # on the waste side, the left of the walk
            place = (at[0] - 4.6 * way[1], at[1] + 4.6 * way[0])
            marks += tag(place, f"R {number_text(piece.radius, units)}", SMALL, INK, WHITE)
    low, high = placing.points(outline).min(axis=0), placing.points(outline).max(axis=0)
    wide, tall = (high - low) / placing.across
    down, aside = float(low[1]) - 5.0, float(low[0]) - 5.0
    marks += dimension((float(low[0]), down), (float(high[0]), down), number_text(wide, units))
    marks += dimension((aside, float(low[1])), (aside, float(high[1])), number_text(tall, units))
    for x in (float(low[0]), float(high[0])):
        marks.append(line((x, float(low[1]) - 1.0), (x, down - 1.0), pen=DIMENSION_PEN))
    for z in (float(low[1]), float(high[1])):
        marks.append(line((float(low[0]) - 1.0, z), (aside - 1.0, z), pen=DIMENSION_PEN))
    return [*marks, *_key_marks((float(low[0]), down - 5.5))]


def _key_marks(at: Point) -> list[Mark]:
    x, y = at
    return [
        line((x, y), (x + 8.0, y), pen=TARGET_PEN),
        words((x + 9.5, y), "fitted, joints ringed", SMALL, centered=True),
        line((x + 44.0, y), (x + 52.0, y), pen=TRACED_PEN),
        words((x + 53.5, y), "traced", SMALL, centered=True),
    ]


def _strip_marks(fitting: Fitting, units: str) -> list[Mark]:
    """How far what was traced stands proud (+) of the fitted path, along it."""
    places, off = signed_along(fitting.fitted, fitting.traced)
    order = np.argsort(places, kind="stable")
    places, off = places[order], off[order]
    left, right = MARGIN + SIDE, WIDTH - MARGIN
    bottom, top = MARGIN + 8.0, MARGIN + STRIP - 6.0
    length = fitting.fitted.length
    most = 1.2 * max(fitting.tolerance, float(np.abs(off).max(initial=0.0)))
    across, up = (right - left) / length, (top - bottom) / (2.0 * most)
    zero = (top + bottom) / 2.0
    band = fitting.tolerance * up
    marks: list[Mark] = box(left, bottom, right - left, top - bottom, Look(WHITE))
    marks += box(left, zero - band, right - left, 2.0 * band, Look(INSIDE_TINT))
    curve = _thinned(np.column_stack((left + places * across, zero + off * up)))
    marks.append(Lines((curve,), OFF_PEN))
    marks.append(line((left, zero), (right, zero), pen=Pen(INK, 0.25)))
    for side, sign in ((band, "+"), (-band, "−")):
        marks.append(
            line((left, zero + side), (right, zero + side), pen=Pen(INSIDE, 0.2, (1.5, 1.0)))
        )
        text = f"{sign}{_fine(fitting.tolerance, units)}"
        marks.append(words((left - 1.0, zero + side), text, SMALL, INSIDE, "end", centered=True))
    marks.append(words((left - 1.0, zero), "0", SMALL, INK, "end", centered=True))
    marks += box(left, bottom, right - left, top - bottom, Look(None, (), FRAME_PEN))
    marks += _joint_ticks(fitting.fitted, left, across, bottom, top)
    marks += _place_marks(length, left, bottom, across, units)
    head = "Traced against fitted, along the profile: + proud, − inside the wood"
    return [*marks, words((left, top + 2.0), head, BODY, bold=True)]


def _thinned(curve: Points) -> Points:
    """At most about 4000 points, the largest of each stretch among them."""
    if len(curve) <= 4000:
        return curve
    bounds = np.linspace(0, len(curve), 1300).astype(int).tolist()
    kept = set()
    for begin, end in pairwise(bounds):
        heights = curve[begin:end, 1]
        kept |= {begin, begin + int(np.argmin(heights)), begin + int(np.argmax(heights))}
    return curve[sorted(kept)]


def _joint_ticks(path: Path, left: float, across: float, bottom: float, top: float) -> list[Mark]:
    marks: list[Mark] = []
    begun = 0.0
    for piece in path.segments[:-1]:
        begun += piece.length
        x = left + begun * across
        marks.append(line((x, bottom), (x, top), pen=Pen(TARGET, 0.12)))
    return marks


def _place_marks(
    length: float, left: float, bottom: float, across: float, units: str
) -> list[Mark]:
    step = nice_step(to_units(length, units) / 8.0)
    digits = max(0, -math.floor(math.log10(step) + 1e-9))
    marks: list[Mark] = []
    for k in range(math.floor(to_units(length, units) / step + 1e-9) + 1):
        x = left + from_units(k * step, units) * across
        marks.append(line((x, bottom), (x, bottom - 1.0), pen=Pen(QUIET_INK, 0.2)))
        text = f"{k * step:.{digits}f}"
        marks.append(words((x, bottom - 3.9), text, SMALL, QUIET_INK, "middle"))
    return marks


def _fine(mm: float, units: str) -> str:
    """A deviation, with a digit more than usual where it is small."""
    if mm >= 0.1:
        return fine_text(mm, units)
    return f"{to_units(mm, units):.{3 if units == 'mm' else 4}f}"

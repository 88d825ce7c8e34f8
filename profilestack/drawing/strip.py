"""The deviation along the target, with the tolerance band: a strip below the section."""

from __future__ import annotations

import math

import numpy as np

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.nearest import Numbers
from profilestack.drawing.drawing import Lines, Mark, area, box, line, tag, words
from profilestack.drawing.palette import (
    BODY,
    FRAME_PEN,
    INK,
    INSIDE,
    INSIDE_TINT,
    LEFTOVER,
    LEFTOVER_LOOK,
    OVERCUT,
    OVERCUT_LOOK,
    QUIET_INK,
    SMALL,
    WHITE,
    Look,
    Pen,
)
from profilestack.drawing.wording import UNIT_WORDS, fine_text, signed_text
from profilestack.stack import Tolerance
from profilestack.units import from_units, to_units

LEFT_ROOM = 14.0
"""For the numbers left of the strip [mm]."""

FOOT_ROOM = 8.0
"""For the numbers below it [mm]."""

HEAD_ROOM = 9.0
"""For its heading [mm]."""

FARTHEST = 5.0
"""Deviations beyond so many tolerances are cut off, and said so."""


def strip_marks(
    comparison: Comparison,
    tolerance: Tolerance,
    frame: tuple[float, float, float, float],
    units: str,
) -> list[Mark]:
    """The strip inside ``frame`` = left, bottom, width, height [mm on the sheet]."""
    left, bottom, width, height = frame
    inner_left, inner_bottom = left + LEFT_ROOM, bottom + FOOT_ROOM
    inner_width, inner_height = width - LEFT_ROOM, height - FOOT_ROOM - HEAD_ROOM
    low, high = _range(comparison, tolerance)
    places = comparison.places
    across = inner_width / float(places[-1])
    up = inner_height / (high - low)
    x = inner_left + places * across
    zero = inner_bottom - low * up

    def level(value: float) -> float:
        return inner_bottom + (min(max(value, low), high) - low) * up

    band = (level(-tolerance.overcut), level(tolerance.leftover))
    marks: list[Mark] = box(inner_left, inner_bottom, inner_width, inner_height, Look(WHITE))
    marks += box(inner_left, band[0], inner_width, band[1] - band[0], Look(INSIDE_TINT))
    deviation = np.clip(comparison.deviation, low, high)
    marks += _lobes(x, zero + np.maximum(deviation, 0.0) * up, zero, LEFTOVER_LOOK)
    marks += _lobes(x, zero + np.minimum(deviation, 0.0) * up, zero, OVERCUT_LOOK)
    right = inner_left + inner_width
    for value in band:
        marks.append(line((inner_left, value), (right, value), pen=Pen(INSIDE, 0.2, (1.5, 1.0))))
    marks.append(line((inner_left, zero), (right, zero), pen=Pen(INK, 0.25)))
    marks += box(inner_left, inner_bottom, inner_width, inner_height, Look(None, (), FRAME_PEN))
    marks += _side_numbers(tolerance, inner_left, (band[0], zero, band[1]), units)
    marks += _foot_numbers(float(places[-1]), inner_left, inner_bottom, across, units)
    marks += _cut_off(
        comparison, (low, high), (inner_left, inner_bottom, across, inner_height), units
    )
    head = "Deviation along the wanted profile, left to right"
    marks.append(words((inner_left, bottom + height - 7.0), head, BODY, bold=True))
    key = f"+ proud, − gouged, within tolerance in green; {UNIT_WORDS[units]}"
    marks.append(words((right, bottom + height - 7.0), key, SMALL, QUIET_INK, "end"))
    return marks


def _range(comparison: Comparison, tolerance: Tolerance) -> tuple[float, float]:
    """Least and largest deviation shown [mm]."""
    largest = max(tolerance.leftover, tolerance.overcut, 0.02)
    top = min(float(comparison.deviation.max()), FARTHEST * largest)
    deep = min(-float(comparison.deviation.min()), FARTHEST * largest)
    high = 1.2 * max(top, tolerance.leftover, 0.25 * largest)
    low = 1.2 * max(deep, tolerance.overcut, 0.25 * largest)
    return (-low, high)


def _lobes(x: Numbers, y: Numbers, zero: float, look: Look) -> list[Mark]:
    """The areas between a curve and the zero line."""
    away = np.abs(y - zero) > 1e-6
    edges = np.flatnonzero(np.diff(np.concatenate(([False], away, [False])).astype(int)))
    marks: list[Mark] = []
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        begin, end = max(first - 1, 0), min(last, len(x) - 1)
        curve = np.column_stack((x[begin : end + 1], y[begin : end + 1]))
        closing = np.array(((x[end], zero), (x[begin], zero)))
        marks += area((np.concatenate((curve, closing)),), Look(look.fill, look.hatches))
        marks.append(Lines((curve,), look.edge or FRAME_PEN))
    return marks


def _side_numbers(
    tolerance: Tolerance, left: float, levels: tuple[float, float, float], units: str
) -> list[Mark]:
    texts = (
        (signed_text(-tolerance.overcut, units), INSIDE),
        ("0", INK),
        (signed_text(tolerance.leftover, units), INSIDE),
    )
    marks: list[Mark] = []
    last = -math.inf
    for level, (text, color) in zip(levels, texts, strict=True):
        if tolerance.overcut == 0.0 and text.startswith("−"):
            continue
        place = max(level, last + 2.7)
        last = place
        marks.append(words((left - 1.0, place), text, SMALL, color, "end", centered=True))
    return marks


def _foot_numbers(
    length: float, left: float, bottom: float, across: float, units: str
) -> list[Mark]:
    step = nice_step(to_units(length, units) / 8.0)
    digits = max(0, -math.floor(math.log10(step) + 1e-9))
    marks: list[Mark] = []
    count = math.floor(to_units(length, units) / step + 1e-9)
    for k in range(count + 1):
        x = left + from_units(k * step, units) * across
        marks.append(line((x, bottom), (x, bottom - 1.0), pen=Pen(QUIET_INK, 0.2)))
        text = f"{k * step:.{digits}f}"
        marks.append(words((x, bottom - 3.9), text, SMALL, QUIET_INK, "middle"))
    return marks


def nice_step(least: float) -> float:
    """The smallest of 1, 2, 5 x a power of ten that is at least ``least``."""
    power = 10.0 ** math.floor(math.log10(least))
    return next(step for step in (power, 2.0 * power, 5.0 * power, 10.0 * power) if step >= least)


def _cut_off(
    comparison: Comparison,
    limits: tuple[float, float],
    inner: tuple[float, float, float, float],
    units: str,
) -> list[Mark]:
    """Tags where the curve leaves the strip."""
    low, high = limits
    left, bottom, across, height = inner
    marks: list[Mark] = []
    for index, color, y, beyond in (
        (int(comparison.deviation.argmax()), LEFTOVER, bottom + height - 2.2, high),
        (int(comparison.deviation.argmin()), OVERCUT, bottom + 2.2, low),
    ):
        value = float(comparison.deviation[index])
        if (value > beyond) if beyond > 0.0 else (value < beyond):
            text = f"{'up' if value > 0 else 'down'} to {fine_text(abs(value), units)}"
            x = left + float(comparison.places[index]) * across
            x = min(max(x, left + 14.0), left + float(comparison.places[-1]) * across - 14.0)
            marks += tag((x, y), text, SMALL, color, WHITE)
    return marks

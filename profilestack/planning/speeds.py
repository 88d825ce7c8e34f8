"""Speed, feed, chip and power: the formulas, and the ranges that are usual."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.planning.species import GROUPS


@dataclass(frozen=True, slots=True)
class ChipRange:
    """Feed per tooth that is usual [mm] for bits up to ``diameter`` [mm] in woods of a group.

    Common practice, from memory: 0.1 to 0.5 mm for bits of 6 to 12 mm, hardwood less than
    softwood less than board.

    Raises:
        InputError: naming every figure that is impossible.
    """

    diameter: float
    group: str
    low: float
    high: float

    def __post_init__(self) -> None:
        found = []
        if self.group not in GROUPS:
            text, known = f"{self.group!r} is unknown", ", ".join(f'"{word}"' for word in GROUPS)
            hint = nearest_word(self.group, GROUPS)
            found.append(Problem("group", text, f"one of {known}", hint))
        for key in ("diameter", "low", "high"):
            value = getattr(self, key)
            if not (math.isfinite(value) and 0.0 < value <= 1000.0):
                found.append(Problem(key, f"{value!r} is impossible", "a length above 0"))
        if not found and self.low > self.high:
            text = f"{self.low:g} is more than the high end, {self.high:g}"
            found.append(Problem("low", text, "at most the high end"))
        if found:
            raise InputError(found)


USUAL_CHIPS = tuple(
    ChipRange(diameter, group, low, high)
    for diameter, ranges in (
        (3.2, ((0.03, 0.06), (0.04, 0.10), (0.05, 0.13))),
        (6.5, ((0.06, 0.15), (0.08, 0.25), (0.10, 0.30))),
        (12.7, ((0.10, 0.30), (0.12, 0.40), (0.15, 0.50))),
        (1000.0, ((0.10, 0.40), (0.12, 0.50), (0.15, 0.50))),
    )
    for group, (low, high) in zip(GROUPS, ranges, strict=True)
)
"""By bit size and wood (common practice, from memory: assumptions to be edited)."""


def rim_speed(diameter: float, rpm: float) -> float:
    """Speed of the rim of a bit of ``diameter`` [mm] at ``rpm``, in m/s: pi D n / 60000."""
    return math.pi * diameter * rpm / 60_000.0


def rim_limit(diameter: float, speed: float) -> float:
    """The speed [rpm] at which the rim of a bit of ``diameter`` [mm] runs at ``speed`` [m/s]."""
    return 60_000.0 * speed / (math.pi * diameter)


def feed_of(rpm: float, flutes: int, tooth: float) -> float:
    """Feed [mm/min] at a feed per tooth [mm]: rpm x flutes x feed per tooth."""
    return rpm * flutes * tooth


def largest_chip(tooth: float, depth: float, diameter: float) -> float:
    """The thickest chip of a side cut [mm] of ``depth`` [mm] at ``tooth`` feed per tooth [mm].

    2 fz sqrt((ae/D)(1 - ae/D)) up to half the diameter, beyond it the feed per tooth itself (H.
    El-Hofy, *Fundamentals of Machining Processes*, sec. 6.3.1, p. 174).
    """
    share = depth / diameter
    return tooth if share >= 0.5 else 2.0 * tooth * math.sqrt(max(0.0, share * (1.0 - share)))


def mean_chip(tooth: float, depth: float, diameter: float) -> float:
    """The mean chip over the contact [mm]: fz (2 ae/D)/phi, phi = acos(1 - 2 ae/D) (same)."""
    share = min(1.0, depth / diameter)
    return tooth * 2.0 * share / math.acos(1.0 - 2.0 * share) if share > 0.0 else 0.0


def feed_mark(radius: float, advance: float) -> float:
    """Depth of the marks along the part [mm]: R - sqrt(R^2 - f^2/4), f the feed per cut [mm]."""
    return radius - math.sqrt(radius**2 - advance**2 / 4.0)


def cutting_power(force: float, area: float, feed: float) -> float:
    """Power at the cut [W]: force [N/mm2] x removed area [mm2] x feed [mm/min].

    1 N/mm2 is 1 J/cm3: mm3 a minute times N/mm2 are thousandths of a joule a minute.
    """
    return force * area * feed / 60_000.0

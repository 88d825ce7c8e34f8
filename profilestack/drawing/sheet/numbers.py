"""Numbers and words of the run sheet, as a machine or a fence takes them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from profilestack.planning.plan import Step
from profilestack.units import FINEST_FRACTION, to_units

TITLE = 13.0
BIG = 17.0
LARGE = 13.0
EACH = 10.5
NAME = 9.5
WORD = 8.0
TINY = 6.8
"""Sizes of type [pt]: what is set at the machine is big, and can be read at 600 mm."""


SPARES = {"mm": (75.0, 100.0), "in": (76.2, 101.6)}
"""Left at each end for leads, clamps and holes [mm], from and to (common practice)."""

HOLES = {"mm": (8.0, 40.0), "in": (7.9375, 38.1)}
"""Dowel holes: diameter, and how far beyond the finished ends [mm] (judgement)."""


def shown_number(mm: float, units: str) -> Decimal:
    """A length in thousandths of its unit, halves away from 0: what the sheet shows of it."""
    exact = Decimal(repr(float(to_units(mm, units))))
    return exact.quantize(Decimal("0.001"), ROUND_HALF_UP)


def heights_above(depths: Sequence[float], height: float, units: str) -> list[str]:
    """The heights above the bed of depths below the top of a box ``height`` high [mm].

    They are taken from the shown numbers, so that depth and height make up the box's height.
    """
    box = shown_number(height, units)
    return [_trimmed(box - shown_number(depth, units)) for depth in depths]


def _trimmed(number: Decimal) -> str:
    text = f"{number:f}".rstrip("0")
    text = f"{text}0" if text.endswith(".") else text
    return "0.0" if text == "-0.0" else text


def machine_number(mm: float, units: str) -> str:
    """A length for a machine's display: thousandths, at least one decimal, no unit."""
    return _trimmed(shown_number(mm, units))


def fence_number(mm: float, units: str) -> str:
    """A length for a rule at a fence: in inches the nearest 64th, and what is left to it."""
    if units == "mm":
        return f"{mm:.2f}".rstrip("0").rstrip(".")
    inches = to_units(mm, "in")
    parts = round(inches * FINEST_FRACTION)
    rest = inches - parts / FINEST_FRACTION
    whole, over = divmod(abs(parts), FINEST_FRACTION)
    sign = "-" if parts < 0 else ""
    common = math.gcd(over, FINEST_FRACTION)
    part = f"{over // common}/{FINEST_FRACTION // common}" if over else ""
    text = sign + "-".join(each for each in (str(whole) if whole or not part else "", part) if each)
    if abs(rest) < 0.0005:
        return text
    return f"{text} {'+' if rest > 0.0 else '-'} {abs(rest):.3f}"


def depths_text(depths: Sequence[float], units: str) -> str:
    """Each depth of a pass: 4.0, 7.9, 10.268."""
    return ", ".join(machine_number(depth, units) for depth in depths)


def feed_text(feed: float, units: str) -> str:
    """A feed with its unit."""
    if units == "mm":
        return f"{feed / 1000.0:g} m/min"
    return f"{to_units(feed, units):.0f} in/min"


def feeds_text(steps: Sequence[Step], units: str) -> str:
    """The feeds of a pass: rough, then the last one where it differs."""
    feeds = list(dict.fromkeys(step.feed for step in steps))
    if len(feeds) == 1:
        return feed_text(feeds[0], units)
    first = feed_text(feeds[0], units)
    number, unit = first.split(" ")
    return f"{number}, last {feed_text(steps[-1].feed, units).split(' ')[0]} {unit}"


def way_text(steps: Sequence[Step], below: bool) -> str:
    """Which way a pass runs, shortly; with the spindle ``below`` which end is fed first."""
    last = steps[-1]
    rough = [step for step in steps if step is not last and step.way != "both"]
    if last.way == "both":
        return f"both sides cut, {_start(last, below)}"
    told = []
    if rough and (rough[-1].way, rough[-1].from_left) != (last.way, last.from_left):
        told.append(f"{rough[-1].way} {_start(rough[-1], below)}")
    return ", last ".join([*told, f"{last.way} {_start(last, below)}"])


def _start(step: Step, below: bool) -> str:
    end = "left end" if step.from_left else "right end"
    return f"{end} first" if below else f"from {end}"

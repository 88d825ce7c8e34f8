"""Numbers and words of the run sheet, as a machine or a fence takes them."""

from __future__ import annotations

import math
from collections.abc import Sequence

from profilestack.planning.plan import Step
from profilestack.units import FINEST_FRACTION, to_units

TITLE = 13.0
BIG = 17.0
LARGE = 13.0
NAME = 9.5
WORD = 8.0
TINY = 6.8
"""Sizes of type [pt]: what is set at the machine is big, and can be read at 600 mm."""


def machine_number(mm: float, units: str) -> str:
    """A length for a machine's display: thousandths, at least one decimal, no unit."""
    text = f"{to_units(mm, units):.3f}".rstrip("0")
    text = f"{text}0" if text.endswith(".") else text
    return "0.0" if text == "-0.0" else text


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
        return f"feed {feed_text(feeds[0], units)}"
    return f"feed {feed_text(feeds[0], units)}, the last {feed_text(steps[-1].feed, units)}"


def way_text(steps: Sequence[Step], below: bool) -> str:
    """Which way a pass runs, shortly."""
    last = steps[-1]
    rough = [step for step in steps if step is not last and step.way != "both"]
    told = []
    if rough and (rough[-1].way, rough[-1].from_left) != (last.way, last.from_left):
        told.append(_way(rough[-1], below))
    if last.way == "both":
        told.append(f"cuts on both sides, {_start(last, below)}" if not told else "")
    else:
        told.append(("last: " if told else "") + _way(last, below))
    return "; ".join(each for each in told if each)


def _way(step: Step, below: bool) -> str:
    return f"{step.way}, {_start(step, below)}"


def _start(step: Step, below: bool) -> str:
    end = "left" if step.from_left else "right"
    return f"{end} end {'first' if below else 'to start'}"

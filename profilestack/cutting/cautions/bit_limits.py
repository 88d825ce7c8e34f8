"""What a bit is good for: grip, speed, curve."""

from __future__ import annotations

from collections.abc import Iterator

from profilestack.bits.edge import largest_radius
from profilestack.cutting.caution import Caution
from profilestack.cutting.cut import Cut, PassCut
from profilestack.stack import CurvedRun
from profilestack.units import from_units

USUAL_TOP_SPEEDS = tuple(
    (from_units(inches, "in"), speed)
    for inches, speed in ((1.0, 24_000), (2.0, 18_000), (2.5, 16_000), (3.5, 12_000))
)
"""Largest diameter [mm] and usual top speed [rpm]: common practice in general safety guides.
A bit's own marked maximum always wins."""

FULL_SPEED = 24_000
"""Many routers run as fast as this at full speed [rpm] (common practice, from memory)."""

USUAL_GRIPS = ((7.0, 19.0), (10.0, 20.0), (1000.0, 25.0))
"""Shank diameter up to [mm] and shortest usual grip [mm] (common practice, from memory)."""


def usual_top_speed(diameter: float) -> int:
    """Usual top speed [rpm] of a bit of ``diameter`` [mm]; beyond the table its rim speed holds."""
    for largest, speed in USUAL_TOP_SPEEDS:
        if diameter <= largest + 0.01:
            return speed
    largest, speed = USUAL_TOP_SPEEDS[-1]
    return int(speed * largest / diameter // 100 * 100)


def _first_passes(cut: Cut) -> Iterator[PassCut]:
    """The first pass of each bit: what is about the bit alone is said once."""
    seen: set[str] = set()
    for single in cut.passes:
        if single.bit.id not in seen:
            seen.add(single.bit.id)
            yield single


def grip(cut: Cut) -> Iterator[Caution]:
    """Too little of the shank in the collet, or so much that the edge is in it."""
    for single in _first_passes(cut):
        bit = single.bit
        usual = next(grip for shank, grip in USUAL_GRIPS if bit.shank <= shank)
        if bit.reach < bit.cutting_length:
            lengths = (bit.grip, bit.length, bit.cutting_length)
            yield Caution("short-grip", "stop", single.number, _NO_ROOM, lengths)
        elif bit.grip < usual - 0.05:
            lengths = (bit.grip, bit.shank, usual)
            yield Caution("short-grip", "warn", single.number, _SHORT, lengths)


_NO_ROOM = (
    "A grip of {0} on a bit {1} long leaves no room for its {2} edge below the collet: the "
    "bit's measures do not go together; measure it again."
)
_SHORT = (
    "Only {0} of the {1} shank is in the collet; at least {2} is usual: push the bit in further, "
    "or take a longer one; the collet's maker says how much it needs."
)


def speed(cut: Cut) -> Iterator[Caution]:
    """Marks and usual top speeds; the stack says no speed, so this tells the limit to keep."""
    for single in _first_passes(cut):
        bit = single.bit
        diameter = 2.0 * largest_radius(bit)
        usual = usual_top_speed(diameter)
        if bit.max_rpm is not None and bit.max_rpm > usual:
            words = (
                f"The mark allows {bit.max_rpm:,.0f} rpm, but {usual:,} is the usual top for "
                "{0} across: set the slower of the two, and slower still if it shakes."
            )
            yield Caution("too-fast", "warn", single.number, words, (diameter,))
        elif bit.max_rpm is not None and bit.max_rpm < FULL_SPEED:
            yield Caution("too-fast", "note", single.number, _TOLD.format(bit.max_rpm))
        elif bit.max_rpm is None and usual < FULL_SPEED:
            yield Caution("too-fast", "note", single.number, _USUAL.format(usual))


_TOLD = (
    "At most {:,.0f} rpm, as the bit's entry says; the mark on the bit itself comes first. A "
    "router's full speed is too fast for it."
)
_USUAL = (
    "At most {:,} rpm is usual for a bit this wide; look for the mark on the bit itself. A "
    "router's full speed is too fast for it."
)


def curve(cut: Cut) -> Iterator[Caution]:
    """A curve so tight that the bit would cut across its middle."""
    run = cut.stack.run
    if not isinstance(run, CurvedRun):
        return
    for single in cut.passes:
        radius = largest_radius(single.bit)
        for stroke in cut.strokes[single.first : single.last]:
            across = stroke.axis if stroke.lie.cos > 0.0 else stroke.lie.width - stroke.axis
            if run.radius + across <= radius:
                lengths = (run.radius + across, radius)
                yield Caution("curve-too-tight", "stop", single.number, _CURVE, lengths)
                break


_CURVE = (
    "The bit's axis runs on a radius of {0}, less than the bit's own {1}: it would cut beyond "
    "the middle of the curve; take a smaller bit or a wider curve."
)

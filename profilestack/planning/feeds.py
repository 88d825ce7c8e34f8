"""Which speed and which feed: within what the bit, the spindle and the shop bear."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.cutting.cautions.bit_limits import usual_top_speed
from profilestack.errors import InputError, Problem
from profilestack.planning.shop import Shop
from profilestack.planning.species import Species
from profilestack.planning.speeds import cutting_power, feed_of, rim_limit

ROUND = 500.0
"""Speeds are whole numbers of this [rpm]: a dial shows no more."""

FEED_ROUND = 50.0
"""Feeds are whole numbers of this [mm/min]."""

SLOWED = 0.6
"""A bit is slowed down to this share of its top speed at most, so that it still cuts clean
(judgement)."""

LONG = 5.0
"""Beyond so many shank diameters of stick-out: half the feed (common practice, from memory)."""

LONG_SPEED = 18_000.0
"""And at most this speed [rpm] (the same)."""

LEAST_SHARE = 0.5
"""A chip thinner than this share of the usual one burns (judgement)."""


@dataclass(frozen=True, slots=True)
class Speed:
    """Spindle speed [rpm], feed [mm/min], feed per tooth [mm], and why."""

    rpm: float
    feed: float
    tooth: float
    why: str


def stick_out(bit: Bit) -> float:
    """How far the bit hangs out of the collet nut, in shank diameters."""
    return bit.reach / bit.shank


def top_speed(bit: Bit, shop: Shop) -> tuple[float, str]:
    """The fastest that a bit may turn on the shop's machine [rpm], and what says so.

    Raises:
        InputError: the machine cannot turn as slowly as the bit must; with the nearest bit.
    """
    diameter, machine = 2.0 * largest_radius(bit), shop.machine
    limits = [
        (rim_limit(diameter, shop.rim_speed), f"a rim of {shop.rim_speed:g} m/s"),
        (float(usual_top_speed(diameter)), "the usual top for its diameter"),
        (machine.fastest, "the machine's fastest"),
    ]
    if bit.max_rpm is not None:
        limits.insert(0, (bit.max_rpm, "the top speed in the bit's entry"))
    if stick_out(bit) > LONG:
        limits.append((LONG_SPEED, "the limit for a long stick-out"))
    most, why = min(limits, key=lambda limit: limit[0])
    if most < machine.slowest:
        text = (
            f"{bit.id} may turn at {most:,.0f} rpm at most ({why}), but the machine turns at "
            f"{machine.slowest:,.0f} at least"
        )
        widest = min(_widest(shop), diameter)
        expected = f"a bit up to {widest:.1f} mm across there, or a machine that turns slower"
        raise InputError(Problem("machine.slowest", text, expected))
    return most, why


def _widest(shop: Shop) -> float:
    """The widest bit that the machine's slowest speed suits [mm]."""
    diameter = 150.0
    while diameter > 1.0 and (
        usual_top_speed(diameter) < shop.machine.slowest
        or rim_limit(diameter, shop.rim_speed) < shop.machine.slowest
    ):
        diameter -= 0.5
    return diameter


def speed_for(
    bit: Bit, shop: Shop, species: Species, finishing: bool, section: float, thinning: float
) -> Speed:
    """Speed and feed of one step.

    ``section`` is what one travel takes [mm2], ``thinning`` the thickest chip as a share of the
    feed per tooth. The feed is the shop's; the speed comes down until the chip is thick enough,
    the feed where the chip would be too thick or the spindle too weak.
    """
    machine = shop.machine
    top, told = top_speed(bit, shop)
    usual = shop.chip_range(2.0 * largest_radius(bit), species.group)
    share = 0.5 if stick_out(bit) > LONG else 1.0
    # one speed for rough and last cuts: nobody turns the dial between two depths
    slow_feed = share * min(shop.finish_feed, machine.largest_feed)
    slow = max(machine.slowest, SLOWED * top)
    rpm = min(top, max(slow, slow_feed / (bit.flutes * usual.low)))
    rpm = min(top, max(machine.slowest, rpm // ROUND * ROUND))
    said = told if rpm > top - ROUND else f"below {told} ({top:,.0f}), so that chips do not burn"
    feed = share * min(shop.finish_feed if finishing else shop.rough_feed, machine.largest_feed)
    why = ["the shop's finishing feed" if finishing else "the shop's rough feed"]
    if share < 1.0:
        why = [f"half the shop's feed, as it hangs out {stick_out(bit):.1f} shank diameters"]
    most = feed_of(rpm, bit.flutes, usual.high) / max(thinning, 0.25)
    if feed > most:
        feed = _rounded(most)
        why.append("less, so that chips are no thicker than usual")
    bears = _bearable(shop, species, rpm, section)
    if feed > bears:
        feed = _rounded(bears)
        why.append("less, for the spindle's power")
    return Speed(rpm, feed, feed / (rpm * bit.flutes), f"{said}; {', '.join(why)}")


def _rounded(feed: float) -> float:
    return feed // FEED_ROUND * FEED_ROUND if feed >= FEED_ROUND else feed


def _bearable(shop: Shop, species: Species, rpm: float, section: float) -> float:
    """The largest feed [mm/min] that the spindle bears for a section [mm2]."""
    each = cutting_power(shop.force_in(species), section, 1.0)
    return shop.load * shop.machine.power_at(rpm) / each if each > 0.0 else 1e9


def least_feed(bit: Bit, shop: Shop, species: Species, rpm: float) -> float:
    """The feed [mm/min] below which the chip burns."""
    usual = shop.chip_range(2.0 * largest_radius(bit), species.group)
    return feed_of(rpm, bit.flutes, usual.low * LEAST_SHARE)


def largest_section(bit: Bit, shop: Shop, species: Species) -> float:
    """The largest section that one travel of a bit may take [mm2]: the machine's, or what the
    spindle's power bears at a feed that does not burn.
    """
    speed = speed_for(bit, shop, species, False, 0.0, 1.0)
    feed = min(speed.feed, least_feed(bit, shop, species, speed.rpm))
    each = cutting_power(shop.force_in(species), 1.0, feed)
    return min(shop.machine.chip_section, shop.load * shop.machine.power_at(speed.rpm) / each)

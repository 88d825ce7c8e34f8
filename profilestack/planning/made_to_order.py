"""A cutter made to order for a target: whether the machine turns it, its steps, price and wait.

A cutter's axis stands either as the spindle over the blank on its back, or along the blank's
width: the blank on edge, as a moulder's head. It makes what lies open to its side. Prices and
waiting times are common practice, from memory: assumptions to be edited.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.shapes.straight import Straight
from profilestack.cutting.cautions.bit_limits import usual_top_speed
from profilestack.errors import InputError
from profilestack.planning.facing import Facing
from profilestack.planning.feeds import Speed, largest_section, speed_for
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.shop import Shop
from profilestack.planning.species import Species
from profilestack.planning.speeds import cutting_power, rim_limit
from profilestack.stack import Stack
from profilestack.units import to_units

CORE = 8.0
"""The least radius of a made-to-order cutter's edge [mm]: its body has to hold (judgement)."""

LONGEST_EDGE = 100.0
"""No longer edge is made for a router's collet [mm] (common practice)."""

LAST_CUT = 0.6
"""The last cut over the whole profile [mm] (common practice: 0.4 to 0.8)."""

ROUTER_PRICE = 300.0
ROUTER_WAIT = 21.0
"""Price of a made-to-order router bit (common practice: 180 to 450) and days to wait (14 to 28)."""

KNIFE_PRICE = 50.0
KNIFE_WAIT = 7.0
KNIFE_SETTING = 75.0
"""Moulder knives: price of a pair for each inch of width (40 to 60), days to wait (3 to 10), and
minutes to set them (60 to 90)."""


@dataclass(frozen=True, slots=True)
class Cutter:
    """A made-to-order cutter: ``diameter`` over its edge of ``edge`` [mm], and how it is used.

    ``on_edge`` says that the blank stands on edge, the cutter's axis along its width.
    ``largest`` is the largest diameter that the spindle turns [mm]. ``steps`` times over the
    whole profile take ``minutes`` a piece at ``speed``; ``power`` [W] of ``power_there`` is used.
    ``setting`` [min] falls due once. ``trouble`` says why it cannot be, "" where it can.
    """

    diameter: float
    edge: float
    on_edge: bool
    largest: float
    price: float
    wait: float
    setting: float
    steps: int
    speed: Speed | None
    power: float
    power_there: float
    minutes: float
    trouble: str


def cutter_for(facing: Facing, stack: Stack, shop: Shop, species: Species, area: float) -> Cutter:
    """The cutter that makes all that is seen of a target from above, of ``area`` [mm2] of stock."""
    largest = largest_diameter(shop)
    on_edge = 2.0 * (CORE + facing.high)
    upright = 2.0 * (CORE + facing.wide)
    turns_upright = upright <= largest and _is_monotone(facing) and facing.high <= LONGEST_EDGE
    stands = not turns_upright
    diameter = on_edge if stands else upright
    edge = facing.wide if stands else facing.high
    knives = shop.machine.kind == "spindle-moulder"
    price = KNIFE_PRICE * to_units(edge, "in") if knives else ROUTER_PRICE
    wait, setting = (KNIFE_WAIT, KNIFE_SETTING) if knives else (ROUTER_WAIT, 0.0)
    bare = Cutter(diameter, edge, stands, largest, price, wait, setting, 0, None, 0.0, 0.0, 0.0, "")
    trouble = ""
    if diameter > largest + 1e-6:
        trouble = "it would be wider than the spindle turns"
    elif edge > LONGEST_EDGE and not knives:
        trouble = f"no edge of that length is made for a collet (above {LONGEST_EDGE:g} mm)"
    return _with_steps(bare, facing, stack, shop, species, area, trouble)


def _with_steps(
    bare: Cutter, facing: Facing, stack: Stack, shop: Shop, species: Species, area: float,
    trouble: str,
) -> Cutter:  # fmt: skip
    if trouble:
        return replace(bare, trouble=trouble)
    shank = min(shop.machine.collets, key=lambda bore: -bore)
    made = Bit(
        "made-to-order", Straight(bare.diameter), bare.edge, shank, bare.edge + 40.0, grip=25.0
    )
    try:
        section = largest_section(made, shop, species)
        last = min(area, facing.developed * LAST_CUT)
        rough = math.ceil(max(0.0, area - last) / section - 1e-9)
        taken = max(last, (area - last) / max(1, rough))
        speeds = [speed_for(made, shop, species, done, taken, 1.0) for done in (False, True)]
    except InputError as error:
        return replace(bare, trouble=error.problems[0].text)
    length = length_of_travel(stack)

    def travel(speed: Speed) -> float:
        return shop.pass_minutes(length, speed.feed) + speed.feed / shop.machine.acceleration / 3600

    minutes = rough * travel(speeds[0]) + travel(speeds[1])
    power = cutting_power(shop.force_in(species), taken, speeds[0].feed)
    there = shop.machine.power_at(speeds[0].rpm)
    return replace(
        bare, steps=rough + 1, speed=speeds[1], power=power, power_there=there, minutes=minutes
    )


def largest_diameter(shop: Shop) -> float:
    """The largest diameter that the spindle may turn at its slowest [mm]."""
    low, high = 1.0, 400.0
    slowest = shop.machine.slowest
    for _ in range(40):
        middle = (low + high) / 2.0
        turns = min(usual_top_speed(middle), rim_limit(middle, shop.rim_speed)) >= slowest
        low, high = (middle, high) if turns else (low, middle)
    return math.floor(low * 10.0 + 1e-6) / 10.0


def _is_monotone(facing: Facing) -> bool:
    """Whether a target leads one way only, up or down: then a cutter over its back makes it."""
    heights = facing.points[np.argsort(facing.points[:, 0], kind="stable"), 1]
    steps = np.diff(heights)
    return bool((steps <= 0.02).all() or (steps >= -0.02).all())

"""The machine that cuts: its spindle, its travels, what holds the bit.

All figures are common practice, from memory, unless a shop says otherwise: assumptions to be
edited. The maker's manual and marks come first.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, fields, replace

from profilestack.bits.bit import NUT_DIAMETER, NUT_HEIGHT
from profilestack.errors import InputError, Problem, nearest_word

LARGEST = 1e6
"""No figure of a machine may be larger, in its own unit."""


@dataclass(frozen=True, slots=True)
class Machine:
    """A machine; lengths [mm], power [W], speeds [rpm], feeds [mm/min].

    ``power`` is given at ``rated_speed``; below it the torque is constant, so that the power
    falls with the speed. ``acceleration`` [mm/s2]. ``chip_section`` is the largest section that
    one travel takes [mm2]. ``width``, ``length`` and ``travel`` are the travels across, along and
    up; ``clearance`` is the height under the gantry. ``collets`` are the bores owned. The hood's
    foot is ``hood_diameter`` across and hangs ``hood_height`` above the bit's tip; with a
    diameter of 0 there is none.

    Raises:
        InputError: naming every figure that is impossible.
    """

    kind: str = "cnc"
    power: float = 2200.0
    rated_speed: float = 24_000.0
    slowest: float = 8_000.0
    fastest: float = 24_000.0
    largest_feed: float = 6_000.0
    acceleration: float = 500.0
    rapid: float = 8_000.0
    chip_section: float = 130.0
    safe_height: float = 15.0
    width: float = 1_250.0
    length: float = 2_500.0
    travel: float = 150.0
    clearance: float = 120.0
    collets: tuple[float, ...] = (6.0, 6.35, 8.0, 12.0, 12.7)
    nut_diameter: float = NUT_DIAMETER
    nut_height: float = NUT_HEIGHT
    hood_diameter: float = 130.0
    hood_height: float = 10.0

    def __post_init__(self) -> None:
        if problems := tuple(_problems(self)):
            raise InputError(problems)

    @property
    def spindle_below(self) -> bool:
        """Whether the spindle stands below and the wood is fed over it by hand or power feed."""
        return self.kind in BELOW

    @property
    def called(self) -> str:
        """What people call it."""
        return KINDS[self.kind]

    def power_at(self, rpm: float) -> float:
        """The power that the spindle gives at a speed [W]: constant torque below rated speed."""
        return self.power * min(1.0, rpm / self.rated_speed)


KINDS = {
    "cnc": "CNC router, bits changed by hand",
    "cnc-with-changer": "CNC router with a bit changer",
    "router-table": "router table",
    "spindle-moulder": "spindle moulder",
}
"""Kinds of machines, and what people call them."""

BELOW = ("router-table", "spindle-moulder")
"""Kinds whose spindle stands below the wood."""


def _problems(machine: Machine) -> list[Problem]:
    found = []
    if machine.kind not in KINDS:
        known = ", ".join(f'"{kind}"' for kind in KINDS)
        hint = nearest_word(machine.kind, KINDS)
        found.append(Problem("kind", f"{machine.kind!r} is unknown", f"one of {known}", hint))
    for key in (field.name for field in fields(machine)):
        value = getattr(machine, key)
        if key in ("kind", "collets"):
            continue
        low_is_good = key == "hood_diameter"
        if not (math.isfinite(value) and value <= LARGEST and (value > 0.0 or low_is_good)):
            found.append(Problem(key, f"{value!r} is impossible", "a number above 0"))
        elif value < 0.0:
            found.append(Problem(key, f"{value!r} is impossible", "0 (none) or more"))
    if not found and machine.slowest > machine.fastest:
        text = f"{machine.slowest:g} is above the fastest, {machine.fastest:g}: no speed is left"
        found.append(Problem("slowest", text, f"at most {machine.fastest:g} rpm"))
    if not machine.collets:
        found.append(Problem("collets", "there is none: no bit can be held", "at least one bore"))
    for number, bore in enumerate(machine.collets, 1):
        if not (math.isfinite(bore) and 0.0 < bore <= 100.0):
            where = f"collets[{number}]"
            found.append(Problem(where, f"{bore!r} is impossible", "a bore above 0"))
    return found


_USUAL = Machine()

USUAL_MACHINES = {
    "cnc": _USUAL,
    "cnc-with-changer": replace(
        _USUAL, kind="cnc-with-changer", power=5_000.0, rated_speed=18_000.0, slowest=6_000.0,
        largest_feed=15_000.0, acceleration=2_000.0, rapid=25_000.0, chip_section=275.0,
        safe_height=20.0, width=1_500.0, length=3_000.0, travel=200.0, clearance=180.0,
    ),
    "router-table": replace(
        _USUAL, kind="router-table", power=1_800.0, rated_speed=22_000.0, fastest=22_000.0,
        largest_feed=4_000.0, chip_section=50.0, hood_diameter=0.0, travel=60.0,
    ),
    "spindle-moulder": replace(
        _USUAL, kind="spindle-moulder", power=4_000.0, rated_speed=9_000.0, slowest=3_000.0,
        fastest=18_000.0, largest_feed=8_000.0, chip_section=250.0, hood_diameter=0.0,
        travel=100.0,
    ),
}  # fmt: skip
"""Usual figures of each kind (common practice, from memory)."""

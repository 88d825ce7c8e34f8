"""Figures of the shop: speeds."""

from __future__ import annotations

import math

from profilestack.cutting.cautions.bit_limits import usual_top_speed
from profilestack.units import from_units
from tests.validation.check import Check

SPEEDS = "general safety guides for routers: usual top speed by diameter"
RIM = "rim speed v = pi D n / 60000"


def inches(value: float) -> float:
    return from_units(value, "in")


def rim_speed(diameter: float) -> float:
    """Of a bit at its usual top speed [m/s]."""
    return math.pi * diameter * usual_top_speed(diameter) / 60_000.0


CHECKS = (
    *(
        Check("Usual top speeds", f"bit of {size:g} in", "rpm", SPEEDS, "secondary", speed,
              lambda size=size: float(usual_top_speed(inches(size))), 0.0, "a table")
        for size, speed in ((1.0, 24_000), (2.0, 18_000), (2.5, 16_000), (3.5, 12_000))
    ),
    Check("Usual top speeds", "rim speed of 3.5 in at its usual top speed", "m/s", RIM, "computed",
          math.pi * 88.9 * 12_000 / 60_000, lambda: rim_speed(inches(3.5)), 1e-9,
          "only rounding", "55.8575174"),
    Check("Usual top speeds", "rim speed of 5 in at its usual top speed", "m/s",
          RIM + "; beyond the table the last rim speed holds", "computed",
          math.pi * 88.9 * 12_000 / 60_000, lambda: rim_speed(inches(5.0)),
          math.pi * 127.0 * 100 / 60_000, "the speed is cut to hundreds of rpm"),
)  # fmt: skip

"""Scales of charts: ends and ticks at plain numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Scale:
    """From ``low`` to ``high`` in steps."""

    low: float
    high: float
    step: float

    @property
    def ticks(self) -> tuple[float, ...]:
        """The plain numbers on it."""
        count = round((self.high - self.low) / self.step)
        return tuple(self.low + k * self.step for k in range(count + 1))

    def share(self, value: float) -> float:
        """How far along it a value lies: 0 at its low end, 1 at its high one."""
        return (value - self.low) / (self.high - self.low)

    def say(self, value: float) -> str:
        """A number with the decimals of a step."""
        return f"{value:.{max(0, -math.floor(math.log10(self.step) + 1e-9))}f}"


def scale_over(low: float, high: float, parts: int = 4) -> Scale:
    """The scale of about so many steps of 1, 2 or 5 times a power of ten that holds both."""
    wide = max(high - low, 1e-9)
    power = 10.0 ** math.floor(math.log10(wide / parts))
    step = next(k * power for k in (1.0, 2.0, 5.0, 10.0) if k * power * parts >= wide * (1 - 1e-9))
    first, last = math.floor(low / step + 1e-9), math.ceil(high / step - 1e-9)
    return Scale(first * step, max(last, first + 1) * step, step)

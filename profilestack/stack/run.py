"""How a section becomes a part: straight, curved or turned."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from profilestack.errors import InputError, Problem


@dataclass(frozen=True, slots=True)
class StraightRun:
    """A straight part of ``length`` [mm]."""

    kind: ClassVar[str] = "straight"
    length: float
    pieces: int = 1

    def __post_init__(self) -> None:
        _check(self, length=math.inf)

    def volume(self, area: float, moments: tuple[float, float]) -> float:
        """Volume [mm3] of a region of ``area`` [mm2]."""
        del moments
        return area * self.length


@dataclass(frozen=True, slots=True)
class CurvedRun:
    """A part bent in plan: ``radius`` to the blank's left side [mm], over ``angle`` [deg]."""

    kind: ClassVar[str] = "curved"
    radius: float
    angle: float
    pieces: int = 1

    def __post_init__(self) -> None:
        _check(self, radius=math.inf, angle=360.0)

    def volume(self, area: float, moments: tuple[float, float]) -> float:
        """Volume [mm3]: area times the path of its centroid (Pappus; Weisstein, CRC Concise
        Encyclopedia of Mathematics, "Pappus's Centroid Theorem").

        ``moments`` are the integrals of x and z over the region [mm3].
        """
        return math.radians(self.angle) * (area * self.radius + moments[0])


@dataclass(frozen=True, slots=True)
class TurnedRun:
    """A part turned a full circle about the blank's bottom side: the blank is half the section."""

    kind: ClassVar[str] = "turned"
    pieces: int = 1

    def __post_init__(self) -> None:
        _check(self)

    def volume(self, area: float, moments: tuple[float, float]) -> float:
        """Volume [mm3] by Pappus: a full turn of the centroid about z = 0."""
        del area
        return math.tau * moments[1]


Run = StraightRun | CurvedRun | TurnedRun


def _check(run: Run, **largest: float) -> None:
    found = []
    for key, most in largest.items():
        value = getattr(run, key)
        if not (math.isfinite(value) and 0.0 < value <= most):
            expected = "a number above 0" if most == math.inf else f"above 0, at most {most:g}"
            found.append(Problem(key, f"{value!r} is impossible", expected))
    if run.pieces < 1:
        found.append(Problem("pieces", f"{run.pieces!r} is impossible", "1 or more"))
    if found:
        raise InputError(found)

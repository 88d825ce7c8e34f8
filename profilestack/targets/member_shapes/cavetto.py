"""Cavetto: the concave quarter, the trade's cove."""

from __future__ import annotations

from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes.base import Measures, MemberShape
from profilestack.targets.member_shapes.quadrant import (
    VARIANTS,
    curve,
    curve_deviation,
    reach_problems,
)


class Cavetto(MemberShape):
    """A concave quarter circle (The Building Trades Pocketbook, "Roman Moldings", fig. 5(b),
    p. 375; read); with unequal height and projection as Nicholson strikes it.
    """

    word: ClassVar[str] = "cavetto"
    about: ClassVar[str] = "A concave quarter circle, level at its larger end (a cove)."
    source: ClassVar[str] = (
        "The Building Trades Pocketbook, fig. 5(b), p. 375 (read); "
        "P. Nicholson, Mechanic's Companion, fig. 7 (read)"
    )
    variants: ClassVar[tuple[str, ...]] = VARIANTS
    samples: ClassVar[tuple[Measures, ...]] = (
        Measures(height=18.0, projection=18.0, variant="quarter"),
        Measures(height=20.0, projection=15.0, variant="quarter"),
        Measures(height=18.0, projection=18.0, variant="flat"),
        Measures(height=18.0, projection=18.0, variant="grecian"),
    )

    def problems(self, given: Measures) -> list[Problem]:
        """Refuses a curve without a reach."""
        return reach_problems(given)

    def trace(self, given: Measures) -> Path:
        """One concave arc; as a Grecian curve several."""
        return curve(given, "ccw")

    def deviation(self, given: Measures) -> float:
        """How far the arcs leave the Grecian curve [mm]; 0 for the other variants."""
        return curve_deviation(given, "ccw")

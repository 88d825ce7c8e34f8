"""Cyma reversa: round above, hollow below."""

from __future__ import annotations

from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path, Turn
from profilestack.targets.member_shapes.base import Measures, MemberShape
from profilestack.targets.member_shapes.cyma import (
    VARIANTS,
    cyma_problems,
    deviation_of,
    double_curve,
)

FIRST: Turn = "cw"


class CymaReversa(MemberShape):
    """Convex above, concave below; the ends upright (The Building Trades Pocketbook, "Roman
    Moldings", fig. 5(e), p. 375; read). The variants: see :func:`double_curve`.
    """

    word: ClassVar[str] = "cyma-reversa"
    about: ClassVar[str] = "Convex above, concave below; the ends upright"
    source: ClassVar[str] = (
        "The Building Trades Pocketbook, fig. 5(e), p. 375 (read); "
        "P. Nicholson, Mechanic's Companion, figs 10-11 (read); "
        "R. G. Hatfield, The American House Carpenter, figs 220-221 (read)"
    )
    variants: ClassVar[tuple[str, ...]] = VARIANTS
    samples: ClassVar[tuple[Measures, ...]] = (
        Measures(height=18.0, projection=18.0, variant="quarter"),
        Measures(height=20.0, projection=15.0, variant="flat"),
        Measures(height=18.0, projection=12.0, variant="equal-arc"),
        Measures(height=18.0, projection=18.0, variant="grecian"),
    )

    def problems(self, given: Measures) -> list[Problem]:
        """Refuses two quarters in an unequal box, and a curve without a reach."""
        return cyma_problems(given)

    def trace(self, given: Measures) -> Path:
        """Two curves, tangent in the middle."""
        return double_curve(given, FIRST)

    def deviation(self, given: Measures) -> float:
        """How far the arcs leave the Grecian curve [mm]; 0 for the other variants."""
        return deviation_of(given, FIRST)

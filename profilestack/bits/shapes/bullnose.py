"""Bullnose (half-round): a half circle hollow toward the wood, narrow at its waist."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class Bullnose(BitShape):
    """r(h) = tip / 2 + R - sqrt(R^2 - (h - R)^2) from 0 to 2R, where R = radius [mm].

    ``tip`` is here the diameter of the waist. Without a waist the bit would be in two pieces, so
    it must be above 0.
    """

    word: ClassVar[str] = "bullnose"
    radius: float
    tip: float = 0.0

    def __post_init__(self) -> None:
        refuse(self._not_positive("radius", "tip"))

    def edge(self) -> Path:
        """The flat end, then a half circle in to the waist and out again."""
        full, radius = self.tip / 2.0 + self.radius, self.radius
        flat = Path((0.0, 0.0)).line((full, 0.0))
        return flat.arc((full, 2.0 * radius), center=(full, radius), turn="cw")

    @property
    def size(self) -> float:
        """The tip and twice the radius [mm]."""
        return self.tip + 2.0 * self.radius

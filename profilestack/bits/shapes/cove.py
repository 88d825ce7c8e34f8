"""Cove: a rounded nose beside a flat or a bearing; it leaves a hollow quarter round."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class Cove(BitShape):
    """r(h) = tip / 2 + sqrt(R^2 - (R - h)^2) up to h = R, where R = radius [mm]."""

    word: ClassVar[str] = "cove"
    radius: float
    tip: float = 0.0

    def __post_init__(self) -> None:
        refuse(self._not_positive("radius"), self._wrong_tip())

    def edge(self) -> Path:
        """The flat, then a quarter circle bulging outward."""
        flat, radius = self.tip / 2.0, self.radius
        return self._tip_path().arc((flat + radius, radius), center=(flat, radius), turn="ccw")

    @property
    def size(self) -> float:
        """The tip and twice the radius [mm]."""
        return self.tip + 2.0 * self.radius

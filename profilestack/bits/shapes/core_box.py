"""Core box: a half ball on a straight neck."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class CoreBox(BitShape):
    """r(h) = sqrt(R^2 - (R - h)^2) up to h = R, where R = diameter / 2 [mm]."""

    word: ClassVar[str] = "core-box"
    diameter: float

    def __post_init__(self) -> None:
        refuse(self._not_positive("diameter"))

    def edge(self) -> Path:
        """A quarter circle from the lowest point outward and up."""
        radius = self.diameter / 2.0
        return Path((0.0, 0.0)).arc((radius, radius), center=(0.0, radius), turn="ccw")

    @property
    def size(self) -> float:
        """The diameter [mm]."""
        return self.diameter

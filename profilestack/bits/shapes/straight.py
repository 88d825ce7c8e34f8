"""Straight bit: a flat end and upright sides."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class Straight(BitShape):
    """r(h) = diameter / 2 [mm]."""

    word: ClassVar[str] = "straight"
    diameter: float

    def __post_init__(self) -> None:
        refuse(self._not_positive("diameter"))

    def edge(self) -> Path:
        """The flat end, from the axis outward."""
        return Path((0.0, 0.0)).line((self.diameter / 2.0, 0.0))

    @property
    def size(self) -> float:
        """The diameter [mm]."""
        return self.diameter

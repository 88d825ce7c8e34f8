"""Dovetail: widest at the flat end, narrower going up."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.errors import Problem
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class Dovetail(BitShape):
    """r(h) = diameter / 2 - h tan(angle) [mm]; ``angle`` of the side from the axis [deg]."""

    word: ClassVar[str] = "dovetail"
    angle_keys: ClassVar[frozenset[str]] = frozenset({"angle"})
    diameter: float
    angle: float

    def __post_init__(self) -> None:
        refuse(self._not_positive("diameter"), self._wrong_side())

    @property
    def closing_height(self) -> float:
        """Where the two sides would meet on the axis [mm]."""
        return self.diameter / 2.0 / math.tan(math.radians(self.angle))

    def edge(self) -> Path:
        """The flat end, then the side, up to where it would meet the axis."""
        return Path((0.0, 0.0)).line((self.diameter / 2.0, 0.0)).line((0.0, self.closing_height))

    @property
    def size(self) -> float:
        """The diameter at the tip [mm]."""
        return self.diameter

    def problems_at(self, cutting_length: float) -> list[Problem]:
        """A dovetail must not close below the end of its edge."""
        if cutting_length < self.closing_height - 1e-6:
            return []
        text = (
            f"{self.angle:g} degrees closes the bit {self.closing_height:.3f} mm above the tip, "
            f"below its cutting length of {cutting_length:g} mm"
        )
        return [Problem("angle", text, "a side that stays clear of the axis")]

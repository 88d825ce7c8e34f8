"""V-groove: two slanting edges that meet in a point or a small flat."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.errors import Problem
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class VGroove(BitShape):
    """r(h) = tip / 2 + h tan(angle / 2) up to r = diameter / 2 [mm]; ``angle`` included [deg]."""

    word: ClassVar[str] = "v-groove"
    angle_keys: ClassVar[frozenset[str]] = frozenset({"angle"})
    diameter: float
    angle: float
    tip: float = 0.0

    def __post_init__(self) -> None:
        refuse(self._not_positive("diameter"), self._wrong_tip(), self._wrong_angle())
        if self.tip >= self.diameter:
            text = f"{self.tip:g} mm is as wide as the bit or wider"
            refuse([Problem("tip", text, f"less than diameter, {self.diameter:g} mm")])

    def edge(self) -> Path:
        """The flat, then the slant out to the full diameter."""
        flat, full = self.tip / 2.0, self.diameter / 2.0
        height = (full - flat) / math.tan(math.radians(self.angle) / 2.0)
        return self._tip_path().line((full, height))

    def _wrong_angle(self) -> list[Problem]:
        if 1.0 <= self.angle <= 179.0:
            return []
        return [Problem("angle", f"{self.angle!r} is impossible", "1 to 179 degrees, included")]

    @property
    def size(self) -> float:
        """The diameter [mm]."""
        return self.diameter

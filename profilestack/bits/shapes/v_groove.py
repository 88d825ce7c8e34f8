"""V-groove: two slanting edges that meet in a point or a small flat."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape
from profilestack.errors import InputError, Problem
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
        self._require_positive("diameter")
        self._require_tip()
        self._require_angle("angle", 1.0, 179.0)
        if self.tip >= self.diameter:
            text = f"{self.tip:g} mm is as wide as the bit or wider"
            raise InputError(Problem("tip", text, f"less than diameter, {self.diameter:g} mm"))

    def edge(self) -> Path:
        """The flat, then the slant out to the full diameter."""
        flat, full = self.tip / 2.0, self.diameter / 2.0
        height = (full - flat) / math.tan(math.radians(self.angle) / 2.0)
        return self._tip_path().line((full, height))

    @property
    def size(self) -> float:
        """The diameter [mm]."""
        return self.diameter

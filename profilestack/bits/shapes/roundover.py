"""Roundover: a hollow quarter circle that leaves a round on the wood."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class Roundover(BitShape):
    """r(h) = tip / 2 + R - sqrt(R^2 - h^2) up to h = R, where R = radius [mm].

    With a small ``tip`` it is a point-cutting roundover; with the tip of a bearing's diameter it
    is the edge bit that runs along a bearing.
    """

    word: ClassVar[str] = "roundover"
    radius: float
    tip: float = 0.0

    def __post_init__(self) -> None:
        refuse(self._not_positive("radius"), self._wrong_tip())

    def edge(self) -> Path:
        """The flat, then a quarter circle hollow toward the wood."""
        flat, radius = self.tip / 2.0, self.radius
        center = (flat + radius, 0.0)
        return self._tip_path().arc((flat + radius, radius), center=center, turn="cw")

    @property
    def size(self) -> float:
        """The tip and twice the radius [mm]."""
        return self.tip + 2.0 * self.radius

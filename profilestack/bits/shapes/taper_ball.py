"""Tapered ball: a small ball that goes over into a slender cone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.errors import Problem
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class TaperBall(BitShape):
    """A ball of ``radius``, then the tangent cone out to ``diameter`` [mm].

    ``angle`` of the cone's side from the axis [deg]. They meet at r = R cos(angle),
    h = R (1 - sin(angle)), where circle and side have one tangent.
    """

    word: ClassVar[str] = "taper-ball"
    angle_keys: ClassVar[frozenset[str]] = frozenset({"angle"})
    radius: float
    angle: float
    diameter: float

    def __post_init__(self) -> None:
        refuse(self._not_positive("radius", "diameter"), self._wrong_side())
        widest = self.radius * math.cos(math.radians(self.angle))
        if widest > self.diameter / 2.0 + 1e-9:
            text = f"{self.diameter:g} mm is narrower than the ball where the cone begins"
            refuse([Problem("diameter", text, f"at least {2.0 * widest:.4f} mm")])

    def edge(self) -> Path:
        """The ball from the lowest point, then the cone."""
        lean = math.radians(self.angle)
        joint = (self.radius * math.cos(lean), self.radius * (1.0 - math.sin(lean)))
        ball = Path((0.0, 0.0)).arc(joint, center=(0.0, self.radius), turn="ccw")
        full = self.diameter / 2.0
        if full - joint[0] <= 1e-9:
            return ball
        return ball.line((full, joint[1] + (full - joint[0]) / math.tan(lean)))

    @property
    def size(self) -> float:
        """The diameter [mm]."""
        return self.diameter

"""Any other bit, drawn as lines and arcs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape
from profilestack.errors import InputError, Problem
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class Outline(BitShape):
    """The right half of the edge as drawn, (r, h) [mm], from the tip upward."""

    word: ClassVar[str] = "outline"
    outline: Path

    def __post_init__(self) -> None:
        flat = self.outline.flatten(0.01)
        problem = ""
        if not self.outline.steps:
            problem = "is a single point"
        elif flat[:, 0].min() < -1e-9:
            problem = "crosses the bit's axis (a radius below 0)"
        elif abs(flat[:, 1].min()) > 1e-6:
            problem = f"has its lowest point at h = {flat[:, 1].min():.4f} mm"
        elif flat[:, 0].max() <= 0.0 or flat[-1, 1] <= 0.0:
            problem = "has no width or no height"
        if problem:
            raise InputError(
                Problem("outline", problem, "the right half, from the tip (h = 0) upward, r >= 0")
            )

    def edge(self) -> Path:
        """The outline, led from the axis when it starts beside it."""
        r, h = self.outline.start
        return self.outline if r == 0.0 else Path((0.0, h)).line((r, h)).joined(self.outline)

    @property
    def size(self) -> float:
        """The largest diameter drawn [mm]."""
        return 2.0 * float(self.outline.flatten(1e-4)[:, 0].max())

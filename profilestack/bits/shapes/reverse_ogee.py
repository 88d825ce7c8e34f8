"""Reverse ogee: a roundover below, a cove above, tangent where both are level."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class ReverseOgee(BitShape):
    """Lengths in mm, R1 = cove_radius, R2 = round_radius.

    r(h) = tip / 2 + R2 - sqrt(R2^2 - h^2) up to h = R2, then
    tip / 2 + R2 + sqrt(R1^2 - (R1 - (h - R2))^2) up to h = R1 + R2.
    """

    word: ClassVar[str] = "reverse-ogee"
    cove_radius: float
    round_radius: float
    tip: float = 0.0

    def __post_init__(self) -> None:
        refuse(self._not_positive("cove_radius", "round_radius"), self._wrong_tip())

    def edge(self) -> Path:
        """The flat, the hollow quarter circle, the bulging one."""
        flat, cove, hollow = self.tip / 2.0, self.cove_radius, self.round_radius
        joint = (flat + hollow, hollow)
        top = (flat + hollow + cove, hollow + cove)
        return (
            self._tip_path()
            .arc(joint, center=(flat + hollow, 0.0), turn="cw")
            .arc(top, center=(flat + hollow, hollow + cove), turn="ccw")
        )

    @property
    def size(self) -> float:
        """The tip and twice both radii [mm]."""
        return self.tip + 2.0 * (self.cove_radius + self.round_radius)

"""Ogee: a cove below, a roundover above, tangent where both are upright."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from profilestack.bits.shapes.base import BitShape, refuse
from profilestack.geometry.path import Path


@dataclass(frozen=True, slots=True)
class Ogee(BitShape):
    """Lengths in mm, R1 = cove_radius, R2 = round_radius.

    r(h) = tip / 2 + sqrt(R1^2 - (R1 - h)^2) up to h = R1, then
    tip / 2 + R1 + R2 - sqrt(R2^2 - (h - R1)^2) up to h = R1 + R2.
    """

    word: ClassVar[str] = "ogee"
    cove_radius: float
    round_radius: float
    tip: float = 0.0

    def __post_init__(self) -> None:
        refuse(self._not_positive("cove_radius", "round_radius"), self._wrong_tip())

    def edge(self) -> Path:
        """The flat, the bulging quarter circle, the hollow one."""
        flat, cove, hollow = self.tip / 2.0, self.cove_radius, self.round_radius
        joint = (flat + cove, cove)
        top = (flat + cove + hollow, cove + hollow)
        return (
            self._tip_path()
            .arc(joint, center=(flat, cove), turn="ccw")
            .arc(top, center=(flat + cove + hollow, cove), turn="cw")
        )

    @property
    def size(self) -> float:
        """The tip and twice both radii [mm]."""
        return self.tip + 2.0 * (self.cove_radius + self.round_radius)

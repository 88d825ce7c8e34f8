"""Scotia: the hollow of two quadrants between the rounds of a base."""

from __future__ import annotations

from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes.base import Measures, MemberShape


class Scotia(MemberShape):
    """Two concave quadrants, tangent where the hollow is deepest, level at both ends.

    The height in three: the upper quadrant h/3, the lower 2h/3 (P. Nicholson, Mechanic's
    Companion, fig. 9; read), so that the lower end stands out h/3 further: projection -h/3. Any
    other projection p divides the height so that both stay quadrants: upper radius (h + p)/2,
    lower (h - p)/2 (computed).
    """

    word: ClassVar[str] = "scotia"
    about: ClassVar[str] = (
        "A hollow of two quadrants, upper (h + p)/2 and lower (h - p)/2; "
        "without a projection h/3 and 2h/3."
    )
    source: ClassVar[str] = "P. Nicholson, Mechanic's Companion, fig. 9 (read)"
    required: ClassVar[frozenset[str]] = frozenset({"height"})
    optional: ClassVar[frozenset[str]] = frozenset({"projection"})
    samples: ClassVar[tuple[Measures, ...]] = (
        Measures(height=18.0),
        Measures(height=18.0, projection=0.0),
    )

    def problems(self, given: Measures) -> list[Problem]:
        """Both radii are above 0."""
        if abs(self.step(given)) < given.tall:
            return []
        text = f"{given.out!r} leaves one quadrant no radius"
        return [Problem("projection", text, f"between -{given.tall:g} and {given.tall:g}")]

    def trace(self, given: Measures) -> Path:
        """In under the upper member, and out over the lower one."""
        upper, lower = radii(given.tall, self.step(given))
        path = Path((0.0, 0.0)).arc((-upper, -upper), (0.0, -upper), "ccw")
        return path.arc((lower - upper, -given.tall), (lower - upper, -upper), "ccw")

    def step(self, given: Measures) -> float:
        """The projection given, else -h/3 [mm]."""
        return -given.tall / 3.0 if given.projection is None else given.projection


def radii(height: float, projection: float) -> tuple[float, float]:
    """Radius of the upper and of the lower quadrant [mm]."""
    return ((height + projection) / 2.0, (height - projection) / 2.0)

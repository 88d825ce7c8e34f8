"""The stock before cutting."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.errors import InputError, Problem
from profilestack.geometry.path import Path

LARGEST = 1e6
"""No coordinate may lie beyond this [mm]: polygon engines lose their footing far from zero."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """A board, ``width`` across and ``thickness`` high [mm]."""

    width: float
    thickness: float

    def outline(self) -> Path:
        """Counter-clockwise from the lower left."""
        w, t = self.width, self.thickness
        return Path((0.0, 0.0)).line((w, 0.0)).line((w, t)).line((0.0, t)).line((0.0, 0.0))


@dataclass(frozen=True, slots=True)
class Round:
    """A dowel or log of ``diameter`` [mm]; its box has the origin at the lower left."""

    diameter: float

    def outline(self) -> Path:
        """A full circle, counter-clockwise from its right."""
        r = self.diameter / 2.0
        return Path((2.0 * r, r)).arc((2.0 * r, r), center=(r, r), turn="ccw")


@dataclass(frozen=True, slots=True)
class OutlineStock:
    """Stock of any shape: a closed path [mm] whose box has its lower left at the origin."""

    path: Path

    def outline(self) -> Path:
        """The path, counter-clockwise."""
        return self.path if self.path.signed_area > 0.0 else self.path.reversed()


@dataclass(frozen=True, slots=True)
class Blank:
    """The stock before cutting: its cross-section, and the wood.

    Raises:
        InputError: a size that is not above zero, an outline that is open or lies off the origin.
    """

    stock: Rectangle | Round | OutlineStock
    species: str | None = None

    def __post_init__(self) -> None:
        found = []
        if isinstance(self.stock, OutlineStock):
            found += _outline_problems(self.stock.path)
        else:
            for key in type(self.stock).__slots__:
                value = getattr(self.stock, key)
                if not (math.isfinite(value) and 0.0 < value <= LARGEST):
                    text = f"{value!r} is impossible"
                    expected = f"a length above 0 and at most {LARGEST:.0f} mm"
                    found.append(Problem(key, text, expected))
        if found:
            raise InputError(found)

    def outline(self) -> Path:
        """The closed outline of the cross-section, counter-clockwise [mm]."""
        return self.stock.outline()


def _outline_problems(path: Path) -> list[Problem]:
    if not path.is_closed:
        text = f"starts at {path.start} and ends at {path.end}"
        return [Problem("outline", text, "a closed path that ends where it starts")]
    if abs(path.signed_area) < 1e-6:
        return [Problem("outline", "encloses nothing")]
    low = path.flatten(1e-4).min(axis=0)
    if abs(low).max() > 1e-3:
        return [
            Problem(
                "outline",
                f"its box has the lower left at ({low[0]:.3f}, {low[1]:.3f}) mm",
                "the lower left of its box at (0, 0)",
                f"move the outline, and the target with it, by ({-low[0]:.3f}, {-low[1]:.3f})",
            )
        ]
    return []

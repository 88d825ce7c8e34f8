"""What torus, astragal and bead share: a round that stands out between two ends in line."""

from __future__ import annotations

from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes.base import Measures, MemberShape, arc_between

ROUNDING = 1e-6
"""A typed half of a height may be longer than the half by this [mm]."""


class Bulge(MemberShape):
    """A semicircle on an upright diameter; with a smaller bulge, a flatter arc.

    A semicircle's projection is half its height (The Building Trades Pocketbook, "Roman
    Moldings", fig. 5(a), p. 375; read). For a bulge b below that, the one arc through both ends:
    R = (h^2/4 + b^2) / (2 b) (the sagitta of a chord; computed).
    """

    source: ClassVar[str] = "The Building Trades Pocketbook, fig. 5(a), p. 375 (read)"
    required: ClassVar[frozenset[str]] = frozenset({"height"})
    optional: ClassVar[frozenset[str]] = frozenset({"projection"})
    signed: ClassVar[bool] = False

    def problems(self, given: Measures) -> list[Problem]:
        """The bulge lies above 0 and is half the height at most."""
        out, most = bulge_of(given), given.tall / 2.0
        if 0.0 < out <= most + ROUNDING:
            return []
        text = f"{out!r} is no bulge for a height of {given.tall:g}"
        hint = "a round that stands further out needs a setback above and below"
        return [Problem("projection", text, f"above 0, at most {most:g}", hint)]

    def trace(self, given: Measures) -> Path:
        """One convex arc straight down."""
        return round_down(Path((0.0, 0.0)), given.tall, bulge_of(given))

    def step(self, given: Measures) -> float:
        """0: the ends are in line [mm]."""
        del given
        return 0.0


def bulge_of(given: Measures) -> float:
    """The bulge [mm]: the projection given, else half the height."""
    return given.tall / 2.0 if given.projection is None else given.projection


def round_down(path: Path, height: float, bulge: float) -> Path:
    """The path, and after it one convex arc of that height and bulge, straight down [mm]."""
    bulge = min(bulge, height / 2.0)
    radius = (height**2 / 4.0 + bulge**2) / (2.0 * bulge)
    x, z = path.end
    return path.joined(arc_between((x, z), (x, z - height), radius, "cw"))

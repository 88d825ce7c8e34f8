"""How far a path reaches, exactly: arcs by their circles, not by points on them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.geometry.path import Arc, Path, Point


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle [mm]: lowest and highest x and z."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """From left to right [mm]."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """From bottom to top [mm]."""
        return self.top - self.bottom


def reach(path: Path, along: Point) -> float:
    """The largest of x * along[0] + z * along[1] over the path.

    With a unit direction: how far the path reaches that way from the origin [mm].
    """
    most = path.start[0] * along[0] + path.start[1] * along[1]
    for piece in path.segments:
        most = max(most, piece.end[0] * along[0] + piece.end[1] * along[1])
        if isinstance(piece, Arc) and _passes(piece, math.atan2(along[1], along[0])):
            middle = piece.center[0] * along[0] + piece.center[1] * along[1]
            most = max(most, middle + piece.radius * math.hypot(*along))
    return most


def box_of(path: Path) -> Box:
    """The smallest upright rectangle that holds the path."""
    return Box(
        -reach(path, (-1.0, 0.0)),
        -reach(path, (0.0, -1.0)),
        reach(path, (1.0, 0.0)),
        reach(path, (0.0, 1.0)),
    )


def _passes(arc: Arc, angle: float) -> bool:
    """Whether the arc passes the direction ``angle`` [rad], seen from its centre."""
    sweep = arc.sweep
    ahead = (angle - arc.start_angle) % math.tau if sweep > 0.0 else (
        (arc.start_angle - angle) % math.tau
    )  # fmt: skip
    return ahead <= abs(sweep)

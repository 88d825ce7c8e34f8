"""Motions that keep circles round: move, turn, mirror, scale, and any chain of them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.errors import GeometryError
from profilestack.geometry.path import Path, Point


@dataclass(frozen=True, slots=True)
class Motion:
    """A similarity of the plane: a point (x, z) goes to M (x, z) + shift.

    M is ``scale`` times a turn by the direction (``cosine``, ``sine``), after a mirror left to
    right (x to -x) where ``mirrors`` is true. ``scale`` is above 0; ``shift`` [mm].

    Raises:
        GeometryError: a scale that is not above 0, or a number that is not finite.
    """

    scale: float = 1.0
    cosine: float = 1.0
    sine: float = 0.0
    mirrors: bool = False
    shift: Point = (0.0, 0.0)

    def __post_init__(self) -> None:
        numbers = (self.scale, self.cosine, self.sine, *self.shift)
        if not all(math.isfinite(number) for number in numbers) or self.scale <= 0.0:
            raise GeometryError(f"no motion has the scale {self.scale!r} and shift {self.shift!r}")

    def apply(self, point: Point) -> Point:
        """Where the point goes [mm]."""
        x, z = (-point[0] if self.mirrors else point[0]), point[1]
        return (
            self.scale * (self.cosine * x - self.sine * z) + self.shift[0],
            self.scale * (self.sine * x + self.cosine * z) + self.shift[1],
        )

    def apply_to(self, path: Path) -> Path:
        """Where the path goes; its arcs turn the other way when the motion mirrors."""
        return path.moved(self.apply, mirrors=self.mirrors)

    def then(self, later: Motion) -> Motion:
        """This motion, followed by ``later``."""
        # a mirror after a turn is the mirror first, then the turn the other way
        sine = -self.sine if later.mirrors else self.sine
        return Motion(
            self.scale * later.scale,
            later.cosine * self.cosine - later.sine * sine,
            later.sine * self.cosine + later.cosine * sine,
            self.mirrors != later.mirrors,
            later.apply(self.shift),
        )

    def inverse(self) -> Motion:
        """The motion back."""
        # undone, a mirrored turn turns the same way: mirroring turns its sense about
        sine = self.sine if self.mirrors else -self.sine
        back = Motion(1.0 / self.scale, self.cosine, sine, self.mirrors)
        off = back.apply(self.shift)
        return Motion(back.scale, back.cosine, back.sine, back.mirrors, (-off[0], -off[1]))


def move(x: float, z: float) -> Motion:
    """By x to the right and z upward [mm]."""
    return Motion(shift=(x, z))


def turn(degrees: float, about: Point = (0.0, 0.0)) -> Motion:
    """Counter-clockwise by ``degrees`` [deg] about a point [mm]; quarter turns are exact."""
    cosine, sine = direction(degrees)
    off = Motion(cosine=cosine, sine=sine).apply(about)
    return Motion(cosine=cosine, sine=sine, shift=(about[0] - off[0], about[1] - off[1]))


def grow(factor: float) -> Motion:
    """Away from the origin by ``factor``, above 0."""
    return Motion(scale=factor)


def mirror(x: float = 0.0) -> Motion:
    """Left to right about the upright line at ``x`` [mm]."""
    return Motion(mirrors=True, shift=(2.0 * x, 0.0))


def direction(degrees: float) -> Point:
    """Cosine and sine of an angle [deg], exact at whole quarter turns."""
    quarters, rest = divmod(degrees, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarters) % 4]
    angle = math.radians(degrees)
    return (math.cos(angle), math.sin(angle))

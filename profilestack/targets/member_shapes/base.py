"""What every classical member offers, and the few curves they share.

A member is traced alone, from its upper end at (0, 0) down to its lower end: x is away from the
wall, z is up [mm]. The wall, and so the wood, is on the left of the picture and on the right hand
of the walk: a convex curve turns "cw", a concave one "ccw".
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path, Point, Turn

LARGEST = 10_000.0
"""No member is larger than this [mm]: ten metres is a slip of the unit."""


@dataclass(frozen=True, slots=True)
class Measures:
    """What a member is given: lengths [mm] or None where nothing was said, and the variant."""

    height: float | None = None
    projection: float | None = None
    variant: str | None = None
    width: float | None = None
    depth: float | None = None

    @property
    def tall(self) -> float:
        """The height [mm]; 0 where none was given."""
        return self.height or 0.0

    @property
    def out(self) -> float:
        """The projection [mm]; 0 where none was given."""
        return self.projection or 0.0


class MemberShape:
    """One classical member: what it needs, what it refuses, how it is drawn.

    Subclasses have no state of their own; what depends on which members exist (files, help,
    pictures, law tests) reads the table ``MEMBERS``.
    """

    word: ClassVar[str]
    """The word for the member in files and on the command line."""

    about: ClassVar[str]
    """One sentence for help and docs."""

    source: ClassVar[str]
    """Where the construction is from: author, title, page; "read" or "memory"."""

    required: ClassVar[frozenset[str]] = frozenset({"height", "projection"})
    """The keys that a file must give beside ``member``."""

    optional: ClassVar[frozenset[str]] = frozenset()
    """The lengths that a file may give beside them."""

    variants: ClassVar[tuple[str, ...]] = ()
    """The words for ``variant``; without one the member takes what its ``about`` says."""

    signed: ClassVar[bool] = True
    """Whether the projection may be below 0: the member turned upside down, a base's way."""

    samples: ClassVar[tuple[Measures, ...]]
    """Examples that exist, one at least for each variant: for pictures and law tests."""

    def problems(self, given: Measures) -> list[Problem]:
        """What makes the member impossible; called when every length is finite and in range."""
        del given
        return []

    def trace(self, given: Measures) -> Path:
        """The face from the upper end at (0, 0) down to the lower end [mm], wood on the right."""
        raise NotImplementedError

    def deviation(self, given: Measures) -> float:
        """How far the traced arcs leave the curve that they stand for [mm]; mostly 0."""
        del given
        return 0.0

    def fall(self, given: Measures) -> float:
        """How far down the member leads [mm]."""
        return given.tall

    def step(self, given: Measures) -> float:
        """How far the face moves towards the wall from the upper to the lower end [mm]."""
        return given.out


def upside_down(path: Path) -> Path:
    """The same face with its top at the bottom, walked from its new upper end at (0, 0)."""
    across, down = path.end

    def place(point: Point) -> Point:
        return (point[0] - across, down - point[1])

    return path.moved(place, mirrors=True).reversed()


def arc_between(start: Point, end: Point, radius: float, turn: Turn) -> Path:
    """The shorter arc of ``radius`` [mm] from start to end; "ccw" has its centre on the left.

    ``radius`` must be half the distance at least; a shortfall by rounding is taken as none.
    """
    chord = math.dist(start, end)
    half = chord / 2.0
    off = math.sqrt(max(0.0, radius**2 - half**2))
    along = ((end[0] - start[0]) / chord, (end[1] - start[1]) / chord)
    side = 1.0 if turn == "ccw" else -1.0
    center = (
        (start[0] + end[0]) / 2.0 - side * off * along[1],
        (start[1] + end[1]) / 2.0 + side * off * along[0],
    )
    return Path(start).arc(end, center, turn)


def same_length(first: float, second: float) -> bool:
    """Whether two lengths [mm] are one, but for the rounding of typed decimals."""
    return abs(first - second) <= 1e-6

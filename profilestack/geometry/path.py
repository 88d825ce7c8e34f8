"""Exact paths of straight lines and circular arcs, built by verbs.

Coordinates are in mm, x to the right, z (or h) upward. Angles are in radians inside this
module, counter-clockwise positive. A path keeps its arcs; it becomes points in one place only,
:meth:`Path.flatten`, at a stated chord error.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

import numpy as np
import numpy.typing as npt

from profilestack.errors import GeometryError

Point = tuple[float, float]
Turn = Literal["cw", "ccw"]
Points = npt.NDArray[np.float64]

RADIUS_SLACK = 0.01
"""An arc's two radii may differ by so much [mm]: drawings are rounded; the centre is moved."""

SAME_POINT = 1e-9
"""Points nearer than this are one [mm]: a thousandth of the finest length a shop can mean."""


@dataclass(frozen=True, slots=True)
class LineTo:
    """A straight step to the point ``to`` [mm]."""

    to: Point


@dataclass(frozen=True, slots=True)
class ArcTo:
    """A step to ``to`` along a circle about ``center`` [mm]; back to its start: a full turn."""

    to: Point
    center: Point
    turn: Turn


Step = LineTo | ArcTo


@dataclass(frozen=True, slots=True)
class Line:
    """A straight piece of a path, from ``start`` to ``end`` [mm]."""

    start: Point
    end: Point

    @property
    def length(self) -> float:
        """Length [mm]."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular piece of a path, from ``start`` to ``end`` about ``center`` [mm]."""

    start: Point
    end: Point
    center: Point
    turn: Turn

    @property
    def radius(self) -> float:
        """Radius [mm]."""
        return math.dist(self.center, self.start)

    @property
    def start_angle(self) -> float:
        """Direction from the centre to the start [rad]."""
        return math.atan2(self.start[1] - self.center[1], self.start[0] - self.center[0])

    @property
    def sweep(self) -> float:
        """Angle turned through [rad], positive counter-clockwise; a closed arc is a full turn."""
        end = math.atan2(self.end[1] - self.center[1], self.end[0] - self.center[0])
        turned = (end - self.start_angle) % math.tau
        if math.dist(self.start, self.end) <= SAME_POINT:
            turned = 0.0
        if self.turn == "ccw":
            return turned if turned > 0.0 else math.tau
        return turned - math.tau

    @property
    def length(self) -> float:
        """Length [mm]."""
        return abs(self.sweep) * self.radius


Segment = Line | Arc


@dataclass(frozen=True, slots=True)
class Path:
    """An exact chain of lines and arcs from ``start`` [mm].

    Built by verbs, each giving a new path::

        Path((0, 45)).line((10, 45)).arc((30, 25), center=(10, 25), turn="cw").line((62, 25))
    """

    start: Point
    steps: tuple[Step, ...] = ()

    def line(self, to: Point) -> Path:
        """Go on straight to ``to`` [mm]."""
        return Path(self.start, (*self.steps, LineTo(_point(to))))

    def arc(self, to: Point, center: Point, turn: Turn) -> Path:
        """Go on along a circle to ``to``; ``turn`` is "cw" or "ccw".

        The two radii may differ by 0.01 mm, then the centre is moved to where they agree.

        Raises:
            GeometryError: the radii differ by more, or are zero.
        """
        to = _point(to)
        center = agreed_center(self.end, to, _point(center))
        return Path(self.start, (*self.steps, ArcTo(to, center, turn)))

    @property
    def end(self) -> Point:
        """Where the path ends [mm]."""
        return self.steps[-1].to if self.steps else self.start

    @property
    def segments(self) -> tuple[Segment, ...]:
        """The lines and arcs in order."""
        pieces: list[Segment] = []
        here = self.start
        for step in self.steps:
            if isinstance(step, LineTo):
                pieces.append(Line(here, step.to))
            else:
                pieces.append(Arc(here, step.to, step.center, step.turn))
            here = step.to
        return tuple(pieces)

    @property
    def length(self) -> float:
        """Length along the path [mm]."""
        return math.fsum(segment.length for segment in self.segments)

    @property
    def is_closed(self) -> bool:
        """Whether the path ends where it starts."""
        return bool(self.steps) and math.dist(self.start, self.end) <= SAME_POINT

    @property
    def signed_area(self) -> float:
        """Exact area enclosed when the ends are joined [mm2], positive counter-clockwise."""
        doubled = _cross(self.end, self.start)
        for piece in self.segments:
            doubled += _cross(piece.start, piece.end)
            if isinstance(piece, Arc):
                # the circular segment between arc and chord: R^2 (t - sin t) / 2
                doubled += piece.radius**2 * (piece.sweep - math.sin(piece.sweep))
        return doubled / 2.0

    def reversed(self) -> Path:
        """The same path walked from its end to its start."""
        back = Path(self.end)
        for piece in reversed(self.segments):
            if isinstance(piece, Line):
                back = Path(back.start, (*back.steps, LineTo(piece.start)))
            else:
                turn: Turn = "ccw" if piece.turn == "cw" else "cw"
                back = Path(back.start, (*back.steps, ArcTo(piece.start, piece.center, turn)))
        return back

    def moved(self, place: Callable[[Point], Point], *, mirrors: bool = False) -> Path:
        """The path with every point put through ``place``, a motion that keeps circles round.

        ``mirrors`` says that the motion turns left into right, so that arcs turn the other way.
        """
        steps: list[Step] = []
        for step in self.steps:
            if isinstance(step, LineTo):
                steps.append(LineTo(place(step.to)))
                continue
            turn = step.turn
            if mirrors:
                turn = "ccw" if turn == "cw" else "cw"
            steps.append(ArcTo(place(step.to), place(step.center), turn))
        return Path(place(self.start), tuple(steps))

    def joined(self, other: Path) -> Path:
        """This path, then ``other``; a gap between them is closed by a straight line."""
        steps = self.steps
        if math.dist(self.end, other.start) > SAME_POINT:
            steps = (*steps, LineTo(other.start))
        return Path(self.start, (*steps, *other.steps))

    def flatten(self, chord: float) -> Points:
        """Points along the path, shape (n, 2) [mm]; no arc is off by more than ``chord`` [mm].

        The points lie on the path, so convex arcs lose and concave arcs gain at most
        2/3 x chord x arc length of area. The array is shared: it cannot be written to.
        """
        return _flatten(self, chord)


def agreed_center(start: Point, end: Point, center: Point) -> Point:
    """The centre moved along the shortest way to where both radii agree [mm].

    Raises:
        GeometryError: the radii differ by more than ``RADIUS_SLACK`` or one of them is zero.
    """
    first, second = math.dist(center, start), math.dist(center, end)
    if min(first, second) <= SAME_POINT:
        raise GeometryError(f"an arc about {center} to {end} has no radius")
    if abs(first - second) > RADIUS_SLACK:
        raise GeometryError(
            f"an arc about {center} has radius {first:.4f} mm where it starts and "
            f"{second:.4f} mm where it ends; they may differ by {RADIUS_SLACK} mm"
        )
    if abs(first - second) <= SAME_POINT or math.dist(start, end) <= SAME_POINT:
        return center
    along = (end[0] - start[0], end[1] - start[1])
    middle = ((start[0] + end[0]) / 2.0, (start[1] + end[1]) / 2.0)
    off = (center[0] - middle[0]) * along[0] + (center[1] - middle[1]) * along[1]
    share = off / (along[0] ** 2 + along[1] ** 2)
    return (center[0] - share * along[0], center[1] - share * along[1])


@lru_cache(maxsize=4096)
def _flatten(path: Path, chord: float) -> Points:
    if chord <= 0.0:
        raise GeometryError(f"the chord error must be above 0, not {chord}")
    parts: list[Points] = [np.array([path.start], dtype=np.float64)]
    for piece in path.segments:
        if isinstance(piece, Line):
            parts.append(np.array([piece.end], dtype=np.float64))
            continue
        radius, sweep = piece.radius, piece.sweep
        # a chord over the angle t leaves the circle by R (1 - cos(t/2))
        widest = 2.0 * math.acos(max(0.0, 1.0 - chord / radius))
        count = max(1, math.ceil(abs(sweep) / widest))
        angles = piece.start_angle + sweep * np.arange(1, count + 1) / count
        points = np.column_stack((np.cos(angles), np.sin(angles))) * radius
        points += np.array(piece.center)
        points[-1] = piece.end
        parts.append(points)
    flat = np.concatenate(parts)
    flat.setflags(write=False)
    return flat


def _point(value: Point) -> Point:
    return (float(value[0]), float(value[1]))


def _cross(a: Point, b: Point) -> float:
    return a[0] * b[1] - a[1] * b[0]

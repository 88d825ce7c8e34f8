"""The sweep of one travel of a bit along the part, in the section plane."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from shapely.geometry import Polygon

from profilestack.bits.bit import Bit
from profilestack.bits.edge import silhouette_path
from profilestack.geometry.path import Points
from profilestack.geometry.region import polygon_from_points
from profilestack.stack import Pass, Setup, Stack
from profilestack.stack.blank import Blank


@dataclass(frozen=True, slots=True)
class Lie:
    """How the blank lies in a setup, and how to come back to the section plane.

    A point (x, z) of the bench [mm], measured from the left side and the bed of the turned
    blank's box, is put back by :meth:`to_section`. ``height`` is the box's height [mm].
    """

    cos: float
    sin: float
    left: float
    bottom: float
    width: float
    height: float

    def to_section(self, points: Points) -> Points:
        """Bench coordinates, shape (n, 2) [mm], put back into the section plane."""
        x = points[..., 0] + self.left
        z = points[..., 1] + self.bottom
        back: Points = np.stack((self.cos * x + self.sin * z, self.cos * z - self.sin * x), axis=-1)
        return back

    def to_bench(self, points: Points) -> Points:
        """Section coordinates, shape (n, 2) [mm], as they lie on the bench."""
        x, z = points[..., 0], points[..., 1]
        turned = np.stack((self.cos * x - self.sin * z, self.sin * x + self.cos * z), axis=-1)
        laid: Points = turned - np.array((self.left, self.bottom))
        return laid


@lru_cache(maxsize=1024)
def lie_of(blank: Blank, angle: float) -> Lie:
    """How a blank lies when turned counter-clockwise by ``angle`` [deg]."""
    cos, sin = exact_cos_sin(angle)
    # a fine chord of its own: the box of a round blank must not depend on how it is drawn
    points = blank.outline().flatten(1e-7)
    x = cos * points[:, 0] - sin * points[:, 1]
    z = sin * points[:, 0] + cos * points[:, 1]
    left, bottom = float(x.min()), float(z.min())
    return Lie(cos, sin, left, bottom, float(x.max()) - left, float(z.max()) - bottom)


def exact_cos_sin(angle: float) -> tuple[float, float]:
    """Cosine and sine of an angle [deg]; exact at whole quarter turns."""
    quarters = angle / 90.0
    if quarters == round(quarters):
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[round(quarters) % 4]
    return math.cos(math.radians(angle)), math.sin(math.radians(angle))


@lru_cache(maxsize=4096)
def silhouette_points(bit: Bit, chord: float) -> Points:
    """The cutting silhouette about the bit's own axis and tip, shape (n, 2) [mm]."""
    return silhouette_path(bit).flatten(chord)


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """One travel of a bit along the part.

    ``axis`` and ``tip`` are the bit's place on the bench [mm] (from the left side and the bed of
    the turned blank's box); ``copy`` counts the blank's turns about its middle from 0. ``span``
    is the stretch of a straight part that is cut [mm], None for all of it.
    """

    number: int
    bit: Bit
    setup: Setup
    lie: Lie
    axis: float
    tip: float
    copy: int
    span: tuple[float, float] | None
    region: Polygon
    middle: tuple[float, float]

    def reaches(self, place: float) -> bool:
        """Whether the bit passes that place along a straight part [mm]."""
        return self.span is None or self.span[0] <= place <= self.span[1]

    def to_section(self, points: Points) -> Points:
        """Points about the bit's own axis and tip, shape (n, 2) [mm], in the section plane."""
        placed = self.lie.to_section(points + np.array((self.axis, self.tip)))
        return _turned(placed, self.copy, self.setup.copies, self.middle)

    def to_bench(self, points: Points) -> Points:
        """Section coordinates, shape (n, 2) [mm], as they lie on the bench under this stroke."""
        return self.lie.to_bench(_turned(points, -self.copy, self.setup.copies, self.middle))


def strokes_of(stack: Stack, single: Pass, number: int, bit: Bit, chord: float) -> Iterator[Stroke]:
    """The strokes of one pass, in the order they are cut."""
    setup = stack.setup(single.setup)
    lie = lie_of(stack.blank, setup.angle)
    upright = lie_of(stack.blank, 0.0)
    middle = (upright.width / 2.0, upright.height / 2.0)
    span = None
    if single.begin is not None or single.end is not None:
        span = (single.begin or 0.0, math.inf if single.end is None else single.end)
        length = getattr(stack.run, "length", math.inf)
        span = (span[0], min(span[1], length))
    for copy in range(setup.copies):
        for repeat in range(single.count):
            axis = single.offset + repeat * single.pitch
            tip = lie.height - single.depth
            turned = None if lie == upright else lie
            region = _region(bit, chord, axis, tip, turned, copy, setup.copies, middle)
            yield Stroke(number, bit, setup, lie, axis, tip, copy, span, region, middle)


@lru_cache(maxsize=4096)
def _region(
    bit: Bit,
    chord: float,
    axis: float,
    tip: float,
    lie: Lie | None,
    copy: int,
    copies: int,
    middle: tuple[float, float],
) -> Polygon:
    """What the edge sweeps in the section plane; in a drag all passes but one stay as they are."""
    placed = silhouette_points(bit, chord) + np.array((axis, tip))
    if lie is not None:
        placed = lie.to_section(placed)
    return polygon_from_points(_turned(placed, copy, copies, middle))


def _turned(points: Points, copy: int, copies: int, middle: tuple[float, float]) -> Points:
    """Points as the section sees them when the blank was turned ``copy`` times about its middle."""
    if copy == 0:
        return points
    cos, sin = exact_cos_sin(360.0 * copy / copies)
    x, z = points[..., 0] - middle[0], points[..., 1] - middle[1]
    return np.stack((cos * x + sin * z + middle[0], cos * z - sin * x + middle[1]), axis=-1)

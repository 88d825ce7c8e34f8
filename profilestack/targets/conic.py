"""Parabolas as a few tangent arcs, the largest deviation known.

A router follows lines and arcs, and so does a path; the Grecian curves are conic sections. Here
a parabola between two tangents becomes pairs of arcs that share their tangents, as few as keep
within a stated distance of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from profilestack.geometry.crossing import distance_to
from profilestack.geometry.path import Path, Point, Turn

CLOSE = 0.02
"""The arcs stay so near to the curve [mm]: a fifth of the usual overcut tolerance (our choice)."""

MOST_PAIRS = 24
"""More pairs of arcs are never taken; then the deviation says how near they came."""

SAMPLES = 64
"""Places between a pair's ends where its distance to the curve is taken."""


@dataclass(frozen=True, slots=True)
class ParabolaArcs:
    """Tangent arcs along a parabola: their path, and how far it leaves the curve [mm]."""

    path: Path
    deviation: float


@lru_cache(maxsize=256)
def arcs_of_parabola(start: Point, corner: Point, end: Point) -> ParabolaArcs:
    """The parabola that leaves ``start`` toward ``corner`` and arrives at ``end`` from it [mm].

    It is the curve that the joiner draws by intersecting lines between the two tangents divided
    alike (common practice for Grecian moldings, from memory); with u from 0 to 1 it runs through
    (1-u)^2 start + 2 u (1-u) corner + u^2 end, and encloses with its chord two thirds of the
    triangle start, corner, end (Archimedes, Quadrature of the Parabola, prop. 24; memory).
    """
    curve = _Parabola(start, corner, end)
    best = _pairs(curve, 1)
    for count in range(2, MOST_PAIRS + 1):
        if best.deviation <= CLOSE:
            break
        best = _pairs(curve, count)
    return best


@dataclass(frozen=True, slots=True)
class _Parabola:
    start: Point
    corner: Point
    end: Point

    def at(self, u: float) -> Point:
        """The point at ``u``, 0 to 1."""
        x, z = (
            (1.0 - u) ** 2 * s + 2.0 * u * (1.0 - u) * k + u**2 * e
            for s, k, e in zip(self.start, self.corner, self.end, strict=True)
        )
        return (x, z)

    def heading(self, u: float) -> Point:
        """The unit direction of travel at ``u``."""
        x, z = (
            (1.0 - u) * (k - s) + u * (e - k)
            for s, k, e in zip(self.start, self.corner, self.end, strict=True)
        )
        length = math.hypot(x, z)
        return (x / length, z / length)


def _pairs(curve: _Parabola, count: int) -> ParabolaArcs:
    """``count`` pairs of arcs, each pair over an equal part of u."""
    path = Path(curve.start)
    worst = 0.0
    for number in range(count):
        first, last = number / count, (number + 1) / count
        pair = _pair(curve, first, last, path.end)
        worst = max(worst, _off(curve, first, last, pair))
        path = path.joined(pair)
    return ParabolaArcs(path, worst)


def _pair(curve: _Parabola, first: float, last: float, start: Point) -> Path:
    """Two arcs with the curve's own ends and tangents, their tangent lengths equal.

    With v from end to end, t and w the tangents and d the tangent length, |v - d (t + w)| = 2 d
    gives 2 d^2 (1 - t.w) + 2 d v.(t + w) - v.v = 0; the arcs meet midway between the two tangent
    tips (computed).
    """
    end, t, w = curve.at(last), curve.heading(first), curve.heading(last)
    v = (end[0] - start[0], end[1] - start[1])
    bend = 2.0 * (1.0 - _dot(t, w))
    along = _dot(v, t) + _dot(v, w)
    square = _dot(v, v)
    # the root written so that nothing cancels when the tangents are nearly parallel
    d = square / (along + math.sqrt(along**2 + bend * square))
    meet = (
        (start[0] + d * t[0] + end[0] - d * w[0]) / 2.0,
        (start[1] + d * t[1] + end[1] - d * w[1]) / 2.0,
    )
    turn: Turn = "ccw" if t[0] * w[1] - t[1] * w[0] > 0.0 else "cw"
    path = Path(start).arc(meet, _center(start, t, meet), turn)
    return path.arc(end, _center(end, w, meet), turn)


def _center(point: Point, tangent: Point, other: Point) -> Point:
    """Centre of the circle through both points that has the tangent at the first."""
    normal = (-tangent[1], tangent[0])
    chord = (other[0] - point[0], other[1] - point[1])
    radius = _dot(chord, chord) / (2.0 * _dot(normal, chord))
    return (point[0] + radius * normal[0], point[1] + radius * normal[1])


def _off(curve: _Parabola, first: float, last: float, pair: Path) -> float:
    """The largest distance from the curve to its pair of arcs, at ``SAMPLES`` places."""
    one, two = pair.segments
    worst = 0.0
    for number in range(1, SAMPLES):
        point = curve.at(first + (last - first) * number / SAMPLES)
        worst = max(worst, min(distance_to(one, point), distance_to(two, point)))
    return worst


def _dot(a: Point, b: Point) -> float:
    return a[0] * b[0] + a[1] * b[1]

"""Numbered check dimensions: where on a test cut a caliper or depth gauge tells most.

Each is a height above the bed at a place across, or a distance from the left side at a height,
of the finished section as it lies on its back. One after another the place is taken that tells
most of what is not told yet by those before (the largest variance of what would be read there).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.cutting.nearest import Numbers
from profilestack.geometry.path import Point, Points
from profilestack.geometry.region import polygon_from_points, rings_of
from profilestack.planning.unknowns import CHORD, Unknowns, unknowns_of
from profilestack.planning.usual_errors import ON_A_CNC, UsualErrors
from profilestack.stack import Stack

GRID = 1.0
"""Places are whole numbers of this [mm], so that they can be set on a gauge."""

STEEP = 0.7
"""A place is measured along an axis only where the outline is square to it by so much (cosine):
a slope of 45 degrees may still be read, with a pointed gauge."""

APART = 3.0
"""Places lie at least so far apart [mm]."""

CORNER = 1.0
"""A gauge's foot wants so much even outline on both sides [mm]."""

TRUE_TO = 0.05
"""A reading is true to so much [mm] (common practice)."""

MOST = 12


@dataclass(frozen=True, slots=True)
class CheckDimension:
    """One dimension to measure on a test cut.

    ``number`` counts from 1, from left to right. ``kind`` "height": above the bed, ``place`` from
    the left side; "across": from the left side, ``place`` above the bed. ``nominal`` is what it
    should read [mm]; ``at`` is the point on the section [mm]; ``passes`` (from 1) show in it.
    """

    number: int
    kind: Literal["height", "across"]
    place: float
    nominal: float
    at: Point
    passes: tuple[int, ...]

    def point(self, reading: float) -> Point:
        """The point that a reading [mm] means."""
        return (self.place, reading) if self.kind == "height" else (reading, self.place)


def check_dimensions(
    stack: Stack,
    bits: Mapping[str, Bit],
    most: int = MOST,
    errors: UsualErrors = ON_A_CNC,
) -> tuple[CheckDimension, ...]:
    """The dimensions that tell most of a test cut, at most so many; the same at every call."""
    unknowns = unknowns_of(stack, bits, errors)
    if not unknowns.sources:
        return ()
    zero = np.zeros(len(unknowns.sources))
    points, kinds = _candidates(stack, unknowns.sections(zero[None, :])[0])
    if len(points) == 0:
        return ()
    rows = unknowns.slopes(zero, points, wary=True)
    chosen = _telling(points, rows, unknowns.covariance, most)
    ordered = sorted(chosen, key=lambda k: (points[k, 0], points[k, 1]))
    return tuple(
        _dimension(number, points[k], int(kinds[k]), _shown(unknowns, rows[k]))
        for number, k in enumerate(ordered, 1)
    )


def _dimension(number: int, point: Points, kind: int, passes: tuple[int, ...]) -> CheckDimension:
    x, z = float(point[0]), float(point[1])
    if kind == 0:
        return CheckDimension(number, "height", x, z, (x, z), passes)
    return CheckDimension(number, "across", z, x, (x, z), passes)


def _candidates(stack: Stack, section: BaseGeometry) -> tuple[Points, Numbers]:
    """Points of the cut outline on whole places, and what each is: 0 a height, 1 across."""
    outline = shapely.boundary(polygon_from_points(stack.blank.outline().flatten(CHORD)))
    rings = rings_of(section)  # outer ones counter-clockwise: the wood on the left hand
    starts = np.concatenate(rings)
    ends = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])
    along = ends - starts
    length = np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-12)
    normal = np.column_stack((along[:, 1], -along[:, 0])) / length[:, None]
    points, normals, kinds = [], [], []
    for kind, axis in ((0, 0), (1, 1)):
        square = np.abs(normal[:, 1 - axis]) >= STEEP
        if kind == 0:
            square &= normal[:, 1] > 0.0  # no gauge stands under the wood
        for k in np.flatnonzero(square).tolist():
            low, high = sorted((starts[k, axis], ends[k, axis]))
            for place in np.arange(np.ceil(low / GRID), np.floor(high / GRID) + 1.0) * GRID:
                share = (place - starts[k, axis]) / along[k, axis]
                points.append(starts[k] + share * along[k])
                normals.append(normal[k])
                kinds.append(kind)
    if not points:
        return np.zeros((0, 2)), np.zeros(0)
    found, kind_of = np.array(points), np.array(kinds)
    places = np.asarray(shapely.points(found))
    cut = shapely.distance(outline, places) > 0.01
    even = _is_even(section, found, np.array(normals))
    keep = cut & even
    return found[keep], kind_of[keep]


def _is_even(section: BaseGeometry, points: Points, normals: Points) -> np.ndarray:
    """Whether the outline goes on much the same for ``CORNER`` on both sides of each point."""
    edge = shapely.boundary(section)
    shapely.prepare(edge)
    beside = np.column_stack((-normals[:, 1], normals[:, 0])) * CORNER
    far = [shapely.distance(edge, np.asarray(shapely.points(points + s * beside))) for s in (1, -1)]
    return np.asarray(np.maximum(*far) < 0.15 * CORNER)


def _telling(points: Points, rows: Numbers, covariance: Numbers, most: int) -> list[int]:
    """Rows that tell most, one after another; the covariance shrinks with each."""
    chosen: list[int] = []
    free = np.ones(len(rows))
    for _ in range(min(most, len(rows))):
        spread = free * np.einsum("ij,jk,ik->i", rows, covariance, rows)
        best = int(np.argmax(spread))
        if spread[best] < TRUE_TO**2 / 4.0:  # what is left would be lost in the reading
            break
        chosen.append(best)
        free[np.hypot(*(points - points[best]).T) < APART] = 0.0
        gain = covariance @ rows[best]
        covariance = covariance - np.outer(gain, gain) / (spread[best] + TRUE_TO**2)
    return chosen


def _shown(unknowns: Unknowns, row: Numbers) -> tuple[int, ...]:
    """The passes whose offset or depth moves a point."""
    found = {
        number
        for slope, source in zip(row.tolist(), unknowns.sources, strict=True)
        if abs(slope) > 0.05 and source.kind in ("offset", "depth")
        for number in source.numbers
    }
    return tuple(sorted(found))

"""Arrises: the corners of a target at which wood stands out."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.nearest import Numbers
from profilestack.cutting.wanted import Wanted
from profilestack.geometry.path import Points
from profilestack.geometry.region import chains_of, unite

SHARP = 0.25
"""Bends of more than this are arrises [rad]: less sharp ones lose below 1 % more than flats."""

ON_TARGET = 1e-5
"""Corners of the wanted region nearer to the target than this [mm] are corners of the target."""


def arrises_of(wanted: Wanted) -> tuple[Points, Points, Numbers]:
    """The arrises of a target, its ends on the blank's outline among them.

    Returned are the corners (n, 2) [mm], ways of length 1 that lead out of the wood along the
    bisector (n, 2), and the angles between bisector and wood's side (n,) [rad].
    """
    corners, ways, angles = [np.zeros((0, 2))], [np.zeros((0, 2))], [np.zeros(0)]
    for ring in chains_of(shapely.orient_polygons(wanted.region)):
        along = np.diff(ring, axis=0)
        along = along[np.hypot(along[:, 0], along[:, 1]) > 0.0]
        points = ring[0] + np.concatenate((np.zeros((1, 2)), np.cumsum(along, axis=0)[:-1]))
        after = along / np.hypot(along[:, 0], along[:, 1])[:, None]
        before = np.roll(after, 1, axis=0)
        turn = np.arctan2(
            before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], (before * after).sum(axis=1)
        )
        sharp = turn > SHARP
        way = (before - after)[sharp]
        corners.append(points[sharp])
        ways.append(way / np.hypot(way[:, 0], way[:, 1])[:, None])
        angles.append((np.pi - turn[sharp]) / 2.0)
    found, out = np.concatenate(corners), np.concatenate(ways)
    on_target = wanted.line.nearest(found)[0] < ON_TARGET
    return found[on_target], out[on_target], np.concatenate(angles)[on_target]


def specks_of(wanted: Wanted, overcut: float) -> BaseGeometry:
    """A speck of wood within the overcut [mm] of each arris, which must not go missing.

    Without it the arris of a narrow edge could lose more than that from both sides together.
    """
    corners, outward, half_angles = arrises_of(wanted)
    inside = corners - 0.9 * overcut * outward
    # no wider than the edge itself is there
    radii = overcut * np.minimum(0.05, 0.8 * np.sin(half_angles))
    return unite(np.asarray(shapely.buffer(shapely.points(inside), radii, quad_segs=2)))


def around_arrises(wanted: Wanted, leftover: float) -> Points:
    """Points so far [mm] out of each arris, where a ridge would stand highest, shape (n, 2)."""
    corners, outward, _ = arrises_of(wanted)
    turned = []
    for degrees in (-30.0, -15.0, 0.0, 15.0, 30.0):
        cos, sin = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
        x = cos * outward[:, 0] - sin * outward[:, 1]
        z = sin * outward[:, 0] + cos * outward[:, 1]
        turned.append(corners + leftover * np.column_stack((x, z)))
    return np.concatenate(turned)

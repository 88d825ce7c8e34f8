"""The largest distance of many regions' edges to one line, all regions at once."""

from __future__ import annotations

import numpy as np
import shapely

from profilestack.cutting.climbing import Stretches
from profilestack.cutting.nearest import Indices, Numbers, Polyline
from profilestack.geometry.path import Points
from profilestack.planning.trial_cuts import Shapes

CLOSE = 0.002
"""Largest distances are met within this [mm]."""

ROUNDS = 8
PARTS = 4


def largest_distances(regions: Shapes, line: Polyline) -> tuple[Numbers, Points]:
    """The largest distance to a line on the edges of each region [mm], and where (n, 2)."""
    starts, ends, owner = _edges(regions)
    best, at = np.zeros(len(regions)), np.full((len(regions), 2), np.nan)
    if len(starts) == 0:
        return best, at
    far, places = line.nearest(np.concatenate((starts, ends)))
    count = len(starts)
    stretches = Stretches(starts, ends, far.reshape(2, count).T, places.reshape(2, count).T)
    _take(best, at, owner, stretches.far[:, 0], starts)
    for _ in range(ROUNDS):
        bounds, shares = stretches.bounds(line)
        chosen = np.flatnonzero(bounds > np.maximum(best[owner] + CLOSE, 2.0 * CLOSE))
        if len(chosen) == 0:
            break
        owner = np.repeat(owner[chosen], PARTS)
        stretches = _divided(stretches.taken(chosen), shares[chosen], line)
        _take(best, at, owner, stretches.far[:, 0], stretches.starts)
    return best, at


def _edges(regions: Shapes) -> tuple[Points, Points, Indices]:
    """All edges of the regions, from and to [mm], and whose each is."""
    parts, owner = shapely.get_parts(regions, return_index=True)
    solid = (shapely.get_type_id(parts) == 3) & (shapely.area(parts) > 1e-9)
    parts, owner = parts[solid], owner[solid]
    rings, part = shapely.get_rings(parts, return_index=True)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    if len(points) == 0:
        return np.zeros((0, 2)), np.zeros((0, 2)), np.zeros(0, dtype=np.intp)
    inside = ring[1:] == ring[:-1]
    return points[:-1][inside], points[1:][inside], owner[part[ring[:-1][inside]]]


def _take(best: Numbers, at: Points, owner: Indices, far: Numbers, points: Points) -> None:
    """Keep the farthest point of each owner, where it is farther than the one known."""
    order = np.argsort(far, kind="stable")  # the farthest of an owner is written last
    top = np.full(len(best), -1, dtype=np.intp)
    top[owner[order]] = order
    found = np.flatnonzero(top >= 0)
    better = found[far[top[found]] > best[found]]
    best[better], at[better] = far[top[better]], points[top[better]]


def _divided(stretches: Stretches, shares: Numbers, line: Polyline) -> Stretches:
    """Each stretch in ``PARTS``, one of the cuts where it may be highest."""
    half = np.stack((shares / 2.0, shares, (1.0 + shares) / 2.0), axis=1)
    along = stretches.ends - stretches.starts
    inner = stretches.starts[:, None] + half[..., None] * along[:, None]
    far, places = (each.reshape(half.shape) for each in line.nearest(inner.reshape(-1, 2)))
    points = np.concatenate((stretches.starts[:, None], inner, stretches.ends[:, None]), axis=1)
    far = np.concatenate((stretches.far[:, :1], far, stretches.far[:, 1:]), axis=1)
    places = np.concatenate((stretches.places[:, :1], places, stretches.places[:, 1:]), axis=1)
    return Stretches(
        points[:, :-1].reshape(-1, 2),
        points[:, 1:].reshape(-1, 2),
        np.stack((far[:, :-1], far[:, 1:]), axis=-1).reshape(-1, 2),
        np.stack((places[:, :-1], places[:, 1:]), axis=-1).reshape(-1, 2),
    )

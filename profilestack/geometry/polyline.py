"""Rows of points: distances to them, points evenly along them."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import shapely

from profilestack.geometry.path import Point, Points

MANY = 2000
"""A row of more points is looked through by a tree: each point asks a few of its steps only."""

PARALLEL = 0.05
"""Directions whose angle has a smaller sine meet nowhere in particular."""


def distances_to_row(points: Points, row: Points) -> npt.NDArray[np.float64]:
    """From each point to the nearest place on the line through ``row`` [mm], shape (n,)."""
    if len(row) > MANY:
        steps = np.asarray(shapely.linestrings(np.stack((row[:-1], row[1:]), axis=1)))
        tree = shapely.STRtree(steps)
        asked = shapely.points(points)
        _, near = tree.query_nearest(asked, return_distance=True, all_matches=False)
        return np.asarray(near, dtype=np.float64)
    line = shapely.linestrings(row)
    shapely.prepare(line)
    far: npt.NDArray[np.float64] = np.asarray(shapely.distance(line, shapely.points(points)))
    return far


def places_along(row: Points) -> npt.NDArray[np.float64]:
    """How far along the line each of its points lies [mm], shape (n,)."""
    steps = np.hypot(*np.diff(row, axis=0).T)
    return np.concatenate(([0.0], np.cumsum(steps)))


def filled(row: Points, longest: float) -> Points:
    """The row with points put between so that no step is longer than ``longest`` [mm]."""
    steps = np.hypot(*np.diff(row, axis=0).T)
    counts = np.maximum(1, np.ceil(steps / longest)).astype(np.int64)
    owner = np.repeat(np.arange(len(counts)), counts)
    first = np.concatenate(([0], np.cumsum(counts)[:-1]))
    share = (np.arange(len(owner)) - first[owner]) / counts[owner]
    inner = row[owner] + share[:, None] * (row[owner + 1] - row[owner])
    return np.concatenate((inner, row[-1:]))


def meeting_of(before: Points, after: Points) -> Point | None:
    """Where the straight lines through two rows of points meet [mm]; None if nearly parallel."""
    sides = []
    for points in (before, after):
        middle = points.mean(axis=0)
        _, _, axes = np.linalg.svd(points - middle)
        sides.append((middle, axes[0]))
    (one, along), (two, other) = sides
    turn = along[0] * other[1] - along[1] * other[0]
    if abs(turn) < PARALLEL:
        return None
    away = two - one
    share = (away[0] * other[1] - away[1] * other[0]) / turn
    return (float(one[0] + share * along[0]), float(one[1] + share * along[1]))

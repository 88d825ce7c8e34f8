"""Rows of points: distances to them, points evenly along them."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import shapely

from profilestack.geometry.path import Points


def distances_to_row(points: Points, row: Points) -> npt.NDArray[np.float64]:
    """From each point to the nearest place on the line through ``row`` [mm], shape (n,)."""
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

"""Target points near the blank's outline, and the stock around them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.geometry.path import Points

DIRECTIONS = 48
"""The circle around a point is told by so many corners."""


@dataclass(frozen=True, slots=True, eq=False)
class Rims:
    """Where stock has to be cut away for a point near the blank's outline to be reached.

    Beside the outline a bit may come near a point in the air alone, which removes nothing. Only
    stock counts: some place on the rim of what lies in the blank within the leftover of the point.

    ``close`` (m,) tells which points these are, ``samples`` (n, 2) [mm] the places on their
    rims, each point's from ``firsts`` (k,) on.
    """

    close: npt.NDArray[np.bool_]
    samples: Points
    firsts: npt.NDArray[np.intp]


def rims_of(
    points: Points, touched: npt.NDArray[np.bool_], stock: BaseGeometry, leftover: float
) -> Rims:
    """The rims of those ``touched`` points (m, 2) [mm] that are near the outline of the stock."""
    edge = shapely.boundary(stock)
    shapely.prepare(edge)
    close = touched & np.asarray(shapely.dwithin(edge, shapely.points(points), leftover))
    angles = np.arange(DIRECTIONS + 1) * (2.0 * np.pi / DIRECTIONS)
    circle = leftover * np.column_stack((np.cos(angles), np.sin(angles)))
    near = points[close]
    discs = np.asarray(shapely.polygons(near[:, None, :] + circle[None, :, :]))
    rims = shapely.boundary(shapely.intersection(discs, stock))
    # what is cut inside a disc comes in over its rim, be that the circle or the blank's outline
    rims = shapely.segmentize(rims, leftover / 6.0)
    samples, owner = shapely.get_coordinates(rims, return_index=True)
    # a disc wholly outside has no place that could be cut: the point itself stands for it
    lost = np.setdiff1d(np.arange(len(near)), owner)
    owner = np.concatenate((owner, lost))
    samples = np.concatenate((samples, near[lost]))
    order = np.argsort(owner, kind="stable")
    firsts = np.searchsorted(owner[order], np.arange(len(near)))
    return Rims(close, samples[order], firsts)

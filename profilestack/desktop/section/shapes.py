"""Regions and chains in mm as shapes on the screen, handed over as buffers, not point by point."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
import shapely
from PySide6.QtGui import QPainterPath, QPolygonF
from shapely.geometry.base import BaseGeometry
from shiboken6 import Shiboken

from profilestack.desktop.axis import Axis
from profilestack.geometry.path import Points
from profilestack.geometry.region import chains_of

SEEN = 0.1
"""Points that bend a line by less than this [px] are left out: nobody can see them."""


def placed(points: Points, axis: Axis) -> Points:
    """Section coordinates (n, 2) [mm] as pixels of the section's view."""
    seen = np.empty_like(points)
    np.subtract(points[:, 0], axis.left, out=seen[:, 0])
    np.subtract(axis.top, points[:, 1], out=seen[:, 1])
    seen *= axis.scale
    return seen


def polygon_of(pixels: Points) -> QPolygonF:
    """The same points, shape (n, 2) [px], as Qt wants them."""
    polygon: Any = QPolygonF()  # its buffer is not in the type stubs
    polygon.resize(len(pixels))
    if len(pixels):
        pointer: Any = Shiboken.VoidPtr
        room = pointer(polygon.data(), 16 * len(pixels), True)
        np.frombuffer(room, dtype=np.float64).reshape(-1, 2)[:] = pixels
    made: QPolygonF = polygon
    return made


def chain_shape(points: Points, axis: Axis) -> QPolygonF:
    """A chain (n, 2) [mm] as a line on the screen."""
    return polygon_of(thinned(placed(points, axis)))


def shape_of(geometry: BaseGeometry, axis: Axis) -> QPainterPath:
    """A region [mm] as an area on the screen, its holes left open."""
    return path_of(placed(chain, axis) for chain in chains_of(_coarse(geometry, axis)))


def path_of(rings: Iterable[Points]) -> QPainterPath:
    """Closed rings, each (n, 2) [px], as one area; what lies in two of them is a hole."""
    path = QPainterPath()
    for ring in rings:
        path.addPolygon(polygon_of(ring))
        path.closeSubpath()
    return path


def _coarse(geometry: BaseGeometry, axis: Axis) -> BaseGeometry:
    return shapely.simplify(geometry, SEEN / axis.scale, preserve_topology=False)


def thinned(pixels: Points) -> Points:
    """The chain (n, 2) [px] without the points that nobody would miss."""
    line = shapely.linestrings(pixels)
    thin: Points = shapely.get_coordinates(shapely.simplify(line, SEEN, preserve_topology=False))
    return thin

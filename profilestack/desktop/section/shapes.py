"""Regions and chains in mm as shapes on the screen, handed over as buffers, not point by point."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from PySide6.QtGui import QPainterPath, QPolygonF
from shapely.geometry.base import BaseGeometry
from shiboken6 import Shiboken

from profilestack.desktop.axis import Axis
from profilestack.geometry.path import Points

SEEN = 0.1
"""Points that bend a line by less than this [px] are left out: nobody can see them."""


POLYGON = 3
"""The type of a polygon among shapely's geometries."""


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
    return shapes_of((geometry,), axis)[0]


def shapes_of(geometries: Sequence[BaseGeometry], axis: Axis) -> list[QPainterPath]:
    """Regions [mm] as areas on the screen; many at once are quicker than one by one."""
    paths = [QPainterPath() for _ in geometries]
    coarse = shapely.simplify(
        np.array(geometries, dtype=object), SEEN / axis.scale, preserve_topology=False
    )
    parts, owner = shapely.get_parts(coarse, return_index=True)
    areal = shapely.get_type_id(parts) == POLYGON
    rings, part = shapely.get_rings(parts[areal], return_index=True)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    if len(points) == 0:
        return paths
    pixels = placed(points, axis)
    begins = [0, *(np.flatnonzero(ring[1:] != ring[:-1]) + 1).tolist()]
    owners = owner[areal][part][ring[begins]].tolist()
    for begin, end, which in zip(begins, (*begins[1:], None), owners, strict=True):
        paths[which].addPolygon(polygon_of(pixels[begin:end]))
        paths[which].closeSubpath()
    return paths


def thinned(pixels: Points) -> Points:
    """The chain (n, 2) [px] without the points that nobody would miss."""
    line = shapely.linestrings(pixels)
    thin: Points = shapely.get_coordinates(shapely.simplify(line, SEEN, preserve_topology=False))
    return thin

"""Regions of the section plane: always multi-polygons, cut and joined by shapely.

Boolean work takes the quick way first and climbs a ladder only where the engine stumbles: the
plain operation, then mended input on a grid of 1e-6 mm, then on 1e-4 mm, then an error that says
what was being cut. The grid costs about nine times as much, so it is never the first try.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from profilestack.errors import GeometryError
from profilestack.geometry.path import Path, Point, Points

Region = MultiPolygon
"""Zero or more polygons without overlap; coordinates in mm."""

EMPTY: Region = MultiPolygon()

_GRIDS = (1e-6, 1e-4)


def polygon_from_points(points: Points) -> Polygon:
    """The polygon inside a ring of points, shape (n, 2) [mm], as it is: nothing is mended."""
    made = shapely.polygons(points)
    assert isinstance(made, Polygon)  # one ring makes one polygon
    return made


def region_from_points(points: Points) -> Region:
    """The region inside a ring of points, shape (n, 2) [mm]; self-crossings are mended."""
    return as_region(shapely.make_valid(polygon_from_points(points)))


def region_from_path(path: Path, chord: float) -> Region:
    """The region inside a closed path, flattened at ``chord`` [mm]."""
    return region_from_points(path.flatten(chord))


def as_region(geometry: BaseGeometry) -> Region:
    """Only the polygons of a geometry; lines and points that a touch leaves behind are dropped."""
    if isinstance(geometry, MultiPolygon):
        return geometry
    return MultiPolygon(pieces_of(geometry))


def pieces_of(geometry: BaseGeometry) -> list[Polygon]:
    """The polygons of a geometry, largest first."""
    parts = shapely.get_parts(geometry).tolist()
    found = []
    for part in parts:
        if isinstance(part, Polygon):
            found.append(part)
        elif part.geom_type in ("MultiPolygon", "GeometryCollection"):
            found += pieces_of(part)
    return sorted((part for part in found if part.area > 0.0), key=lambda part: -part.area)


def subtract(first: BaseGeometry, second: BaseGeometry, what: str = "") -> BaseGeometry:
    """``first`` without ``second``.

    Raises:
        GeometryError: the polygon engine failed on every rung; ``what`` names the work.
    """
    return _climb(shapely.difference, first, second, what)


def intersect(first: BaseGeometry, second: BaseGeometry, what: str = "") -> BaseGeometry:
    """What lies in both.

    Raises:
        GeometryError: as for :func:`subtract`.
    """
    return _climb(shapely.intersection, first, second, what)


def unite(parts: Iterable[BaseGeometry]) -> BaseGeometry:
    """Everything that lies in any of the parts."""
    return shapely.union_all(list(parts))


def _climb(
    operation: Callable[..., BaseGeometry], first: BaseGeometry, second: BaseGeometry, what: str
) -> BaseGeometry:
    try:
        return operation(first, second)
    except shapely.errors.GEOSException:
        pass
    failure: Exception | None = None
    for grid in _GRIDS:
        try:
            mended = shapely.make_valid(first), shapely.make_valid(second)
            return operation(*mended, grid_size=grid)
        except shapely.errors.GEOSException as error:
            failure = error
    raise GeometryError(f"the polygon engine failed on {what or 'a region'}: {failure}")


def rings_of(geometry: BaseGeometry) -> list[Points]:
    """All rings [mm]: outer ones counter-clockwise, holes clockwise, first point not repeated."""
    found: list[Points] = []
    for piece in pieces_of(geometry):
        oriented = shapely.orient_polygons(piece)
        for ring in (oriented.exterior, *oriented.interiors):
            found.append(np.asarray(shapely.get_coordinates(ring))[:-1])
    return found


def chains_of(geometry: BaseGeometry) -> list[Points]:
    """All rings as they come, each shape (n, 2) [mm], its first point repeated at the end."""
    if isinstance(geometry, Polygon) and not shapely.get_num_interior_rings(geometry):
        return [] if geometry.is_empty else [shapely.get_coordinates(geometry)]
    parts = shapely.get_parts(geometry)
    areal = parts[shapely.get_type_id(parts) == 3]
    points, owner = shapely.get_coordinates(shapely.get_rings(areal), return_index=True)
    if len(points) == 0:
        return []
    begins = [0, *(np.flatnonzero(owner[1:] != owner[:-1]) + 1).tolist()]
    return [points[begin:end] for begin, end in zip(begins, (*begins[1:], None), strict=True)]


def moments_of(geometry: BaseGeometry) -> tuple[float, float]:
    """Integrals of x and of z over a region [mm3]."""
    area = geometry.area
    if area == 0.0:
        return (0.0, 0.0)
    middle = shapely.centroid(geometry)
    return (area * middle.x, area * middle.y)


def crossing_of(points: Points) -> Point | None:
    """Where a chain of points crosses, touches or retraces itself [mm], first along the chain.

    None when it is simple; a closed chain may meet itself at its ends.
    """
    if shapely.is_simple(shapely.linestrings(points)):
        return None
    pairs = np.stack((points[:-1], points[1:]), axis=1)
    pieces = shapely.linestrings(pairs[(pairs[:, 0] != pairs[:, 1]).any(axis=1)])
    is_closed = bool((points[0] == points[-1]).all())
    last = len(pieces) - 1
    met = shapely.STRtree(pieces).query(pieces, predicate="intersects")
    for first, second in sorted(zip(*met.tolist(), strict=True)):
        if first >= second:
            continue
        common = shapely.intersection(pieces[first], pieces[second])
        follow = second == first + 1 or (is_closed and (first, second) == (0, last))
        if follow and common.length == 0.0:
            continue
        middle = shapely.get_coordinates(common).mean(axis=0)
        return (float(middle[0]), float(middle[1]))
    return None

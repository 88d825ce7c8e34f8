"""What a bit cuts, as exact paths of lines and arcs in (r, h) [mm]."""

from __future__ import annotations

from functools import lru_cache

from profilestack.bits.bit import Bit
from profilestack.bits.wear import largest_radius_of, worn_edge
from profilestack.errors import GeometryError
from profilestack.geometry.crossing import point_on, shares_at_level, shares_of_extremes
from profilestack.geometry.path import SAME_POINT, Path


@lru_cache(maxsize=4096)
def edge_path(bit: Bit) -> Path:
    """Right half of the edge as it really cuts, from the axis up to its end.

    The lowest cutting point is at h = 0. With ``measured`` the edge of the worn bit.
    """
    return worn_edge(bit.shape, bit.cutting_length, bit.measured)


@lru_cache(maxsize=4096)
def silhouette_path(bit: Bit) -> Path:
    """The closed outline of all that the bit cuts, counter-clockwise, flat on top."""
    right = edge_path(bit)
    left = right.moved(lambda point: (-point[0], point[1]), mirrors=True).reversed()
    return right.joined(left)


def edge_height(bit: Bit) -> float:
    """Cutting length as it really is [mm]: shorter by what the tip of a worn bit lost."""
    return edge_path(bit).end[1]


@lru_cache(maxsize=4096)
def largest_radius(bit: Bit) -> float:
    """The largest radius over the edge [mm]."""
    return largest_radius_of(edge_path(bit))


@lru_cache(maxsize=4096)
def has_undercut(bit: Bit) -> bool:
    """Whether the radius decreases anywhere going up, so that wood stays above the edge."""
    radius = 0.0
    for piece in edge_path(bit).segments:
        for share in (*shares_of_extremes(piece, 0), 1.0):
            after = point_on(piece, share)[0]
            if after < radius - SAME_POINT:
                return True
            radius = max(radius, after)
    return False


def radius_at(bit: Bit, height: float) -> float:
    """The largest radius of the edge at a height above the tip [mm].

    Raises:
        GeometryError: the edge is not that high.
    """
    radii = [
        point_on(piece, share)[0]
        for piece in edge_path(bit).segments
        for share in (
            *(s for s in (0.0, 1.0) if abs(point_on(piece, s)[1] - height) <= SAME_POINT),
            *shares_at_level(piece, 1, height),
        )
    ]
    if not radii:
        top = edge_height(bit)
        raise GeometryError(f"the edge reaches from 0 to {top:g} mm, not to {height:g} mm")
    return max(radii)

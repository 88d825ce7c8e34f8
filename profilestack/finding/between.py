"""Places between two samples where stock stands too high."""

from __future__ import annotations

from shapely.geometry import Point as ShapelyPoint

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.ridges import Ridge
from profilestack.geometry.path import Point
from profilestack.geometry.region import intersect, pieces_of


def place_below(ridge: Ridge, comparison: Comparison, allowed: float) -> Point:
    """A place in the stock just below the crest of a ridge [mm], itself higher than ``allowed``.

    The crest lies on the edge of a cut, so that it would seem to be cut away already.
    """
    deep = min(0.03, max(0.001, 0.9 * (ridge.height - allowed)))
    around = ShapelyPoint(ridge.at).buffer(deep, quad_segs=4)
    stock = pieces_of(intersect(comparison.leftover_region, around))
    if not stock:
        return ridge.at
    place = stock[0].representative_point()
    return (place.x, place.y)

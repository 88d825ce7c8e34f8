"""Places between two samples where stock stands too high."""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import Point as ShapelyPoint

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import CHORD
from profilestack.cutting.ridges import Ridge
from profilestack.geometry.path import Point, Points
from profilestack.geometry.region import intersect, pieces_of, subtract
from profilestack.stack.blank import Blank

STEP = 0.02
"""The target is looked at so closely [mm]."""

ON_OUTLINE = 2e-4
"""Places nearer to the blank's outline than this [mm] need not be reached."""


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


def worst_unreached(comparison: Comparison, blank: Blank) -> Points:
    """The place of the target that is farthest from what was cut away, (1, 2) [mm].

    None, shape (0, 2), where the whole target lies on the blank's outline.
    """
    body = np.asarray(shapely.polygons(blank.outline().flatten(CHORD))).item()
    section_inside = subtract(comparison.wanted, comparison.overcut_region)
    removed = subtract(subtract(body, section_inside), comparison.leftover_region)
    line = np.asarray(shapely.linestrings(comparison.target)).item()
    places = np.unique(np.concatenate((np.arange(0.0, line.length, STEP), comparison.places)))
    points = np.asarray(shapely.line_interpolate_point(line, places))
    inner = np.asarray(shapely.distance(shapely.boundary(body), points)) > ON_OUTLINE
    # where the target comes to the outline, the places that lead there count
    leads = np.append(inner[1:], False) | np.insert(inner[:-1], 0, False)
    points = points[inner | leads]
    if len(points) == 0:
        return np.zeros((0, 2))
    shapely.prepare(removed)
    far = np.asarray(shapely.distance(removed, points))
    return np.asarray(shapely.get_coordinates(points[[int(np.argmax(far))]]))

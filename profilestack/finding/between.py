"""The worst place of a target between two samples."""

from __future__ import annotations

import numpy as np
import shapely

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import CHORD
from profilestack.geometry.path import Points
from profilestack.geometry.region import subtract
from profilestack.stack.blank import Blank

STEP = 0.02
"""The target is looked at so closely [mm]."""

ON_OUTLINE = 2e-4
"""Places nearer to the blank's outline than this [mm] need not be reached."""


def worst_unreached(comparison: Comparison, blank: Blank) -> Points:
    """The place of the target that is farthest from what was cut away, (1, 2) [mm].

    None, shape (0, 2), where the whole target lies on the blank's outline.
    """
    body = np.asarray(shapely.polygons(blank.outline().flatten(CHORD))).item()
    section_inside = subtract(comparison.wanted, comparison.overcut_region)
    removed = subtract(subtract(body, section_inside), comparison.leftover_region)
    line = np.asarray(shapely.linestrings(comparison.target)).item()
    places = np.arange(0.0, line.length, STEP)
    points = np.asarray(shapely.line_interpolate_point(line, places))
    inner = np.asarray(shapely.distance(shapely.boundary(body), points)) > ON_OUTLINE
    points = points[inner]
    if len(points) == 0:
        return np.zeros((0, 2))
    shapely.prepare(removed)
    far = np.asarray(shapely.distance(removed, points))
    return np.asarray(shapely.get_coordinates(points[[int(np.argmax(far))]]))

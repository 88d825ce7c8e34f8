"""What of the section a window shows."""

from __future__ import annotations

from functools import lru_cache

import shapely

from profilestack.geometry.path import Point
from profilestack.stack import Blank

CHORD = 0.1
"""A round blank is told by chords that are off by no more than this [mm]."""


def is_blank_in_sight(blank: Blank, low: Point, high: Point) -> bool:
    """Whether any part of the blank's section lies in the box from ``low`` to ``high`` [mm]."""
    return bool(_section(blank).intersects(shapely.box(*low, *high)))


@lru_cache(maxsize=32)
def _section(blank: Blank) -> shapely.Polygon:
    return shapely.Polygon(blank.outline().flatten(CHORD))

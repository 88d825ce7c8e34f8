"""What of the section a window shows."""

from __future__ import annotations

import shapely

from profilestack.geometry.path import Point
from profilestack.stack import Blank

CHORD = 0.1
"""A round blank is told by chords that are off by no more than this [mm]."""


def is_blank_in_sight(blank: Blank, low: Point, high: Point) -> bool:
    """Whether any part of the blank's section lies in the box from ``low`` to ``high`` [mm]."""
    section = shapely.Polygon(blank.outline().flatten(CHORD))
    return bool(section.intersects(shapely.box(*low, *high)))

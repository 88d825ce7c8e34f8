"""The reverse of a wanted profile: a gauge, a scraper or a sanding block."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.drawing.drawing import extent_of
from profilestack.geometry.path import Points
from profilestack.geometry.region import EMPTY, Region, as_region, pieces_of, rings_of, subtract

BODY_HEIGHT = 20.0
"""Of the block above the blank's top [mm]: enough to hold, or to glue to a handle."""

ROUND_CHORD = 0.001
"""Chord error of the rounded corners of the clearance [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Reverse:
    """A counter-section [mm] in the section plane.

    ``lifts`` tells whether it can be set on from above; else it slides on from the end.
    """

    region: Region
    lifts: bool


def reverse_of(cut: Cut, comparison: Comparison | None, clearance: float) -> Reverse:
    """The counter-section of the wanted profile, or of the section as cut where none is wanted.

    Nowhere is it nearer to the profile than ``clearance`` [mm]; along it, it is just that far.
    """
    wood = cut.section if comparison is None else comparison.wanted
    low_x, low_z, high_x, high_z = _face_extent(cut, comparison)
    corners = 16
    if clearance > 0.0:
        turn = 2.0 * math.acos(max(0.0, 1.0 - ROUND_CHORD / clearance))
        corners = max(4, math.ceil(math.pi / 2.0 / turn))
    grown = shapely.buffer(wood, clearance, quad_segs=corners) if clearance > 0.0 else wood
    top = high_z + BODY_HEIGHT
    block = shapely.box(low_x, low_z, high_x, top)
    handle = shapely.box(low_x, top - 1.0, high_x, top)
    left = pieces_of(subtract(block, grown, "the reverse"))
    held = [piece for piece in left if piece.intersects(handle)]
    if not held:
        return Reverse(EMPTY, True)
    region = as_region(shapely.union_all(held))
    return Reverse(region, _lifts(region, grown, (low_x, high_x), (low_z, top)))


def _face_extent(cut: Cut, comparison: Comparison | None) -> tuple[float, float, float, float]:
    """What the reverse reaches over: the blank's width, and up from the lowest place of an open
    profile or from half the height of a whole section.
    """
    low_x, _, high_x, high_z = extent_of(rings_of(cut.blank))
    if comparison is None:
        points: Points = np.concatenate(rings_of(cut.section))
        whole = True
    else:
        points = comparison.target
        whole = bool(np.hypot(*(points[0] - points[-1])) < 1e-6)
    _, least, _, most = extent_of([points])
    return (low_x, (least + most) / 2.0 if whole else least, high_x, high_z)


def _lifts(
    region: Region,
    wood: shapely.Geometry,
    across: tuple[float, float],
    up: tuple[float, float],
) -> bool:
    """Whether no wood stands above the block anywhere, looked at along 500 plumb lines."""
    places = np.linspace(*across, 502)[1:-1]
    lines = shapely.linestrings([((x, up[0]), (x, up[1])) for x in places])
    block = shapely.bounds(shapely.intersection(lines, region))[:, 1]
    stands = shapely.bounds(shapely.intersection(lines, wood))[:, 3]
    return not bool((stands > block + 1e-6).any())

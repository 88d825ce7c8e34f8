"""How an edge meets the wood that it takes: how thick the chip is, and on which side."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_path
from profilestack.cutting.nearest import Numbers
from profilestack.planning.plan import Side

LEVELS = 11
"""The chip is looked at on so many levels of a cut."""

ONE_SIDED = 0.1
"""Where less than this share lies on the other side, the bit cuts on one side alone: that side
decides which way is against the rotation (judgement)."""


@dataclass(frozen=True, slots=True)
class Engagement:
    """``thinning``: the thickest chip as a share of the feed per tooth; the side that cuts."""

    thinning: float
    side: Side


def engagement_of(bit: Bit, piece: BaseGeometry, axis: float, tip: float) -> Engagement:
    """How a bit meets ``piece`` on the bench, its axis at ``axis`` and its tip at ``tip`` [mm].

    On each level the chip is that of a side cut of the width met there on each side of the axis:
    2 fz sqrt((ae/D)(1 - ae/D)) up to half the diameter (H. El-Hofy, *Fundamentals of Machining
    Processes*, sec. 6.3.1), D the diameter on that level; square to a sloping edge it is thinner
    by the sine of the edge's angle to the plane of rotation.
    """
    if piece.is_empty or piece.area < 1e-6:
        return Engagement(1.0, "none")
    left, low, right, high = shapely.bounds(piece)
    heights = np.linspace(low, high, LEVELS + 2)[1:-1]
    ends = np.empty((2 * LEVELS, 2, 2))
    ends[:LEVELS, 0, 0], ends[:LEVELS, 1, 0] = left - 1.0, axis
    ends[LEVELS:, 0, 0], ends[LEVELS:, 1, 0] = axis, right + 1.0
    ends[:, :, 1] = np.tile(heights, 2)[:, None]
    if left > axis:
        ends[:LEVELS, 0, 0] = axis - 1.0
    if right < axis:
        ends[LEVELS:, 1, 0] = axis + 1.0
    met = np.asarray(shapely.length(shapely.intersection(shapely.linestrings(ends), piece)))
    radii, sines = _edge_at(bit, np.tile(heights, 2) - tip)
    share = np.minimum(met / (2.0 * radii), 0.5)
    thinning = float((2.0 * np.sqrt(share * (1.0 - share)) * sines).max())
    on_left, on_right = float(met[:LEVELS].sum()), float(met[LEVELS:].sum())
    both = on_left + on_right
    if both <= 0.0:
        return Engagement(1.0, "none")
    side: Side = "both"
    if on_left / both < ONE_SIDED:
        side = "right"
    elif on_right / both < ONE_SIDED:
        side = "left"
    return Engagement(max(thinning, 0.02), side)


@lru_cache(maxsize=512)
def _edge_table(bit: Bit) -> tuple[Numbers, Numbers, Numbers]:
    """Heights (n,), radii (n,) [mm], and the sines of the pieces between them (n - 1,)."""
    points = edge_path(bit).flatten(0.02)
    steps = np.diff(points, axis=0)
    lengths = np.hypot(steps[:, 0], steps[:, 1])
    sines = np.abs(steps[:, 1]) / np.where(lengths > 0.0, lengths, 1.0)
    return points[:, 1], points[:, 0], sines


def _edge_at(bit: Bit, heights: Numbers) -> tuple[Numbers, Numbers]:
    """Radius of the edge at heights over the tip [mm], and the sine of its angle there."""
    table, radii, sines = _edge_table(bit)
    radius = np.maximum(np.interp(heights, table, radii), 1e-3)
    piece = np.clip(np.searchsorted(table, heights, side="right") - 1, 0, len(sines) - 1)
    return radius, sines[piece]

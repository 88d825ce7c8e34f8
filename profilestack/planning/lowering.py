"""The upper outline of kept wood, and how low a tool can hang over it.

Outline and tool are both chains of straight pieces, so the contact is always at a vertex of one
of them: looking at these alone is exact, and quicker than looking at many columns.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from profilestack.bits.bit import NUT_DIAMETER, Bit
from profilestack.bits.edge import edge_path
from profilestack.cutting.cut import CHORD
from profilestack.cutting.nearest import Numbers
from profilestack.geometry.path import Points

LOWEST = -1e9
"""Height of the kept wood where there is none [mm]."""

TOUCH = 1e-6
"""Tool and wood may touch: the tool is seen as narrower by this on either side [mm]."""

_APART = 1e-8
"""The two heights at a step of the outline stand so far from it [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Skyline:
    """The highest kept wood over every place of a bench.

    ``places`` (n,) [mm] rise; between two of them ``heights`` (n,) [mm] change evenly, and
    outside there is no wood. ``highest`` has in row k the maxima of 2^k neighbouring heights.
    """

    places: Numbers
    heights: Numbers
    highest: tuple[Numbers, ...]

    def over(self, places: Numbers) -> Numbers:
        """Height of the wood at places [mm] of any shape."""
        found = np.interp(places, self.places, self.heights, left=LOWEST, right=LOWEST)
        return np.asarray(found, dtype=np.float64)

    def highest_between(self, begins: Numbers, ends: Numbers) -> Numbers:
        """The highest wood between places [mm], each shape (n,), begins below ends."""
        first = np.searchsorted(self.places, begins)
        count = np.searchsorted(self.places, ends) - first
        best = np.maximum(self.over(begins), self.over(ends))
        for level, row in enumerate(self.highest):
            here = np.flatnonzero((count >= 2**level) & (count < 2 ** (level + 1)))
            if len(here):
                start, stop = first[here], first[here] + count[here] - 2**level
                best[here] = np.maximum(best[here], np.maximum(row[start], row[stop]))
        return best


def skyline_of(chains: Sequence[Points]) -> Skyline:
    """The upper outline of regions, whose rings are ``chains``, each (n, 2) [mm] and closed."""
    starts = np.concatenate([chain[:-1] for chain in chains])
    ends = np.concatenate([chain[1:] for chain in chains])
    turned = starts[:, 0] > ends[:, 0]
    starts[turned], ends[turned] = ends[turned], starts[turned].copy()
    places = np.concatenate((starts[:, 0], ends[:, 0]))
    places.sort()
    keep = np.ones(len(places), dtype=bool)
    np.greater(places[1:] - places[:-1], 4.0 * _APART, out=keep[1:])
    places = places[keep]
    # no two edges cross, so between two places next to each other one edge is the highest
    first = np.searchsorted(places, starts[:, 0] - _APART)
    last = np.searchsorted(places, ends[:, 0] - _APART)
    counts = np.maximum(last - first, 0)
    edge = np.repeat(np.arange(len(counts)), counts)
    between = np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts) + first[edge]
    heights = np.full((len(places) - 1, 2), LOWEST)
    run = ends[edge, 0] - starts[edge, 0]
    for side in (0, 1):
        share = np.clip((places[between + side] - starts[edge, 0]) / run, 0.0, 1.0)
        z = starts[edge, 1] + share * (ends[edge, 1] - starts[edge, 1])
        np.maximum.at(heights[:, side], between, z)
    around = np.column_stack((places[:-1] + _APART, places[1:] - _APART))
    return _searchable(around.ravel(), heights.ravel())


def _searchable(places: Numbers, heights: Numbers) -> Skyline:
    # a vertex between two even pieces needs to be there once only
    same = np.zeros(len(heights), dtype=bool)
    same[2::2] = np.abs(heights[2::2] - heights[1:-1:2]) < 1e-9
    places, heights = places[~same], heights[~same]
    rows = [heights]
    while 2 ** len(rows) <= len(heights):
        wide = 2 ** (len(rows) - 1)
        rows.append(np.maximum(rows[-1][:-wide], rows[-1][wide:]))
    return Skyline(places, heights, tuple(rows))


@dataclass(frozen=True, slots=True, eq=False)
class Underside:
    """How a tool looks from below: the lowest height at which it is wider than each radius.

    ``radii`` and ``heights`` (n,) [mm] above the tip, neither ever falling; at a step a radius
    stands twice.
    """

    radii: Numbers
    heights: Numbers


def underside_of(points: Points) -> Underside:
    """The underside of a tool told as radius and height (n, 2) [mm] on the way up."""
    radii, heights = [0.0], [float(points[0, 1])]
    for (before, low), (after, high) in itertools.pairwise(points.tolist()):
        widest = radii[-1]
        if after <= widest:
            continue
        if before < widest:  # it comes out from under a wider part
            low += (widest - before) / (after - before) * (high - low)
        if low > heights[-1]:
            radii.append(widest)
            heights.append(low)
        radii.append(after)
        heights.append(high)
    return Underside(np.array(radii), np.array(heights))


def lowest_tips(under: Underside, wood: Skyline, axes: Numbers) -> Numbers:
    """How low the tip can come over each axis (n,) [mm], ``LOWEST`` where nothing is met.

    ``axes`` must rise.
    """
    tips = np.full(len(axes), LOWEST)
    beside = np.maximum(under.radii - TOUCH, 0.0)
    for side in (-1.0, 1.0):
        # axes in the inner loop: places that rise are found quickly
        over = wood.over(axes[None, :] + side * beside[:, None])
        np.maximum(tips, (over - under.heights[:, None]).max(axis=0), out=tips)
    radius = float(under.radii[-1]) - TOUCH
    first = np.searchsorted(axes, wood.places - radius, side="right")
    last = np.searchsorted(axes, wood.places + radius, side="left")
    counts = np.maximum(last - first, 0)
    vertex = np.repeat(np.arange(len(counts)), counts)
    axis = np.arange(len(vertex)) - np.repeat(np.cumsum(counts) - counts, counts)
    axis += first[vertex]
    off = np.abs(wood.places[vertex] - axes[axis]) + TOUCH
    low = wood.heights[vertex] - np.interp(off, under.radii, under.heights)
    np.maximum.at(tips, axis, low)
    return tips


@lru_cache(maxsize=1024)
def underside(bit: Bit) -> Underside:
    """The bit from below: pilot, edge and shank; the collet nut is seen apart.

    The edge is told as finely as the engine tells it, so that both agree on what it touches.
    """
    points = edge_path(bit).flatten(CHORD)
    parts = [points, np.array([(bit.shank / 2.0, points[-1, 1])])]
    if bit.pilot_diameter is not None and bit.pilot_length is not None:
        pilot = bit.pilot_diameter / 2.0
        parts.insert(0, np.array([(0.0, -bit.pilot_length), (pilot, -bit.pilot_length)]))
    return underside_of(np.concatenate(parts))


def lowest_allowed(bit: Bit, wood: Skyline, axes: Numbers) -> Numbers:
    """How low bed and collet nut let the tip come over each axis (n,) [mm]."""
    nut = NUT_DIAMETER / 2.0 - TOUCH
    under_nut = wood.highest_between(axes - nut, axes + nut) - bit.reach
    return np.asarray(np.maximum(under_nut, bit.pilot_length or 0.0))

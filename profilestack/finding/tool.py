"""A bit told in tables: what it cuts at each height."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_path, has_undercut
from profilestack.cutting.cut import CHORD as ENGINE_CHORD
from profilestack.cutting.nearest import Numbers
from profilestack.geometry.path import Points

STEP = 0.005
"""Heights are told in steps of this [mm]."""

HAIR = 1e-6
"""So far inside the edge a place has to be to count as cut away [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Tool:
    """What a bit cuts.

    ``radii`` (n,) is the radius [mm] at the height k x ``STEP`` above the tip; ``radius`` and
    ``edge`` are the largest radius and the length of its edge [mm]; ``chain`` (m, 2) is the edge
    itself, radius by rising height [mm].
    """

    bit: Bit
    radii: Numbers
    radius: float
    edge: float
    undercut: bool
    chain: Points

    def holds(self, off: Numbers, above: Numbers) -> npt.NDArray[np.bool_]:
        """Whether places ``off`` the axis and ``above`` the tip (n,) [mm] are cut away.

        The table decides all but the places beside the edge, which are compared with it exactly.
        """
        place = above / STEP
        low = np.clip(np.floor(place).astype(np.intp), 0, len(self.radii) - 2)
        first, second = self.radii[low], self.radii[low + 1]
        # a place on the very edge is not cut away: a crest found by the engine lies there
        inside = (above >= HAIR) & (above <= self.edge - HAIR)
        held = inside & (off <= np.minimum(first, second) - HAIR)
        close = np.flatnonzero(inside & ~held & (off <= np.maximum(first, second)))
        if len(close):
            # of several radii at one height the last vertex counts: going up it is the wider one
            radius = np.interp(above[close], self.chain[:, 1], self.chain[:, 0])
            held[close] = off[close] <= radius - HAIR
        return held

    def grown(self, distance: float) -> Numbers:
        """The radii of the cut grown by ``distance`` [mm] on all sides, from -distance upward.

        Entry k is at the height k x ``STEP`` - distance; negative where nothing is reached.
        """
        return _grown(self.bit, distance)


@lru_cache(maxsize=1024)
def tool_of(bit: Bit) -> Tool:
    """The tables of a bit."""
    # as finely as the engine tells it, so that both agree on what is cut
    points = edge_path(bit).flatten(ENGINE_CHORD)
    edge, radius = float(points[-1, 1]), float(points[:, 0].max())
    heights = np.arange(np.floor(edge / STEP) + 1.0) * STEP
    radii = _radii_at(points, heights)
    rising = bool((np.diff(points[:, 1]) >= 0.0).all())
    chain = points if rising else np.column_stack((radii, heights))
    return Tool(bit, radii, radius, edge, has_undercut(bit), chain)


def _radii_at(points: Points, heights: Numbers) -> Numbers:
    """The largest radius at each height [mm], of a chain going up."""
    radii = np.zeros(len(heights))
    for start, end in itertools.pairwise(points):
        low, high = sorted((start[1], end[1]))
        first, last = np.searchsorted(heights, (low - 1e-9, high + 1e-9))
        if first == last:
            continue
        rise = end[1] - start[1]
        if abs(rise) < 1e-12:
            here = np.full(last - first, max(start[0], end[0]))
        else:
            share = np.clip((heights[first:last] - start[1]) / rise, 0.0, 1.0)
            here = start[0] + share * (end[0] - start[0])
        np.maximum(radii[first:last], here, out=radii[first:last])
    return radii


@lru_cache(maxsize=1024)
def _grown(bit: Bit, distance: float) -> Numbers:
    radii = tool_of(bit).radii
    reach = int(np.floor(distance / STEP))
    grown = np.full(len(radii) + 2 * reach, -1.0)
    for shift in range(-reach, reach + 1):
        more = np.sqrt(max(0.0, distance**2 - (shift * STEP) ** 2))
        part = grown[reach + shift : reach + shift + len(radii)]
        np.maximum(part, radii + more, out=part)
    return grown

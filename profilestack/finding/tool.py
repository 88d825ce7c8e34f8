"""A bit told in tables: what it cuts at each height, how low it can hang over kept wood."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import numpy.typing as npt

from profilestack.bits.bit import NUT_DIAMETER, Bit
from profilestack.bits.edge import edge_path, has_undercut
from profilestack.cutting.nearest import Numbers
from profilestack.finding.bench import LOWEST
from profilestack.geometry.path import Points

STEP = 0.005
"""Heights are told in steps of this [mm]."""

CHORD = 1e-4

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
    points = edge_path(bit).flatten(CHORD)
    edge, radius = float(points[-1, 1]), float(points[:, 0].max())
    heights = np.arange(int(np.floor(edge / STEP)) + 1) * STEP
    radii = _radii_at(points, heights)
    rising = bool((np.diff(points[:, 1]) >= 0.0).all())
    chain = points if rising else np.column_stack((radii, heights))
    return Tool(bit, radii, radius, edge, has_undercut(bit), chain)


def _radii_at(points: Points, heights: Numbers) -> Numbers:
    """The largest radius at each height [mm], of a chain going up."""
    radii = np.zeros(len(heights))
    for start, end in zip(points[:-1], points[1:], strict=True):
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


@lru_cache(maxsize=2048)
def hang(bit: Bit, cell: float) -> Numbers:
    """Lowest height of the edge above the tip over the cells beside the axis [mm].

    Entry m is over the cell from m x ``cell`` to (m + 1) x ``cell`` right of the axis (and its
    mirror image left of it): the edge's height at its inner border, where it hangs lowest.
    """
    tool = tool_of(bit)
    points = edge_path(bit).flatten(CHORD)
    # from outside inward, the lowest height so far: under an overhang only its underside counts
    order = np.argsort(points[:, 0], kind="stable")
    radii, heights = points[order, 0], points[order, 1]
    lowest = np.minimum.accumulate(heights[::-1])[::-1]
    radii, index = np.unique(radii, return_index=True)
    inner = np.arange(int(np.ceil((tool.radius - 1e-6) / cell))) * cell
    return np.interp(inner, radii, lowest[index])


@dataclass(frozen=True, slots=True, eq=False)
class Dropper:
    """Lets one bit down on kept wood, told as heights over cells of ``cell`` [mm].

    Edge, shank, collet nut and pilot all keep clear of kept wood; the edge of an undercut bit is
    taken as if it were open above. Node j is where the axis stands at (j - pad) x ``cell``.
    """

    pad: int
    floor: Numbers
    windows: npt.NDArray[np.float32]
    profile: npt.NDArray[np.float32]

    def at(self, nodes: npt.NDArray[np.intp]) -> Numbers:
        """How low the tip can come at each of the nodes [mm]."""
        low = (self.windows[nodes] - self.profile).max(axis=1).astype(float)
        # single precision is off by less than 1e-5 mm at this size: stay on the safe side
        return np.maximum(low + 1e-5, self.floor[nodes])


def dropper(bit: Bit, heights: Numbers, cell: float) -> Dropper:
    """Prepare to let ``bit`` down anywhere over, or just beside, a blank of these heights."""
    from scipy.ndimage import maximum_filter1d

    right = hang(bit, cell)
    profile = np.concatenate((right[::-1], right)).astype(np.float32)
    half = len(right)
    widest = max(half, int(np.ceil(max(NUT_DIAMETER, bit.shank) / 2.0 / cell)))
    beside = np.full(half + widest, LOWEST)
    padded = np.concatenate((beside, heights, beside))

    def flat(radius: float, above: float) -> Numbers:
        cells = int(np.ceil((radius - 1e-6) / cell))
        # a node lies between two cells: an even window, half on either side
        wide = maximum_filter1d(padded, 2 * cells, mode="constant", cval=LOWEST)
        return wide[widest : widest + len(heights) + 2 * half + 1] - above

    floor = flat(bit.shank / 2.0, edge_path(bit).end[1])
    np.maximum(floor, flat(NUT_DIAMETER / 2.0, bit.reach), out=floor)
    np.maximum(floor, 0.0, out=floor)  # the bed
    if bit.pilot_diameter is not None and bit.pilot_length is not None:
        np.maximum(floor, flat(bit.pilot_diameter / 2.0, -bit.pilot_length), out=floor)
        np.maximum(floor, bit.pilot_length, out=floor)  # the bed stops the bearing too
    inner = padded[widest - half : len(padded) - widest + half].astype(np.float32)
    windows = np.lib.stride_tricks.sliding_window_view(inner, 2 * half)
    return Dropper(half, floor, windows, profile)

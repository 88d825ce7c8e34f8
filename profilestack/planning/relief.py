"""Relief passes: clear what would stand, so that edges, shanks and nuts have room.

The stock is seen in columns across the bed, cleared from the top down: a relief pass reaches a
column only when nothing stands above its edge. One after another the pass is taken that clears
most of what has to go for what it costs.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import NUT_DIAMETER, Bit
from profilestack.bits.edge import edge_height, edge_path, largest_radius
from profilestack.cutting.nearest import Numbers
from profilestack.cutting.stroke import lie_of
from profilestack.geometry.region import chains_of
from profilestack.planning.lowering import (
    Skyline,
    lowest_allowed,
    lowest_tips,
    skyline_of,
    underside,
)
from profilestack.stack import Pass, Setup
from profilestack.stack.blank import Blank

COLUMN = 0.25
"""Width of a column [mm]."""

OFFSETS = 0.5
"""Offsets of relief passes are tried every so often [mm]."""

OVERLAP = 0.3
"""Relief passes reach so much further down than they must [mm], where they may."""

ROOM = 0.05
"""Shank and nut keep so far from standing stock [mm]."""

LEAST = 0.05
"""A relief pass clears at least so much of what has to go [mm2], if there is as much."""

MOST = 60
"""More relief passes than this are not planned for one setup."""

NEW_BIT = 1.5
"""Taking a bit that the stack does not use yet counts as so many passes more."""


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What a relief pass meets in one setup, by columns across the bed [mm].

    ``kept`` is the wood that must stay, ``top`` the top of standing stock, ``wanted`` how far
    down a column has to be cleared (infinite: not at all).
    """

    kept: Skyline
    top: Numbers
    wanted: Numbers


def relief_passes(
    blank: Blank,
    setup: Setup,
    kept: BaseGeometry,
    stock: BaseGeometry,
    unwanted: BaseGeometry,
    bits: Sequence[Bit],
    used: frozenset[str],
    resolution: float,
) -> list[Pass]:
    """Passes in ``setup`` that clear ``unwanted`` out of ``stock`` without touching ``kept``.

    ``bits`` may be taken (without pilots: those go through no wood), those in ``used`` at no
    extra cost. Offsets and depths are whole numbers
    of ``resolution`` [mm]. What cannot be cleared is left; the passes come top down.
    """
    lie = lie_of(blank, setup.angle)
    count = int(np.ceil(lie.width / COLUMN))
    to_bench = [
        [lie.to_bench(chain) for chain in chains_of(region)] for region in (kept, stock, unwanted)
    ]
    ground = Ground(
        skyline_of(to_bench[0]),
        np.maximum(_tops(to_bench[1], count, -np.inf), -1e6),
        -_tops([-chain * (-1.0, 1.0) for chain in to_bench[2]], count, -np.inf),
    )
    tables = [_Table.of(bit, ground, count, lie.height) for bit in bits]
    found: list[Pass] = []
    owned = set(used)
    top = ground.top.copy()
    least = min(LEAST, 0.3 * unwanted.area)
    while len(found) < MOST:
        best_gain, best = least, None
        for table in tables:
            gain, place = table.best(top, ground.wanted)
            gain /= 1.0 if table.bit.id in owned else 1.0 + NEW_BIT
            if gain > best_gain * (1.0 + 1e-9):
                best_gain, best = gain, (table, place)
        if best is None:
            break
        table, (index, tip) = best
        depth = _rounded(lie.height - tip, lie.height - table.lowest[best[1][0]], resolution)
        if depth <= 0.0:
            break
        after = table.cleared(top, index, lie.height - depth)
        if float((top - after)[np.isfinite(ground.wanted)].sum()) * COLUMN < least:
            break  # rounding took it all
        top = after
        owned.add(table.bit.id)
        offset = round(float(np.round(table.axes[index] / resolution) * resolution), 9)
        found.append(Pass(table.bit.id, offset, float(depth), setup.name, relief=True))
    return found


def _rounded(asked: float, deepest: float, resolution: float) -> float:
    """A depth in whole resolutions: the next deeper one, unless that is more than is allowed."""
    deeper = np.ceil(asked / resolution - 1e-6) * resolution
    allowed = np.floor(deepest / resolution + 1e-6) * resolution
    return round(float(min(deeper, allowed)), 9)  # without the dust of the product


@dataclass(frozen=True, slots=True, eq=False)
class _Table:
    """One bit over the columns: which columns are under it at each axis, and how low it may go."""

    bit: Bit
    axes: Numbers
    edge: float
    hang: Numbers
    columns: np.ndarray
    inside: np.ndarray
    lowest: Numbers

    @classmethod
    def of(cls, bit: Bit, ground: Ground, count: int, height: float) -> _Table:
        radius = max(largest_radius(bit), bit.shank / 2.0)
        half = int(np.ceil(radius / COLUMN))
        points = edge_path(bit).flatten(0.01)
        order = np.argsort(points[:, 0], kind="stable")
        radii = points[order, 0]
        lowest_edge = np.minimum.accumulate(points[order, 1][::-1])[::-1]
        beside = (np.arange(2 * half) - half + 0.5) * COLUMN
        outer = np.abs(beside) + COLUMN / 2.0
        edge = edge_height(bit)
        # what is cut for certain
        sure = np.where(outer <= largest_radius(bit) + 1e-9, np.interp(outer, radii, lowest_edge),
                        np.inf)  # fmt: skip
        stride = max(1, round(OFFSETS / COLUMN))
        nodes = np.arange(-half, count + half + 1, stride)
        columns = nodes[:, None] + np.arange(-half, half)[None, :]
        inside = (columns >= 0) & (columns < count)
        clipped = np.clip(columns, 0, count - 1)
        axes = np.asarray(nodes * COLUMN, dtype=np.float64)
        lowest = lowest_tips(underside(bit), ground.kept, axes)
        np.maximum(lowest, lowest_allowed(bit, ground.kept, axes), out=lowest)
        return cls(bit, axes, edge, sure, clipped, inside, lowest)

    def best(self, top: Numbers, wanted: Numbers) -> tuple[float, tuple[int, float]]:
        """The largest area cleared at one place [mm2], and the place: index of the axis, tip."""
        standing = np.where(self.inside, top[self.columns], -np.inf)
        need = np.where(self.inside, wanted[self.columns], np.inf)
        # nothing may stand above the edge or beside the nut, or shank or nut would rub
        tips = np.maximum(self.lowest, standing.max(axis=1) - self.edge + ROOM)
        tips = np.maximum(tips, self._beside_nut(top) - self.bit.reach + ROOM)
        cut = np.isfinite(self.hang)[None, :] & np.isfinite(need)
        # and no deeper than is asked for
        hang = np.where(np.isfinite(self.hang), self.hang, 0.0)
        asked = np.where(cut, need, np.inf) - hang
        asked = asked.min(axis=1) - OVERLAP
        tips = np.maximum(tips, np.where(np.isfinite(asked), asked, 1e9))
        floor = np.maximum(tips[:, None] + hang, need)
        gain = np.where(cut, np.maximum(standing - floor, 0.0), 0.0).sum(axis=1) * COLUMN
        index = int(np.argmax(gain))
        return float(gain[index]), (index, float(tips[index]))

    def _beside_nut(self, top: Numbers) -> Numbers:
        """The highest stock under the collet nut at each axis [mm]."""
        from scipy.ndimage import maximum_filter1d

        half = int(np.ceil(NUT_DIAMETER / 2.0 / COLUMN))
        beside = np.full(self.columns.shape[1] + half, -np.inf)
        highest = maximum_filter1d(np.concatenate((beside, top, beside)), 2 * half)
        places = np.round(self.axes / COLUMN).astype(int) + len(beside)
        return np.asarray(highest[places])

    def cleared(self, top: Numbers, index: int, tip: float) -> Numbers:
        """The stock's tops after a pass."""
        after = top.copy()
        columns = self.columns[index][self.inside[index]]
        level = (tip + self.hang)[self.inside[index]]
        after[columns] = np.minimum(after[columns], level)
        return after


def _tops(chains: list[np.ndarray], count: int, nothing: float) -> Numbers:
    """The highest point of some regions over each column [mm]."""
    tops = np.full(count, nothing)
    for chain in chains:
        dense = shapely.get_coordinates(
            shapely.segmentize(shapely.linestrings(chain), COLUMN / 4.0)
        )
        column = np.clip(np.floor(dense[:, 0] / COLUMN + 1e-9).astype(int), 0, count - 1)
        np.maximum.at(tops, column, dense[:, 1])
    return tops

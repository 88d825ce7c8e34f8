"""Candidate passes: every bit let down as far as the overcut allows, at every place across.

At one offset the deepest depth that keeps clear removes all that a shallower one would, so one
candidate a bit and offset is enough. A bit with an undercut enters from the end and may have
several separate depths at one offset: the deepest of each stretch is a candidate.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from profilestack.bits.bit import Bit
from profilestack.cutting.nearest import Numbers
from profilestack.finding.bench import Bench
from profilestack.finding.nestling import middles, nestling
from profilestack.finding.ruled import tips_on_grid
from profilestack.finding.tool import tool_of
from profilestack.finding.undercut import undercut_places
from profilestack.planning.lowering import lowest_allowed, lowest_tips, underside

Indices = npt.NDArray[np.intp]

WELL = 0.05
"""Between two offsets closer ones are tried where a bit might come so much lower [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Candidates:
    """Candidate passes of one bit in one setup: axis and tip in bench coordinates, (n,) [mm]."""

    bit: Bit
    bench: Bench
    axes: Numbers
    tips: Numbers

    def __len__(self) -> int:
        return len(self.axes)


def candidates_of(
    bit: Bit,
    bench: Bench,
    resolution: float,
    lowest: float,
    highest: float,
    from_end: bool = True,
) -> Candidates:
    """All candidate passes of a bit, unless ``from_end`` is False those let down from above alone.

    Offsets and depths are whole numbers of ``resolution`` [mm]; the axis stays between ``lowest``
    and ``highest`` [mm] (a curved run keeps bits away from its middle).
    """
    axes, tips = _dropped(bit, bench)
    depths = _whole_depths(tips, bench, resolution)
    if from_end and tool_of(bit).undercut and bench.hanging:
        under, lows, highs = undercut_places(bit, bench)
        deep = _whole_depths(lows, bench, resolution)
        fits = bench.top - deep <= highs  # a rounded depth may meet what hangs over it
        axes, depths = np.concatenate((axes, under[fits])), np.concatenate((depths, deep[fits]))
    good = (depths > 1e-6) & (axes >= lowest) & (axes <= highest)
    if bit.pilot_diameter is not None:  # it runs along a side of the blank, never through wood
        beside = bit.pilot_diameter / 2.0 - 1e-6
        good &= (axes <= -beside) | (axes >= bench.lie.width + beside)
    return Candidates(bit, bench, axes[good], bench.top - depths[good])


def _whole_depths(tips: Numbers, bench: Bench, resolution: float) -> Numbers:
    depths = np.floor((bench.top - tips) / resolution + 1e-6) * resolution
    return np.asarray(depths, dtype=np.float64)


def _dropped(bit: Bit, bench: Bench) -> tuple[Numbers, Numbers]:
    """Axes and tips of a bit let down from above [mm]."""
    under, wood = underside(bit), bench.wood
    radius, wide = float(under.radii[-1]), bench.ruled.spacing
    begin, end = -int(radius / wide) - 1, int((bench.lie.width + radius) / wide) + 1
    coarse = np.arange(begin, end + 1)
    axes = coarse.astype(np.float64) * wide
    tips, bounds = tips_on_grid(under, bench.ruled, begin, end + 1 - begin)
    fine = _fine_axes(coarse, tips, bounds, bench)
    if len(fine):
        axes = np.concatenate((axes, fine))
        tips = np.concatenate((tips, lowest_tips(under, wood, fine)))
        order = np.argsort(axes, kind="stable")
        axes, tips = axes[order], tips[order]
        # of the places between only those are worth a pass that lie in a narrow well, or where
        # the bit touches on two sides
        on_grid = order < len(coarse)
        kept = on_grid | (tips < _lower_neighbours(tips, on_grid) - WELL)
        kept[nestling(tips, bench.fine)] = True
        kept[middles(axes, tips, kept)] = True
        axes, tips = axes[kept], tips[kept]
    np.maximum(tips, lowest_allowed(bit, wood, axes), out=tips)
    return axes, tips


def _lower_neighbours(tips: Numbers, on_grid: npt.NDArray[np.bool_]) -> Numbers:
    """For each place the lower one of the tips at the grid's places on its two sides [mm]."""
    grid = np.flatnonzero(on_grid)
    after = np.searchsorted(grid, np.arange(len(tips)))
    left, right = np.maximum(after - 1, 0), np.minimum(after, len(grid) - 1)
    return np.minimum(tips[grid[left]], tips[grid[right]])


def _fine_axes(coarse: Indices, tips: Numbers, bounds: Numbers, bench: Bench) -> Numbers:
    """Axes between those of the grid where the bit may find a place of its own."""
    ends = np.minimum(tips[:-1], tips[1:])
    deep = ends - bounds > WELL
    near = nestling(tips, bench.ruled.spacing)
    deep[np.maximum(near - 1, 0)] = True
    deep[np.minimum(near, len(deep) - 1)] = True
    between = np.arange(1, round(bench.ruled.spacing / bench.fine))
    return (coarse[:-1][deep][:, None] * bench.ruled.spacing + between * bench.fine).ravel()

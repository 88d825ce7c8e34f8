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
from profilestack.finding.tool import dropper, tool_of
from profilestack.finding.undercut import undercut_depths

Indices = npt.NDArray[np.intp]

GRID = 0.1
"""Offsets are tried every so often [mm], and at every cell where a bit nestles between contacts."""


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
    bit: Bit, bench: Bench, resolution: float, lowest: float, highest: float
) -> Candidates:
    """All candidate passes of a bit.

    Offsets and depths are whole numbers of ``resolution`` [mm]; the axis stays between ``lowest``
    and ``highest`` [mm] (a curved run keeps bits away from its middle).
    """
    axes, tips = _dropped(bit, bench)
    if tool_of(bit).undercut and bench.overhangs:
        under_axes, under_tips = undercut_depths(bit, bench, GRID)
        axes, tips = np.concatenate((axes, under_axes)), np.concatenate((tips, under_tips))
    depths = np.floor((bench.top - tips) / resolution + 1e-6) * resolution
    good = (depths > 1e-6) & (axes >= lowest) & (axes <= highest)
    return Candidates(bit, bench, axes[good], bench.top - depths[good])


def _dropped(bit: Bit, bench: Bench) -> tuple[Numbers, Numbers]:
    fall = dropper(bit, bench.heights, bench.cell)
    stride = max(1, round(GRID / bench.cell))
    first = fall.pad % stride  # so that offset 0 is on the grid
    coarse = np.arange(first, len(bench.heights) + 2 * fall.pad + 1, stride)
    tips = fall.at(coarse)
    near = _nestling(tips, bench.cell * stride)
    spread = (coarse[near][:, None] + np.arange(-stride, stride + 1)[None, :]).ravel()
    fine = np.unique(spread[(spread >= 0) & (spread < len(bench.heights) + 2 * fall.pad + 1)])
    fine = np.setdiff1d(fine, coarse)
    nodes = np.concatenate((coarse, fine))
    tips = np.concatenate((tips, fall.at(fine)))
    order = np.argsort(nodes)
    return (nodes[order] - fall.pad) * bench.cell, tips[order]


def _nestling(tips: Numbers, step: float) -> Indices:
    """Where a bit touches on two sides at once: the lowest places and upward bends."""
    before, here, after = tips[:-2], tips[1:-1], tips[2:]
    lowest = (here <= before) & (here <= after) & ((here < before) | (here < after))
    bend = before - 2.0 * here + after > 0.2 * step  # a wall is a bend too, at its foot
    return np.flatnonzero(lowest | bend) + 1

"""Depths at which a bit that is wider below than above keeps clear of kept wood."""

from __future__ import annotations

import numpy as np

from profilestack.bits.bit import NUT_DIAMETER, Bit
from profilestack.cutting.nearest import Numbers
from profilestack.finding.bench import Bench
from profilestack.finding.tool import STEP, tool_of


def undercut_depths(bit: Bit, bench: Bench, grid: float) -> tuple[Numbers, Numbers]:
    """Axes and tips [mm] of the candidates that hang under kept wood.

    The bit enters from the end of the part, so it may stand under kept wood. Each column of kept
    wood forbids the tips at which some part of the tool would be inside it; the lowest tip of
    each stretch between is a candidate. Offsets are tried in steps of ``grid`` [mm], and closer
    around those at which the bit finds such a stretch below the one open to the sky.
    """
    low, high = _tool_columns(bit, bench)
    node, bottoms, tops = bench.columns
    hanging = np.unique(node[np.r_[False, node[1:] == node[:-1]]]) * bench.cell
    reach = bench.cell * len(low)
    stride = max(1, round(grid / bench.cell))
    begin = int(np.floor((hanging.min() - reach) / bench.cell))
    end = int(np.ceil((hanging.max() + reach) / bench.cell))
    found: dict[int, list[float]] = {}

    def look(axis: int) -> None:
        near = np.flatnonzero(np.abs(node - axis) < len(low))
        side = np.abs(node[near] - axis)
        gaps = _lowest_of_gaps(bottoms[near] - high[side], tops[near] - low[side], bench.top)
        found[axis] = gaps[:-1]  # the last one is open to the sky

    for axis in range(begin - begin % stride, end + 1, stride):
        look(axis)
    for axis in [axis for axis, gaps in found.items() if gaps]:
        for close in range(axis - stride, axis + stride + 1):
            if close not in found:
                look(close)
    pairs = [(axis * bench.cell, tip) for axis, gaps in sorted(found.items()) for tip in gaps]
    table = np.array(pairs).reshape(-1, 2)
    return table[:, 0], table[:, 1]


def _tool_columns(bit: Bit, bench: Bench) -> tuple[Numbers, Numbers]:
    """Lowest and highest part of the whole tool above nodes from the axis outward [mm]."""
    tool = tool_of(bit)
    widest = max(tool.radius, bit.shank / 2.0, NUT_DIAMETER / 2.0)
    beside = np.arange(int(np.ceil(widest / bench.cell))) * bench.cell
    heights = np.arange(len(tool.radii)) * STEP
    low, high = np.full(len(beside), np.inf), np.full(len(beside), -np.inf)
    for k, off in enumerate(beside):
        cut = np.flatnonzero(tool.radii > off + 1e-6)
        if len(cut):
            low[k], high[k] = heights[cut[0]], heights[cut[-1]]
    sky = 2.0 * bench.top + bit.length
    for radius, above in ((bit.shank / 2.0, tool.edge), (NUT_DIAMETER / 2.0, bit.reach)):
        over = beside < radius - 1e-6
        low[over] = np.minimum(low[over], above)
        high[over] = sky
    return low, high


def _lowest_of_gaps(begins: Numbers, ends: Numbers, highest: float) -> list[float]:
    """Lowest tips of the stretches that no column forbids, from the bed up to ``highest`` [mm]."""
    order = np.argsort(begins)
    reached, lowest = 0.0, []
    for begin, end in zip(begins[order].tolist(), ends[order].tolist(), strict=True):
        if begin > reached + 1e-6 and reached < highest:
            lowest.append(reached)
        reached = max(reached, end)
    if reached < highest:
        lowest.append(reached)
    return lowest

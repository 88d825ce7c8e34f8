"""Places of a bit that is wider below than above, which comes in from the end of the part.

The bit may then stand under kept wood. Which places are forbidden is one region of the plane of
axis and tip: the kept wood grown by the tool turned upside down. What the region leaves free is
looked through along fine axes; the lowest tip of each free stretch is a candidate.
"""

from __future__ import annotations

import itertools

import numpy as np
import numpy.typing as npt
import shapely
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import NUT_DIAMETER, NUT_HEIGHT, Bit
from profilestack.bits.edge import edge_path, largest_radius
from profilestack.cutting.cut import CHORD
from profilestack.cutting.nearest import Numbers
from profilestack.finding.bench import Bench
from profilestack.finding.crossings import crossings
from profilestack.finding.nestling import middles
from profilestack.geometry.path import Points
from profilestack.geometry.region import chains_of, unite
from profilestack.planning.lowering import TOUCH

Indices = npt.NDArray[np.intp]

SIMPLER = 2e-4
"""Points of the kept wood that matter no more than this [mm] are left out."""


def undercut_places(bit: Bit, bench: Bench) -> tuple[Numbers, Numbers, Numbers]:
    """Axes, and the lowest and highest tips [mm] of the free stretches under kept wood.

    The stretch that is open to the sky is not among them. Of the finest axes those are told where
    the tip can come no lower on either side; of all others only those on the bench's grid.
    """
    if bench.hanging is None:
        return np.zeros(0), np.zeros(0), np.zeros(0)
    radius = max(largest_radius(bit), bit.shank / 2.0)
    if bit.reach < bench.top:
        radius = max(radius, NUT_DIAMETER / 2.0)
    left, right = bench.hanging[0] - radius, bench.hanging[1] + radius
    wood = shapely.clip_by_rect(bench.kept, left - radius, -1.0, right + radius, bench.top + 1.0)
    wood = shapely.simplify(wood, SIMPLER)
    axis, low, high = _free_stretches(forbidden_places(bit, wood, bench.top), bench)
    near = (axis * bench.fine > left) & (axis * bench.fine < right)
    axis, low, high = axis[near], low[near], high[near]
    stride = round(bench.ruled.spacing / bench.fine)
    kept = (axis % stride == 0) | _is_nestled(axis, low, high)
    kept[middles(axis, low, kept)] = True
    return axis[kept].astype(np.float64) * bench.fine, low[kept], high[kept]


def forbidden_places(bit: Bit, wood: BaseGeometry, top: float) -> BaseGeometry:
    """Where axis and tip may not be [mm], for some part of the tool would be in the wood.

    ``top`` is the height of the blank's box [mm], above which nothing stands.
    """
    chains = chains_of(wood)
    starts = np.concatenate([chain[:-1] for chain in chains])
    ends = np.concatenate([chain[1:] for chain in chains])
    grown: list[BaseGeometry] = []
    for part in _convex_parts(bit, top):
        turned = -part
        around = starts[:, None, :] + turned[None, :, :], ends[:, None, :] + turned[None, :, :]
        corners = np.concatenate(around, axis=1)
        owner = np.repeat(np.arange(len(corners)), corners.shape[1])
        clouds = shapely.multipoints(corners.reshape(-1, 2), indices=owner)
        grown.append(shapely.union_all(shapely.convex_hull(clouds)))
        # the wood itself moves with any one point of the part
        grown.append(translate(wood, float(turned[0, 0]), float(turned[0, 1])))
    return unite(grown)


def _convex_parts(bit: Bit, top: float) -> list[Points]:
    """The tool about its axis and tip as convex outlines, each (n, 2) [mm]."""
    chain = edge_path(bit).flatten(CHORD)
    edge, sky = float(chain[-1, 1]), top + 1.0
    parts = [_both_sides(run) for run in _bulging_runs(chain)]
    boxes = [(bit.shank / 2.0, edge, max(sky, edge + 1.0))]
    if bit.reach < sky:
        boxes.append((NUT_DIAMETER / 2.0, bit.reach, max(sky, bit.reach + NUT_HEIGHT)))
    if bit.pilot_diameter is not None and bit.pilot_length is not None:
        boxes.append((bit.pilot_diameter / 2.0, -bit.pilot_length, 0.0))
    parts += [_both_sides(np.array(((r, low), (r, high)))) for r, low, high in boxes]
    return parts


def _both_sides(right: Points) -> Points:
    narrow = np.maximum(right[:, 0] - TOUCH, 0.0)
    return np.concatenate([np.column_stack((side * narrow, right[:, 1])) for side in (1.0, -1.0)])


def _bulging_runs(chain: Points) -> list[Points]:
    """Stretches of an edge going up, (n, 2) [mm], that bulge outward with both sides together."""
    if (np.diff(chain[:, 1]) < 0.0).any():
        return [chain]  # it hooks down: seen as its hull, which is on the safe side
    outward = _turns_outward(chain)
    # along a hollow edge every second point will do: the tool is seen as a hair wider there
    spare = outward & np.r_[False, outward[:-1]] & (np.arange(len(chain)) % 2 == 1)
    chain = chain[~spare]
    begins = np.flatnonzero(_turns_outward(chain))
    return [
        chain[begin : end + 1]
        for begin, end in itertools.pairwise([0, *begins.tolist(), len(chain) - 1])
    ]


def _turns_outward(chain: Points) -> npt.NDArray[np.bool_]:
    """At which of its points an edge going up turns away from the axis."""
    along = np.diff(chain, axis=0)
    bends = along[:-1, 0] * along[1:, 1] - along[:-1, 1] * along[1:, 0]
    return np.concatenate(([False], bends < -1e-12, [False]))


def _free_stretches(forbidden: BaseGeometry, bench: Bench) -> tuple[Indices, Numbers, Numbers]:
    """Free stretches between bed and sky at each fine axis: number of the axis, low, high [mm]."""
    axis, bottoms, tops = crossings(chains_of(forbidden), bench.fine)
    low, high = tops[:-1], bottoms[1:]
    between = (axis[:-1] == axis[1:]) & (high > 0.0)
    # what lies on the bed is as free as what lies between two forbidden stretches
    first = np.r_[True, axis[1:] != axis[:-1]] & (bottoms > 0.0)
    axis = np.concatenate((axis[:-1][between], axis[first]))
    low = np.concatenate((np.maximum(low[between], 0.0), np.zeros(int(first.sum()))))
    high = np.concatenate((high[between], bottoms[first]))
    order = np.lexsort((low, axis))
    return axis[order], low[order], high[order]


def _is_nestled(axis: Indices, low: Numbers, high: Numbers) -> npt.NDArray[np.bool_]:
    """Whether the tip comes no lower in the free stretches beside, and not as low in one."""
    lower, level = np.zeros(len(axis), dtype=bool), np.zeros((len(axis), 2), dtype=bool)
    for side, shift in enumerate((-1, 1)):
        first = np.searchsorted(axis, axis + shift, side="left")
        count = np.searchsorted(axis, axis + shift, side="right") - first
        for k in range(int(count.max(initial=0))):
            beside = np.flatnonzero(count > k)
            other = first[beside] + k
            meets = (low[other] < high[beside]) & (high[other] > low[beside])
            lower[beside] |= meets & (low[other] < low[beside] - 1e-6)
            level[beside, side] |= meets & (np.abs(low[other] - low[beside]) <= 1e-6)
    return ~lower & ~level.all(axis=1)

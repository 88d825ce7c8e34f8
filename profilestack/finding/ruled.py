"""The upper outline of kept wood by even steps, for letting bits down at very many offsets."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from profilestack.cutting.nearest import Numbers
from profilestack.planning.lowering import LOWEST, TOUCH, Skyline, Underside

WIDEST = 70.0
"""No tool is wider than this on either side of its axis [mm]; the collet nut is seen apart."""


@dataclass(frozen=True, slots=True, eq=False)
class Ruled:
    """A skyline by even steps, for looking at very many axes.

    Axes stand every ``stride`` steps of ``step`` [mm]. ``highest`` (n,) is the highest wood
    within half a step of (k - ``pad``) x ``step``, ``lowest`` the lowest from there to the next
    axis [mm].
    """

    wood: Skyline
    step: float
    stride: int
    pad: int
    highest: Numbers
    lowest: Numbers

    @property
    def spacing(self) -> float:
        """From one axis to the next [mm]."""
        return self.stride * self.step


def ruled(wood: Skyline, width: float, step: float, stride: int) -> Ruled:
    """Prepare a skyline over a bench ``width`` [mm] wide."""
    from scipy.ndimage import maximum_filter1d, minimum_filter1d

    pad = int(np.ceil(2.0 * WIDEST / step))
    halves = wood.over(
        np.arange(-2.0 * pad - 1.0, 2.0 * (pad + int(width / step)) + 4.0) * (step / 2.0)
    )
    highest = maximum_filter1d(halves, 3)[1:-1:2]
    wide = 2 * (stride + 1) + 1
    lowest = minimum_filter1d(halves, wide, origin=-(wide // 2) + 1)[1:-1:2]
    return Ruled(wood, step, stride, pad, highest, lowest)


def tips_on_grid(under: Underside, wood: Ruled, first: int, count: int) -> tuple[Numbers, Numbers]:
    """How low the tip can come over ``count`` even axes, and at best between each and the next.

    The first axis is ``first`` x stride x step. The tips (n,) [mm] are never too low, and too
    high by what a step more to the side makes at most; the second array (n - 1,) [mm] is a bound.
    """
    stride, step = wood.stride, wood.step
    tips, bounds = np.full(count, LOWEST), np.full(count, LOWEST)
    begin, end = first * stride + wood.pad, (first + count) * stride + wood.pad
    beside = np.rint(np.maximum(under.radii - TOUCH, 0.0) / step).astype(int)
    for off, height in zip(beside.tolist(), under.heights.tolist(), strict=True):
        for shift in (off, -off):
            here = slice(begin + shift, end + shift, stride)
            np.maximum(tips, wood.highest[here] - height, out=tips)
            np.maximum(bounds, wood.lowest[here] - height, out=bounds)
    _meet_vertices(under, wood, first, tips, bounds)
    return tips, bounds[:-1]


def _meet_vertices(
    under: Underside, wood: Ruled, first: int, tips: Numbers, bounds: Numbers
) -> None:
    """Raise tips and bounds to where the tool touches the vertices of the wood."""
    stride, step, count = wood.stride, wood.step, len(tips)
    half = int(np.ceil(float(under.radii[-1]) / step / stride)) + 1
    off = np.abs(np.arange(-half * stride, (half + 1) * stride + 1))
    rise = np.interp((off - 0.5) * step + TOUCH, under.radii, under.heights, right=np.inf)
    # one row for each place of a vertex between two axes, one column for each axis around
    phases = np.stack([rise[stride - k :: stride][: 2 * half] for k in range(stride)])
    at = np.rint(wood.wood.places / step).astype(int)
    axis = at // stride
    low = wood.wood.heights[:, None] - phases[at - axis * stride]
    least = np.minimum(low[:, :-1], low[:, 1:])
    begins = axis - first - half + 1
    for k in np.flatnonzero((begins < count) & (begins + 2 * half > 0)).tolist():
        begin = int(begins[k])
        skip = max(0, -begin)
        here = tips[begin + skip : begin + 2 * half]
        np.maximum(here, low[k, skip : skip + len(here)], out=here)
        here = bounds[begin + skip : begin + 2 * half - 1]
        np.maximum(here, least[k, skip : skip + len(here)], out=here)

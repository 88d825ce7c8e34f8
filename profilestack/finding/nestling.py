"""Where a bit that is moved across touches kept wood on two sides at once."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from profilestack.cutting.nearest import Numbers

Indices = npt.NDArray[np.intp]

LEVEL = 1e-6
"""Tips that differ by no more than this are level [mm]."""


def nestling(tips: Numbers, step: float) -> Indices:
    """The lowest places and the upward bends among tips [mm] that are ``step`` [mm] apart."""
    before, here, after = tips[:-2], tips[1:-1], tips[2:]
    lowest = (here <= before) & (here <= after) & ((here < before) | (here < after))
    bend = before - 2.0 * here + after > 0.2 * step  # a wall is a bend too, at its foot
    return np.flatnonzero(lowest | bend) + 1


def middles(axes: Numbers | Indices, tips: Numbers, kept: npt.NDArray[np.bool_]) -> Indices:
    """Between two places kept at one level next to each other, the one in the middle.

    A bit that fits between two walls with a little room stands best in the middle of it.
    """
    order = np.lexsort((axes, np.round(tips / LEVEL)))
    chosen = np.flatnonzero(kept[order])
    first, second = chosen[:-1], chosen[1:]
    level = np.abs(tips[order[first]] - tips[order[second]]) <= LEVEL
    wide = level & (second > first + 1)
    return np.asarray(order[(first[wide] + second[wide]) // 2])

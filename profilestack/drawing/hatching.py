"""Hatch lines cut to the inside of rings, so that every renderer shows the same hatch."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from profilestack.geometry.path import Points

MOST_LINES = 4000
"""A hatch of more lines is too fine to see, and is left out."""


def hatch_lines(rings: Sequence[Points], angle: float, spacing: float) -> tuple[Points, ...]:
    """Lines at ``angle`` [deg], ``spacing`` [mm] apart, inside the rings (even-odd) [mm].

    All hatches of one angle and spacing run through the origin's lattice, so that neighbouring
    areas are hatched in step. A ring has shape (n, 2), its first point not repeated.
    """
    tilt = math.radians(angle)
    along = np.array((math.cos(tilt), math.sin(tilt)))
    across = np.array((-along[1], along[0]))
    starts = np.concatenate(rings)
    ends = np.concatenate([np.roll(ring, -1, axis=0) for ring in rings])
    first, second = starts @ across / spacing, ends @ across / spacing
    low, high = math.ceil(first.min()), math.floor(first.max())
    if high - low > MOST_LINES:
        return ()
    found = []
    for number in range(low, high + 1):
        # half open, so that a corner upon the line is met once
        crossing = (first <= number) != (second <= number)
        if not crossing.any():
            continue
        a, b = starts[crossing], ends[crossing]
        share = (number - first[crossing]) / (second[crossing] - first[crossing])
        places = np.sort((a + share[:, None] * (b - a)) @ along)
        level = number * spacing * across
        for begin, end in zip(places[::2], places[1::2], strict=True):
            if end - begin > 1e-6:
                found.append(np.array((begin * along + level, end * along + level)))
    return tuple(found)

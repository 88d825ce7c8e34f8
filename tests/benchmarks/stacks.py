"""Stacks to measure with: round noses and straights lowered onto a crown's face until they touch.

The target is a fillet, a cyma recta, a fillet, a cove and a fillet; every pass fits it, so that the
sections hug the target and the comparison has its full work.
"""

from __future__ import annotations

import numpy as np
import shapely
from shapely.geometry import LineString

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import CoreBox, Straight
from profilestack.geometry.path import Path
from profilestack.stack import Blank, Pass, PathTarget, Rectangle, Stack, StraightRun

WIDTH, THICKNESS = 60.0, 40.0
FACE = (
    Path((0.0, 38.0)).line((6.0, 38.0))
    .arc((18.0, 26.0), (6.0, 26.0), "cw").arc((30.0, 14.0), (30.0, 26.0), "ccw")
    .line((36.0, 14.0)).line((36.0, 11.0)).line((38.0, 11.0))
    .arc((44.0, 5.0), (44.0, 11.0), "ccw").line((WIDTH, 5.0))
)  # fmt: skip
ROUND = (6.35, 12.7, 19.05)
"""Diameters of the round noses [mm]."""
FLAT = 12.7

CLEAR = 0.003
"""So far above the face every pass stays [mm]: a fit, but for flattening."""

BOUNDS = {12: 0.003, 200: 0.030}
"""Median seconds at most, by the number of passes."""


def bits() -> dict[str, Bit]:
    noses = [
        Bit(f"nose {size:g}", CoreBox(size), cutting_length=40.0, shank=6.35, length=100.0)
        for size in ROUND
    ]
    flat = Bit("flat", Straight(FLAT), cutting_length=40.0, shank=6.35, length=100.0)
    return {bit.id: bit for bit in (*noses, flat)}


def touching(radius: float, round_nose: bool, offset: float) -> float:
    """Depth at which a bit of that radius all but touches the face [mm]."""
    dense = shapely.get_coordinates(shapely.segmentize(LineString(FACE.flatten(1e-4)), 0.01))
    off = np.abs(dense[:, 0] - offset)
    under = dense[off < radius]
    height = np.zeros(len(under))
    if round_nose:
        height = radius - np.sqrt(radius**2 - off[off < radius] ** 2)
    return THICKNESS - float((under[:, 1] - height).max()) - CLEAR


def fitted(count: int) -> Stack:
    """A stack of ``count`` passes, spread over the face."""
    passes = []
    for k in range(count):
        offset = (k + 0.5) * WIDTH / count
        if k % 4 == 3:
            passes.append(Pass("flat", offset, touching(FLAT / 2, False, offset)))
        else:
            size = ROUND[k % 4]
            passes.append(Pass(f"nose {size:g}", offset, touching(size / 2, True, offset)))
    return Stack(
        blank=Blank(Rectangle(WIDTH, THICKNESS)),
        run=StraightRun(2400.0),
        target=PathTarget(FACE),
        passes=tuple(passes),
    )

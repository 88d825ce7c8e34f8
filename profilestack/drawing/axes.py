"""The bits' axes in the section plane."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from profilestack.cutting.cut import Cut
from profilestack.drawing.drawing import Lines, Mark, extent_of
from profilestack.drawing.palette import AXIS_PEN, Pen
from profilestack.drawing.placing import Placing
from profilestack.geometry.path import Point, Points
from profilestack.geometry.region import rings_of

MOST_AXES = 100
"""So many axes can be told apart."""

MOST_NUMBERS = 36
"""So many numbers find room around a section; of more passes some stand in the table alone."""

SHORT_AXIS = 14.0
"""Axes up to this length on the paper [mm] show no dashes."""


@dataclass(frozen=True, slots=True)
class Axis:
    """One stroke's axis: from the bit's ``tip`` [mm] along ``direction`` out of the wood.

    ``depth`` is how far the tip lies below the top of the blank as it lies [mm]; ``leads`` tells
    the first stroke of a pass, which carries the number.
    """

    number: int
    tip: Point
    direction: Point
    offset: float
    depth: float
    leads: bool

    @property
    def mouth(self) -> Point:
        """Where the axis comes to the top of the blank as it lies [mm]."""
        x, z = self.tip
        return (x + self.depth * self.direction[0], z + self.depth * self.direction[1])


def axes_of(cut: Cut) -> tuple[Axis, ...]:
    """The axes of all strokes, in cutting order."""
    found = []
    for single in cut.passes:
        for place in range(single.first, single.last):
            stroke = cut.strokes[place]
            ends = stroke.to_section(np.array(((0.0, 0.0), (0.0, 1.0))))
            tip = (float(ends[0, 0]), float(ends[0, 1]))
            way = (float(ends[1, 0] - ends[0, 0]), float(ends[1, 1] - ends[0, 1]))
            found.append(
                Axis(single.number, tip, way, stroke.axis, single.cut.depth, place == single.first)
            )
    return tuple(found)


def axes_near(cut: Cut) -> tuple[Axis, ...]:
    """The axes that are worth drawing: those at most half the blank's size, or 25 mm, off it.

    A bit far outside would make everything else small; it stands in the table of passes. The
    first axis that is left of each pass leads; of very many passes only some have one that does.
    """
    low_x, low_z, high_x, high_z = extent_of(rings_of(cut.blank))
    far = max(25.0, 0.5 * max(high_x - low_x, high_z - low_z))
    led: set[int] = set()
    found = []
    for axis in axes_of(cut):
        if all(
            low_x - far <= x <= high_x + far and low_z - far <= z <= high_z + far
            for x, z in (axis.mouth, axis.tip)
        ):
            found.append(replace(axis, leads=axis.number not in led))
            led.add(axis.number)
    every = -(-len(led) // MOST_NUMBERS)
    kept = set(sorted(led)[::every]) if led else led
    return tuple(replace(axis, leads=axis.leads and axis.number in kept) for axis in found)


def drawn_axes(axes: Sequence[Axis]) -> Sequence[Axis]:
    """All axes, or only each pass's first where so many would hide the wood."""
    return axes if len(axes) <= MOST_AXES else [axis for axis in axes if axis.leads]


def axis_marks(axes: Sequence[Axis], placing: Placing, pen: Pen = AXIS_PEN) -> list[Mark]:
    """The axes from a little below the tip up to the top of the blank as it lies."""
    dashed: list[Points] = []
    short: list[Points] = []
    crosses: list[Points] = []
    for axis in axes:
        tip, mouth = np.array(placing.point(axis.tip)), np.array(placing.point(axis.mouth))
        way = np.array(placing.direction(axis.direction))
        side = np.array((way[1], -way[0]))
        chain = np.array((mouth + 2.0 * way, tip - 2.0 * way))
        # a dashed line too short to show its dashes is drawn unbroken
        (dashed if math.dist(*chain.tolist()) > SHORT_AXIS else short).append(chain)
        crosses.append(np.array((tip - side, tip + side)))
    marks: list[Mark] = []
    for chains, drawn in (
        (dashed, pen),
        (short, Pen(pen.color, pen.width)),
        (crosses, Pen(pen.color, 0.2)),
    ):
        if chains:
            marks.append(Lines(tuple(chains), drawn))
    return marks

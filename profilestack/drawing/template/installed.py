"""A sprung crown as it hangs between wall and ceiling, at full size."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.drawing.blocks import Block
from profilestack.drawing.drawing import Lines, Mark, area, dimension, extent_of, line, words
from profilestack.drawing.palette import (
    HEADING,
    INK,
    PRINT_TARGET_PEN,
    PRINT_WOOD_LOOK,
    QUIET_INK,
    SMALL,
    Hatch,
    Look,
    Pen,
)
from profilestack.drawing.placing import Placing
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.views import block_of
from profilestack.drawing.wording import number_text
from profilestack.geometry.motion import Motion, mirror, turn
from profilestack.geometry.path import Points
from profilestack.geometry.region import rings_of
from profilestack.stack import MemberTarget
from profilestack.targets.members import USUAL_SPRING, MemberColumn

BUILDING = 4.0
"""Thickness of the hatched edge of wall and ceiling [mm]."""

BEYOND = 12.0
"""Wall and ceiling run on beyond the crown by so much [mm]."""


def sprung_column(cut: Cut) -> MemberColumn | None:
    """The members of a sprung crown, None for any other target."""
    target = cut.stack.target
    if isinstance(target, MemberTarget) and target.column.lie == "sprung":
        return target.column
    return None


def installing_motion(column: MemberColumn) -> Motion:
    """From the section plane to the crown as it hangs, but for its place.

    A column lies turned by 90 degrees and its spring, perhaps mirrored, then by its own rotation;
    this is the way back. A mirrored one is seen from the other end, so that its wall is left.
    """
    lain = turn(90.0 + spring_of(column))
    if column.mirror:
        lain = lain.then(mirror())
    return lain.then(turn(column.rotation)).inverse()


def spring_of(column: MemberColumn) -> float:
    """Angle between the crown's back and the wall [deg]."""
    return USUAL_SPRING if column.spring is None else column.spring


def installed_view(
    cut: Cut, comparison: Comparison, column: MemberColumn, options: TemplateOptions
) -> Block:
    """The section as cut between wall and ceiling, with its drop and projection."""
    motion = installing_motion(column)
    wanted = extent_of(_moved(rings_of(comparison.wanted), motion))
    placing = Placing(
        -options.across * wanted[0], -options.up * wanted[3], options.across, options.up
    )
    rings = [placing.points(ring) for ring in _moved(rings_of(cut.section), motion)]
    marks: list[Mark] = area(rings, PRINT_WOOD_LOOK)
    outlines = [placing.points(ring) for ring in _moved(rings_of(comparison.wanted), motion)]
    marks.append(Lines(tuple(outlines), PRINT_TARGET_PEN, closed=True))
    across, drop = wanted[2] - wanted[0], wanted[3] - wanted[1]
    right, low = options.across * across, -options.up * drop
    # what stands proud may reach beyond the crown: the dimensions keep clear of it
    least_x, least_y, most_x, _ = extent_of([*rings, *outlines])
    down, side = least_y - 5.0, most_x + 6.0
    marks += _building(most_x + BEYOND, least_y - BEYOND)
    marks += dimension((0.0, down), (right, down), number_text(across, options.units), SMALL)
    marks += dimension((side, low), (side, 0.0), number_text(drop, options.units), SMALL)
    seen = "right" if column.mirror else "left"
    text = f"spring {spring_of(column):g}° between back and wall; seen from the {seen} end"
    left, head = min(least_x, -BUILDING), least_y - BEYOND - 6.0
    marks.append(words((left, head), "As installed, 1 : 1", HEADING, bold=True))
    marks.append(words((left, head - 4.5), text, SMALL, QUIET_INK))
    return block_of(marks)


def _moved(rings: Sequence[Points], motion: Motion) -> list[Points]:
    turned = np.array(((motion.cosine, -motion.sine), (motion.sine, motion.cosine)))
    found = []
    for ring in rings:
        points = ring * np.array((-1.0 if motion.mirrors else 1.0, 1.0))
        found.append(motion.scale * points @ turned.T + np.array(motion.shift))
    return found


def _building(right: float, low: float) -> list[Mark]:
    """Wall at the left and ceiling on top, in thin lines."""
    hatch = Look(None, (Hatch(45.0, 1.6, Pen(QUIET_INK, 0.1)),))
    corner = np.array(
        ((0.0, low), (0.0, 0.0), (right, 0.0), (right, BUILDING), (-BUILDING, BUILDING),
         (-BUILDING, low))
    )  # fmt: skip
    return [
        *area((corner,), hatch),
        line((0.0, low), (0.0, 0.0), (right, 0.0), pen=Pen(INK, 0.2)),
    ]

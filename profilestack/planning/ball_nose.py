"""3D ball-nose finishing of a target: the ball, rows, roughing before, and what they take.

Rows lead along the part, to and fro. Their number follows from the developed length and the cusp
between two rows; on arcs rows lie nearer (round) or wider (hollow) than on a flat.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.bits.shapes.core_box import CoreBox
from profilestack.bits.shapes.straight import Straight
from profilestack.bits.shapes.taper_ball import TaperBall
from profilestack.bits.words import matches
from profilestack.errors import InputError
from profilestack.planning.facing import Facing, left_in_corner
from profilestack.planning.feeds import Speed, largest_section, speed_for
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.scallops import row_minutes, step_on_arc, step_on_flat
from profilestack.planning.shop import Shop, step_depth
from profilestack.planning.species import Species
from profilestack.stack import Stack

OVERLAP = 0.15
"""Lanes of roughing overlap by this share of the bit (common practice: 10 to 20 %)."""

COLUMNS = 0.25
"""Stock to rough out is looked at in columns so far apart [mm]."""

FOLLOWS = 0.01
"""A ball follows an arc whose radius is smaller than its own by no more than this [mm]."""


def ball_radius(bit: Bit) -> float | None:
    """Radius of a ball nose [mm], None for other bits.

    Core boxes have the outline of a ball, but no edge to follow steep walls: they do not count.
    """
    if isinstance(bit.shape, TaperBall):
        return bit.shape.radius
    if isinstance(bit.shape, CoreBox) and matches(bit, "ball"):
        return bit.shape.diameter / 2.0
    return None


@dataclass(frozen=True, slots=True)
class BallRows:
    """Ball-nose finishing: the ball and its rows.

    ``rows`` over ``developed`` [mm] for a ``cusp`` [mm], ``step`` [mm] apart on a flat.
    ``left_aside`` are sharp inside corners, the worst of which stays ``corner`` [mm] from the cut;
    ``narrow`` [mm] of the target the ball does not get into. ``ridge_area`` [mm2] is the
    section's leftover between the rows, for sanding; corners are left to the chisel. ``minutes``
    are of one piece.
    """

    ball: Bit
    radius: float
    cusp: float
    step: float
    developed: float
    rows: int
    speed: Speed
    minutes: float
    left_aside: int
    corner: float
    narrow: float
    ridge_area: float


@dataclass(frozen=True, slots=True)
class Roughing:
    """Clearing the stock over a target with a straight bit, level by level; of one piece."""

    bit: Bit
    travels: int
    levels: int
    speed: Speed
    minutes: float


def chosen_ball(facing: Facing, offered: Sequence[Bit], corners_too: bool = False) -> Bit | None:
    """The largest ball that follows the smallest hollow of a target; None: none is small enough.

    Sharp inside corners are left aside unless ``corners_too``: then the ball that leaves least.
    Plain balls come before tapered ones, and each must reach as deep as the target lies.
    """
    most = facing.smallest if facing.smallest is not None else math.inf
    able = [
        (isinstance(bit.shape, TaperBall), -radius, bit)
        for bit in offered
        if (radius := ball_radius(bit)) is not None
        and radius <= most + FOLLOWS
        and bit.reach >= facing.depth
        and (bit.shank <= 2.0 * radius + 0.01 or bit.cutting_length >= facing.high)
    ]
    if not able:
        return None
    if corners_too:
        return max(able, key=lambda each: each[1])[2]
    return min(able, key=lambda each: each[:2])[2]


def rows_of(
    facing: Facing,
    ball: Bit,
    cusp: float,
    stack: Stack,
    shop: Shop,
    species: Species,
    larger: float = 1.0,
) -> BallRows:
    """The rows of a ball over all that is seen of a target, and their minutes.

    ``larger`` takes the ball so many times as large, to see what its size does.
    """
    radius = (ball_radius(ball) or 0.0) * larger
    step = step_on_flat(radius, cusp)
    count = 0.0
    for piece in facing.pieces:
        apart = step
        if piece.radius > 0.0:
            apart = step_on_arc(radius, cusp, piece.radius, piece.convex)
        count += max(piece.length / apart, 0.0 if math.isfinite(apart) else 1.0)
    rows = max(1, math.ceil(count - 1e-9))
    section = facing.developed * shop.allowance / rows
    speed = speed_for(ball, shop, species, True, section, 1.0)
    each = row_minutes(length_of_travel(stack), speed.feed, shop.machine.acceleration, step)
    lost = [left_in_corner(radius, angle) for angle in facing.corners.tolist()]
    # between two cusps the stock is a third of the cusp high on average
    area = facing.developed * cusp / 3.0
    return BallRows(
        ball, radius, cusp, step, facing.developed, rows, speed, rows * each,
        len(lost), max((away for away, _ in lost), default=0.0), narrow_for(facing, radius, lost),
        area,
    )  # fmt: skip


def narrow_for(facing: Facing, radius: float, corners: Sequence[tuple[float, float]]) -> float:
    """How much of a target a ball does not get into [mm], beside the sharp corners.

    A ball that lies on a point has its centre a radius away along the way out of the wood, and
    must not come nearer to any other wood.
    """
    if len(facing.points) == 0:
        return 0.0
    centres = facing.points + radius * facing.outward
    far, _ = facing.wanted.line.nearest(centres)
    blocked = far < radius - 0.02
    share = facing.developed / len(facing.points)
    # in a right corner the ball keeps its radius away from the corner on both sides
    beside = 2.0 * radius * len(corners)
    return max(0.0, share * float(blocked.sum()) - beside)


def roughing_of(
    facing: Facing, offered: Sequence[Bit], stack: Stack, shop: Shop, species: Species
) -> Roughing | None:
    """The quickest roughing with one of the straight bits; None where there is little to clear."""
    found = [
        rough
        for bit in offered
        if isinstance(bit.shape, Straight)
        and bit.pilot_diameter is None
        and bit.reach >= facing.depth
        and (rough := _roughing_with(facing, bit, stack, shop, species)) is not None
    ]
    found = [rough for rough in found if rough.travels > 0]
    return min(found, key=lambda rough: rough.minutes, default=None)


def _roughing_with(
    facing: Facing, bit: Bit, stack: Stack, shop: Shop, species: Species
) -> Roughing | None:
    """Level by level from the top, in lanes that overlap, an allowance above the target."""
    diameter = 2.0 * largest_radius(bit)
    lane = diameter * (1.0 - OVERLAP)
    try:
        section = largest_section(bit, shop, species)
    except InputError:  # the machine does not turn as slowly as this bit must
        return None
    deep = min(step_depth(diameter, species.group), section / lane)
    points = facing.points
    places = np.arange(points[:, 0].min(), points[:, 0].max() + COLUMNS, COLUMNS)
    lowest = float(points[:, 1].min())
    top = lowest + facing.depth
    # beyond the part's sides the cut goes as deep as beside them
    floor = np.clip(facing.skyline.over(places), lowest, top) + shop.allowance
    levels = max(1, math.ceil((top - float(floor.min())) / deep - 1e-9))
    deep = (top - float(floor.min())) / levels
    travels = 0
    for level in range(levels):
        bottom = top - (level + 1) * deep
        # a lane goes as deep as the highest wood under it lets it, at this level at the most
        open_here = floor <= bottom + deep / 2.0
        edges = np.flatnonzero(np.diff(np.concatenate(([False], open_here, [False])).astype(int)))
        for begin, end in zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True):
            width = (end - begin) * COLUMNS
            at_side = begin == 0 or end == len(places)
            if width >= diameter or at_side:  # beside the part there is room
                travels += max(1, math.ceil((width - diameter) / lane + 1.0))
    speed = speed_for(bit, shop, species, False, deep * lane, 1.0)
    length = length_of_travel(stack)
    starting = speed.feed / 60.0 / shop.machine.acceleration / 60.0
    each = shop.pass_minutes(length, speed.feed) + starting
    return Roughing(bit, travels, levels, speed, travels * each)

"""Where a target lies in the section plane: mirrored, scaled, turned, moved."""

from __future__ import annotations

import math

from profilestack.errors import InputError, Problem
from profilestack.geometry import motion
from profilestack.geometry.extent import box_of
from profilestack.geometry.motion import Motion
from profilestack.geometry.path import Path, Point

LARGEST_SHIFT = 1e6
"""No target is moved further than this [mm]."""

SCALES = (1e-4, 1e4)
"""A scale outside these is a slip of the unit."""


def place(
    path: Path,
    at: Point = (0.0, 0.0),
    scale: float = 1.0,
    rotation: float = 0.0,
    mirror: bool = False,
) -> Path:
    """The path mirrored, scaled, turned and moved, in this order.

    The mirror swaps left and right inside the path's own box, so that the path stays where it is;
    the path is then walked the other way, which keeps the wood on its right hand. Scale and
    rotation (counter-clockwise [deg]) are about the path's own origin, which ``at`` [mm] moves.

    Raises:
        InputError: a scale, rotation or place that is out of range.
    """
    if problems := placement_problems(at, scale, rotation):
        raise InputError(problems)
    placed = placement(path, at, scale, rotation, mirror).apply_to(path)
    return placed.reversed() if mirror else placed


def placement(path: Path, at: Point, scale: float, rotation: float, mirror: bool) -> Motion:
    """The motion of :func:`place`, without the change of the walk's sense."""
    placed = Motion()
    if mirror:
        box = box_of(path)
        placed = motion.mirror((box.left + box.right) / 2.0)
    placed = placed.then(motion.grow(scale)).then(motion.turn(rotation))
    return placed.then(motion.move(*at))


def placement_problems(at: Point, scale: float, rotation: float) -> list[Problem]:
    """What is out of range, by key."""
    found = []
    if not all(math.isfinite(v) and abs(v) <= LARGEST_SHIFT for v in at):
        found.append(Problem("at", f"{at!r} is no place", "[x, z] within a kilometre"))
    low, high = SCALES
    if not (math.isfinite(scale) and low <= scale <= high):
        found.append(Problem("scale", f"{scale!r} is impossible", f"{low:g} to {high:g}"))
    if not (math.isfinite(rotation) and abs(rotation) <= 360.0):
        found.append(Problem("rotation", f"{rotation!r} is impossible", "-360 to 360 degrees"))
    return found

"""A fitted path seated in a rectangular blank: walked with the wood at its right, led to the sides.

"below" is a profile seen from above, waste above it; "left", "right" and "above" where the wood
lies there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.geometry.extent import Box, box_of
from profilestack.geometry.path import Line, LineTo, Path, Point
from profilestack.geometry.region import crossing_of
from profilestack.targets.tracing import Chain

Wood = Literal["below", "above", "left", "right"]

WOODS: tuple[Wood, ...] = ("below", "above", "left", "right")

USUAL_MARGIN = 8.0
"""Wood left behind the deepest place of an open profile, unless the blank's size is given [mm]: the
least that should stay under a last cut (common practice, from memory)."""

TOUCH = 0.005
"""An end so near to the blank's side lies on it [mm]."""

LEAN = 0.02
"""A profile whose ends differ by less than this share of its size does not say how it runs."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A blank's ``width`` and ``thickness`` [mm], and by how much a path moves into it [mm]."""

    width: float
    thickness: float
    shift: Point


def walked(path: Path, wood: Wood) -> Path:
    """The path walked so that the wood is at its right; a closed one clockwise.

    Raises:
        InputError: an open path whose ends do not tell, as an upright one with its wood "below".
    """
    if path.is_closed:
        return path if path.signed_area < 0.0 else path.reversed()
    box = box_of(path)
    along = (path.end[0] - path.start[0], path.end[1] - path.start[1])
    size = math.hypot(box.width, box.height)
    toward = {"below": along[0], "above": -along[0], "left": -along[1], "right": along[1]}[wood]
    if abs(toward) < LEAN * size:
        other = '"left" or "right"' if wood in ("below", "above") else '"below" or "above"'
        told = f"is {wood!r}, but the profile runs from {_place(path.start)} to {_place(path.end)}"
        raise InputError(Problem("wood", told, other))
    return path if toward > 0.0 else path.reversed()


def seat_for(
    path: Path,
    wood: Wood,
    width: float | None,
    thickness: float | None,
    margin: float | None,
    at: Point | None,
) -> Seat:
    """The blank for a path, and where it lies in it.

    Sizes that are not given are those of the path's box, and ``margin`` [mm] behind it where the
    wood is (round it, for a closed one: 0 unless given). Without ``at`` [mm] the path's box
    lies against the sides that the wood is not at; with it the path moves by that.
    """
    box = box_of(path)
    if path.is_closed:
        spare = margin or 0.0
        left = right = low = high = spare
    else:
        spare = USUAL_MARGIN if margin is None else margin
        left, right, low, high = (
            spare if wood == side else 0.0 for side in ("left", "right", "below", "above")
        )
    if at is not None:
        moved = Box(box.left + at[0], box.bottom + at[1], box.right + at[0], box.top + at[1])
        return Seat(
            moved.right + right if width is None else width,
            moved.top + high if thickness is None else thickness,
            at,
        )
    wide = left + box.width + right if width is None else width
    thick = low + box.height + high if thickness is None else thickness
    x = wide - box.width if wood == "left" and not path.is_closed else left
    z = thick - box.height if wood == "below" and not path.is_closed else low
    return Seat(wide, thick, (x - box.left, z - box.bottom))


def seat_in(path: Path, blank: Chain) -> Seat | None:
    """The seat in a blank that was drawn round the path; None where it is no level board round it.

    The path stays where it lies in the blank.
    """
    points = blank.flatten()
    low, high = points.min(axis=0), points.max(axis=0)
    on_sides = np.minimum(abs(points - low), abs(points - high)).min(axis=1) <= TOUCH
    corners = np.array([(x, z) for x in (low[0], high[0]) for z in (low[1], high[1])])
    off = np.hypot(*(points[:, None] - corners[None]).transpose(2, 0, 1)).min(axis=0)
    box = box_of(path)
    is_round_it = (
        low[0] - TOUCH <= box.left and box.right <= high[0] + TOUCH
        and low[1] - TOUCH <= box.bottom and box.top <= high[1] + TOUCH
    )  # fmt: skip
    if not (blank.is_closed and on_sides.all() and (off <= TOUCH).all() and is_round_it):
        return None
    width, thickness = (float(side) for side in high - low)
    return Seat(width, thickness, (-float(low[0]), -float(low[1])))


def led_to_sides(path: Path, wood: Wood, width: float, thickness: float) -> tuple[Path, list[str]]:
    """The path led on, level or upright, from ends inside the blank to its sides; and notes.

    An end that can be led on neither way without crossing the path stays where it is.
    """
    if path.is_closed:
        return path, []
    path, notes = _settled(path, width, thickness), []
    for word in ("start", "end"):
        end = path.start if word == "start" else path.end
        if _on_side(end, width, thickness):
            # a line along the blank's own face goes on to its corner
            _, corner = _ways(end, word, wood, width, thickness)[0]
            if _runs_along_face(path, word, corner, width, thickness):
                path = _longer(path, word, corner)
            continue
        for way, place in _ways(end, word, wood, width, thickness):
            longer = _longer(path, word, place)
            if crossing_of(longer.flatten(0.01)) is None:
                far = math.dist(end, place)
                notes.append(f"its {word} was led on {way} by {far:.2f} mm to the blank's side")
                path = longer
                break
    return path, notes


def _runs_along_face(path: Path, word: str, corner: Point, width: float, thickness: float) -> bool:
    """Whether the straight piece at an end lies on a side of the blank and leads to ``corner``."""
    piece = path.segments[0] if word == "start" else path.segments[-1]
    near, far = (piece.start, piece.end) if word == "start" else (piece.end, piece.start)
    if not isinstance(piece, Line) or math.dist(near, corner) <= TOUCH:
        return False
    levels = ((1, thickness), (1, 0.0)) if near[1] == corner[1] else ((0, 0.0), (0, width))
    ahead = (near[0] - far[0]) * (corner[0] - near[0]) + (near[1] - far[1]) * (corner[1] - near[1])
    return ahead > 0.0 and any(
        all(abs(point[axis] - side) <= TOUCH for point in (near, far, corner))
        for axis, side in levels
    )


def _longer(path: Path, word: str, place: Point) -> Path:
    """The path led on straight to a place; a straight piece that runs there anyway grows."""
    if word == "end":
        return _longer(path.reversed(), "start", place).reversed()
    first = path.segments[0]
    if isinstance(first, Line) and _in_line(place, first.start, first.end):
        return Path(place, path.steps)
    return Path(place).joined(path)


def _in_line(a: Point, b: Point, c: Point) -> bool:
    """Whether the way from a over b to c is straight."""
    one, two = (b[0] - a[0], b[1] - a[1]), (c[0] - b[0], c[1] - b[1])
    cross, dot = one[0] * two[1] - one[1] * two[0], one[0] * two[0] + one[1] * two[1]
    return dot > 0.0 and abs(cross) <= 1e-9 * math.hypot(*one) * math.hypot(*two)


def _ways(
    end: Point, word: str, wood: Wood, width: float, thickness: float
) -> tuple[tuple[str, Point], tuple[str, Point]]:
    """Where an end may be led: first away from the profile, else out through the waste."""
    x, z = end
    to = {
        "left": ("level", (0.0, z)),
        "right": ("level", (width, z)),
        "up": ("upright", (x, thickness)),
        "down": ("upright", (x, 0.0)),
    }
    first, second, waste = {
        "below": ("left", "right", "up"),
        "above": ("right", "left", "down"),
        "left": ("up", "down", "right"),
        "right": ("down", "up", "left"),
    }[wood]
    return to[first if word == "start" else second], to[waste]


def _on_side(point: Point, width: float, thickness: float) -> bool:
    x, z = point
    inside = -TOUCH <= x <= width + TOUCH and -TOUCH <= z <= thickness + TOUCH
    return inside and min(abs(x), abs(width - x), abs(z), abs(thickness - z)) <= TOUCH


def _settled(path: Path, width: float, thickness: float) -> Path:
    """A path whose straight ends reach the sides they almost reach; level ones stay level."""
    steps = list(path.steps)
    start = path.start
    if isinstance(steps[0], LineTo):
        start = _onto(start, steps[0].to, width, thickness)
    if isinstance(steps[-1], LineTo):
        before = path.segments[-1].start
        steps[-1] = LineTo(_onto(steps[-1].to, before, width, thickness))
    return Path(start, tuple(steps))


def _onto(end: Point, other: Point, width: float, thickness: float) -> Point:
    """The end of a line put upon the sides near it, unless that would tip the line."""
    x, z = end
    if x != other[0]:
        x = next((side for side in (0.0, width) if abs(x - side) <= TOUCH), x)
    if z != other[1]:
        z = next((side for side in (0.0, thickness) if abs(z - side) <= TOUCH), z)
    return (x, z)


def _place(point: Point) -> str:
    return f"({point[0]:.2f}, {point[1]:.2f})"

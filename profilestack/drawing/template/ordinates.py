"""Heights and projections of a profile, written along the sides of its section."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from profilestack.drawing.drawing import Mark, line, words
from profilestack.drawing.palette import EXTENSION_PEN, INK, QUIET_INK, SMALL
from profilestack.drawing.placing import Placing, spread
from profilestack.drawing.wording import number_text
from profilestack.geometry.crossing import direction_at, point_on, shares_of_extremes
from profilestack.geometry.path import Arc, Path, Point

Side = Literal["left", "right", "below"]

GAP = 2.9
"""Between neighbouring numbers [mm]."""

SAME = 0.05
"""Places nearer than this are one number [mm]."""

FIRST, KNEE, LABEL = 5.5, 9.5, 10.3
"""From the blank: where an extension line may bend, where it has bent, where the number is [mm]."""


@dataclass(frozen=True, slots=True)
class Ordinate:
    """A place on the profile [mm], and how much it tells: its bend [rad]."""

    at: Point
    weight: float


def key_places(path: Path) -> list[Ordinate]:
    """The places that a shop measures: corners, joints, and the level and plumb points of arcs."""
    pieces = path.segments
    found = [Ordinate(path.start, math.pi), Ordinate(path.end, math.pi)]
    for before, after in pairwise(pieces):
        old, new = direction_at(before, 1.0), direction_at(after, 0.0)
        turn = math.atan2(old[0] * new[1] - old[1] * new[0], old[0] * new[0] + old[1] * new[1])
        found.append(Ordinate(after.start, abs(turn)))
    for piece in pieces:
        if isinstance(piece, Arc):
            for axis in (0, 1):
                for share in shares_of_extremes(piece, axis):
                    found.append(Ordinate(point_on(piece, share), 0.5))
    return found


def chosen(
    places: Sequence[Ordinate], axis: int, extent: float, always: Sequence[float]
) -> list[tuple[float, Point | None]]:
    """The values to write along one side, each with the place it comes from.

    ``always`` are values of the blank itself. Where there are more than the side (``extent``
    [mm]) has room for, those that bend least are left out.
    """
    room = max(4, int((extent + 12.0) / GAP))
    taken: list[tuple[float, Point | None]] = [(value, None) for value in always]
    for place in sorted(places, key=lambda place: -place.weight):
        value = place.at[axis]
        if len(taken) < room and all(abs(value - other) > SAME for other, _ in taken):
            taken.append((value, place.at))
    return sorted(taken, key=lambda each: each[0])


def ordinate_marks(
    values: Sequence[tuple[float, Point | None]],
    placing: Placing,
    side: Side,
    sides: tuple[float, float],
    units: str,
) -> list[Mark]:
    """Numbers along one side of the blank.

    ``sides`` [mm on the sheet] are that side, and how far out something else stands beside it.
    """
    bare, edge = sides
    marks: list[Mark] = []
    outward = -1.0 if side in ("left", "below") else 1.0

    def at(along: float, out: float) -> Point:
        away = edge + outward * out
        return (along, away) if side == "below" else (away, along)

    base, scale = (
        (placing.left, placing.across) if side == "below" else (placing.bottom, placing.up)
    )
    places = [base + scale * value for value, _ in values]
    for (value, point), place, shown in zip(values, places, spread(places, GAP), strict=True):
        begin = at(place, outward * (bare - edge) + 1.0)
        if point is not None:
            begin = placing.point(point)
        marks.append(line(begin, at(place, FIRST), at(shown, KNEE), pen=EXTENSION_PEN))
        text = number_text(0.0 if abs(value) < 5e-4 else value, units)
        angle = 90.0 if side == "below" else 0.0
        anchor: Literal["start", "end"] = "start" if side == "right" else "end"
        label = at(shown, LABEL)
        marks.append(words(label, text, SMALL, INK, anchor, angle=angle, centered=True))
    return marks


def side_heading(text: str, at: Point, side: Side) -> Mark:
    """What the numbers of a side are."""
    anchor: Literal["start", "end"] = "end" if side == "left" else "start"
    return words(at, text, SMALL, QUIET_INK, anchor)

"""Free places for labels: near to what they name, clear of each other and of the outlines."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from profilestack.geometry.path import Point, Points

Box = tuple[float, float, float, float]

_TURNS = 24
_REACHES = (5.0, 7.5, 10.0, 13.0, 17.0, 22.0, 28.0, 36.0)


@dataclass(slots=True)
class Room:
    """What of a sheet is taken: ``bounds`` are its edges, ``taken`` the boxes in it [mm].

    ``lines`` are points along outlines that a label should not hide, shape (n, 2) [mm].
    """

    bounds: Box
    lines: Points
    taken: list[Box] = field(default_factory=list)
    leaders: list[tuple[Point, Point]] = field(default_factory=list)

    def take(self, middle: Point, width: float, height: float) -> None:
        """Mark a place as taken."""
        self.taken.append(_box(middle, width, height))

    def place(self, at: Point, width: float, height: float, toward: Point) -> Point | None:
        """The middle of a free box near ``at``, rather ``toward`` a direction; then it is taken.

        None where everything near is taken.
        """
        best: tuple[float, Point] | None = None
        base = math.atan2(toward[1], toward[0])
        for reach in _REACHES:
            for turn in range(_TURNS):
                off = (turn + 1) // 2 * (1 if turn % 2 else -1) * math.tau / _TURNS
                angle = base + off
                middle = (
                    at[0] + (reach + width / 2.0 * abs(math.cos(angle))) * math.cos(angle),
                    at[1] + (reach + height / 2.0 * abs(math.sin(angle))) * math.sin(angle),
                )
                cost = reach + 6.0 * abs(off)
                if best is not None and cost >= best[0]:
                    continue
                worth = self._cost(at, middle, width, height)
                if worth is not None and (best is None or cost + worth < best[0]):
                    best = (cost + worth, middle)
        if best is None:
            return None
        self.take(best[1], width, height)
        self.leaders.append((at, best[1]))
        return best[1]

    def _cost(self, at: Point, middle: Point, width: float, height: float) -> float | None:
        """What a place costs, None when it is taken or off the sheet."""
        box = _box(middle, width + 1.0, height + 1.0)
        low_x, low_y, high_x, high_y = self.bounds
        if box[0] < low_x or box[1] < low_y or box[2] > high_x or box[3] > high_y:
            return None
        if any(_overlap(box, other) for other in self.taken):
            return None
        if any(_passes(leader, box) for leader in self.leaders):
            return None
        hidden = 0
        if len(self.lines):
            x, y = self.lines[:, 0], self.lines[:, 1]
            hidden = int(((x > box[0]) & (x < box[2]) & (y > box[1]) & (y < box[3])).sum())
        crossed = sum(_passes((at, middle), other) for other in self.taken)
        crossed += sum(_cross(leader, (at, middle)) for leader in self.leaders)
        return 1.5 * hidden + 8.0 * crossed


def _box(middle: Point, width: float, height: float) -> Box:
    x, y = middle
    return (x - width / 2.0, y - height / 2.0, x + width / 2.0, y + height / 2.0)


def _overlap(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def _passes(leader: tuple[Point, Point], box: Box) -> bool:
    """Whether a line runs through a box, looked at in small steps."""
    (x0, y0), (x1, y1) = leader
    share = np.linspace(0.0, 1.0, 25)
    x, y = x0 + share * (x1 - x0), y0 + share * (y1 - y0)
    return bool(((x > box[0]) & (x < box[2]) & (y > box[1]) & (y < box[3])).any())


def _cross(one: tuple[Point, Point], two: tuple[Point, Point]) -> bool:
    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, two
    return side(a, b, c) * side(a, b, d) < 0.0 and side(c, d, a) * side(c, d, b) < 0.0

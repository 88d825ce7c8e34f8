"""Where the section plane lies on a sheet of paper, and how labels make room for each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely.geometry.base import BaseGeometry

from profilestack.geometry.path import Point, Points
from profilestack.geometry.region import rings_of


@dataclass(frozen=True, slots=True)
class Placing:
    """Section to sheet: x' = left + across x, y' = bottom + up z [mm].

    ``across`` is below 0 where the section is seen from its right end.
    """

    left: float
    bottom: float
    across: float = 1.0
    up: float = 1.0

    def points(self, points: Points) -> Points:
        """Points of the section, shape (n, 2) [mm], on the sheet."""
        scale = np.array((self.across, self.up))
        placed: Points = np.asarray(points) * scale + np.array((self.left, self.bottom))
        return placed

    def point(self, point: Point) -> Point:
        """One point of the section [mm] on the sheet."""
        return (self.left + self.across * point[0], self.bottom + self.up * point[1])

    def rings(self, region: BaseGeometry) -> tuple[Points, ...]:
        """The rings of a region of the section on the sheet [mm]."""
        return tuple(self.points(ring) for ring in rings_of(region))

    def direction(self, direction: Point) -> Point:
        """A direction in the section as it points on the sheet, of length 1."""
        x, y = direction[0] * self.across, direction[1] * self.up
        size = (x * x + y * y) ** 0.5
        return (x / size, y / size)


def spread(wanted: Sequence[float], gap: float) -> list[float]:
    """Places near the wanted ones [mm], in the same order, at least ``gap`` [mm] apart.

    The sum of the squared shifts is the least possible (pool adjacent violators).
    """
    order = sorted(range(len(wanted)), key=lambda k: wanted[k])
    pools: list[list[float]] = []  # each: sum, count
    for rank, k in enumerate(order):
        pools.append([wanted[k] - rank * gap, 1.0])
        while len(pools) > 1 and pools[-2][0] / pools[-2][1] > pools[-1][0] / pools[-1][1]:
            total, count = pools.pop()
            pools[-1][0] += total
            pools[-1][1] += count
    level = [total / count for total, count in pools for _ in range(int(count))]
    found = [0.0] * len(wanted)
    for rank, k in enumerate(order):
        found[k] = level[rank] + rank * gap
    return found


def span_between(places: Sequence[float]) -> float:
    """The smallest distance between neighbouring places, infinite for fewer than two [mm]."""
    ordered = sorted(places)
    return min((b - a for a, b in pairwise(ordered)), default=float("inf"))

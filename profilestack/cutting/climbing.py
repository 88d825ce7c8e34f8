"""The largest value of a distance over straight stretches, found with bounds instead of luck.

Between the two ends of a stretch the distance to a shape cannot be larger than any of these:

- a distance changes by no more than one walks;
- the nearest points of both ends, the feet, belong to the shape: the distance to the nearer one of
  them is largest where both are equally far;
- where the feet are joined by a nearly straight piece of the shape, it cannot be larger than at
  the ends, but for how far that piece may bend.

Stretches that the least of these bounds does not settle are cut into parts, again and again, until
none can hold a larger value.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profilestack.cutting.nearest import Indices, Numbers, Polyline
from profilestack.geometry.path import Point, Points

Measure = Callable[[Points], tuple[Numbers, Numbers]]
"""Distance [mm] of points (below 0: so deep inside) and the place of the nearest point [mm]."""

ROUNDS = 12
"""Each makes a stretch at least twice as short: 0.5 mm becomes 0.0001 mm."""

MOST = 400
"""Stretches looked into at once: the most promising ones."""


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """Straight stretches from ``starts`` to ``ends``, each shape (n, 2) [mm].

    ``far`` (n, 2) are the distances at both ends [mm], below 0 inside; ``places`` (n, 2) those of
    the nearest points along ``line`` [mm].
    """

    starts: Points
    ends: Points
    far: Numbers
    places: Numbers

    def bounds(self, line: Polyline) -> tuple[Numbers, Numbers]:
        """What the distance cannot exceed on each stretch [mm], and where it might be largest.

        The latter are shares of the stretches, away from their ends. Both have shape (n,).
        """
        (x, z), (to_x, to_z) = self.starts.T, self.ends.T
        along_x, along_z = to_x - x, to_z - z
        near, far = self.far.T
        walked = (near + far + np.hypot(along_x, along_z)) / 2.0
        ends = np.maximum(np.abs(near), np.abs(far))
        here, there = self.places.T
        (foot_x, foot_z), (next_x, next_z) = line.at(here), line.at(there)
        gap_x, gap_z = next_x - foot_x, next_z - foot_z
        # a thread of that span between both feet stays in an ellipse: half its smaller axis
        spare = (there - here) ** 2 - gap_x * gap_x - gap_z * gap_z
        bend = np.sqrt(np.maximum(spare, 0.0)) / 2.0
        # where a stretch crosses the line of places that are equally far from both feet
        middle_x, middle_z = (foot_x + next_x) / 2.0 - x, (foot_z + next_z) / 2.0 - z
        across = along_x * gap_x + along_z * gap_z
        share = (middle_x * gap_x + middle_z * gap_z) / np.where(across == 0.0, np.inf, across)
        between = (share > 0.0) & (share < 1.0)
        parted = np.hypot(x + share * along_x - foot_x, z + share * along_z - foot_z)
        parted = np.where(between, parted, 0.0)
        bound = np.minimum(walked, np.minimum(ends + bend, np.maximum(ends, parted)))
        return bound, np.where(between, np.minimum(np.maximum(share, 0.1), 0.9), 0.5)

    def taken(self, chosen: Indices) -> Stretches:
        """The chosen ones."""
        return Stretches(
            self.starts[chosen], self.ends[chosen], self.far[chosen], self.places[chosen]
        )


def promising(bounds: Numbers, best: float, ripple: float) -> Indices:
    """Stretches that might hold more than is known, beyond what :func:`highest_between` leaves."""
    return np.flatnonzero(bounds > max(best + 0.25 * ripple, 2.0 * ripple))


def highest_between(
    stretches: Stretches,
    measure: Measure,
    line: Polyline,
    floor: float,
    ripple: float,
    known: tuple[Numbers, Numbers] | None = None,
) -> tuple[float, Point | None]:
    """The largest distance on the stretches above ``floor`` [mm], and where; None: none above it.

    It is met within a quarter of ``ripple`` [mm], the error of flattened arcs; what is not above
    two ripples is not looked for. ``line`` is what ``measure`` measures to; ``known`` are the
    stretches' bounds and shares where the caller has them.
    """
    best, at = floor, None
    for _ in range(ROUNDS):
        bounds, shares = known or stretches.bounds(line)
        known = None
        chosen = promising(bounds, best, ripple)
        if len(chosen) == 0:
            break
        if len(chosen) > MOST:
            chosen = chosen[np.argsort(-bounds[chosen])[:MOST]]
        points, far, places = _divided(stretches.taken(chosen), shares[chosen], measure)
        top = np.unravel_index(np.argmax(far), far.shape)
        if far[top] > best:
            best, at = float(far[top]), (float(points[top][0]), float(points[top][1]))
        stretches = Stretches(
            points[:, :-1].reshape(-1, 2),
            points[:, 1:].reshape(-1, 2),
            _pairs(far),
            _pairs(places),
        )
    return best, at


def _divided(
    stretches: Stretches, shares: Numbers, measure: Measure
) -> tuple[Points, Numbers, Numbers]:
    """The stretches cut where they may be highest and on both sides of it, measured.

    Points (n, parts + 1, 2), ends among them, distances and places (n, parts + 1). A few stretches
    are cut into more parts: what a call costs does not depend on a few points.
    """
    half = 12 if len(shares) <= 4 else 6 if len(shares) <= 8 else 2
    steps = np.arange(1, half + 1) / half
    before = shares[:, None] * steps
    after = shares[:, None] + (1.0 - shares[:, None]) * steps[:-1]
    cuts = np.concatenate((before, after), axis=1)
    along = stretches.ends - stretches.starts
    inner = stretches.starts[:, None] + cuts[..., None] * along[:, None]
    far, places = (each.reshape(cuts.shape) for each in measure(inner.reshape(-1, 2)))
    points = np.concatenate((stretches.starts[:, None], inner, stretches.ends[:, None]), axis=1)
    return points, _between(stretches.far, far), _between(stretches.places, places)


def _between(ends: Numbers, inner: Numbers) -> Numbers:
    return np.concatenate((ends[:, :1], inner, ends[:, 1:]), axis=1)


def _pairs(row: Numbers) -> Numbers:
    """What is known at the ends of the parts, shape (n x parts, 2), from rows of all the cuts."""
    pairs = np.empty((row.shape[0] * (row.shape[1] - 1), 2))
    pairs[:, 0] = row[:, :-1].reshape(-1)
    pairs[:, 1] = row[:, 1:].reshape(-1)
    return pairs

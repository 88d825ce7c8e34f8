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
        along = self.ends - self.starts
        walked = (self.far[:, 0] + self.far[:, 1] + np.hypot(along[:, 0], along[:, 1])) / 2.0
        ends = np.abs(self.far).max(axis=1)
        feet = line.at(self.places.reshape(-1)).reshape(-1, 2, 2)
        gap = feet[:, 1] - feet[:, 0]
        gap2 = (gap * gap).sum(axis=1)
        span2 = (self.places[:, 1] - self.places[:, 0]) ** 2
        # a thread of that span between both feet stays in an ellipse: half its smaller axis
        bend = np.sqrt(np.maximum(span2 - gap2, 0.0)) / 2.0
        # where a stretch crosses the line of places that are equally far from both feet
        off = (feet[:, 0] + feet[:, 1]) / 2.0 - self.starts
        across = (along * gap).sum(axis=1)
        share = (off * gap).sum(axis=1) / np.where(across == 0.0, np.inf, across)
        between = (share > 0.0) & (share < 1.0)
        share = np.where(between, share, 0.5)
        to = self.starts + share[:, None] * along - feet[:, 0]
        parted = np.where(between, np.hypot(to[:, 0], to[:, 1]), 0.0)
        bound = np.minimum(walked, np.minimum(ends + bend, np.maximum(ends, parted)))
        return bound, np.clip(share, 0.1, 0.9)

    def taken(self, chosen: Indices) -> Stretches:
        """The chosen ones."""
        return Stretches(
            self.starts[chosen], self.ends[chosen], self.far[chosen], self.places[chosen]
        )


def promising(bounds: Numbers, best: float, ripple: float) -> Indices:
    """Stretches that might hold more than is known, beyond what :func:`highest_between` leaves."""
    return np.flatnonzero(bounds > max(best + 0.1 * ripple, 2.0 * ripple))


def highest_between(
    stretches: Stretches, measure: Measure, line: Polyline, floor: float, ripple: float
) -> tuple[float, Point | None]:
    """The largest distance on the stretches above ``floor`` [mm], and where; None: none above it.

    It is met within a tenth of ``ripple`` [mm], the error of flattened arcs; what is not above two
    ripples is not looked for. ``line`` is what ``measure`` measures to.
    """
    best, at = floor, None
    for _ in range(ROUNDS):
        bounds, shares = stretches.bounds(line)
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
            np.stack((far[:, :-1].reshape(-1), far[:, 1:].reshape(-1)), axis=1),
            np.stack((places[:, :-1].reshape(-1), places[:, 1:].reshape(-1)), axis=1),
        )
    return best, at


def _divided(
    stretches: Stretches, shares: Numbers, measure: Measure
) -> tuple[Points, Numbers, Numbers]:
    """The stretches cut where they may be highest and on both sides of it, measured.

    Points (n, 5, 2), ends among them, distances and places (n, 5).
    """
    cuts = np.stack((shares / 2.0, shares, (1.0 + shares) / 2.0), axis=1)
    along = stretches.ends - stretches.starts
    inner = stretches.starts[:, None] + cuts[..., None] * along[:, None]
    far, places = (each.reshape(-1, 3) for each in measure(inner.reshape(-1, 2)))
    points = np.concatenate((stretches.starts[:, None], inner, stretches.ends[:, None]), axis=1)
    return points, _between(stretches.far, far), _between(stretches.places, places)


def _between(ends: Numbers, inner: Numbers) -> Numbers:
    return np.concatenate((ends[:, :1], inner, ends[:, 1:]), axis=1)

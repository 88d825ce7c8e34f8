"""The largest value of a distance over straight stretches, found with a bound instead of luck.

A distance changes by no more than one walks. And where the nearest points of a stretch's two ends
are joined by a nearly straight piece of the other shape, the distance between cannot be larger
than at the ends, but for how far that piece may bend. Stretches that these two bounds do not
settle are cut into parts, again and again, until none can hold a larger value.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from profilestack.cutting.nearest import Indices, Numbers, Polyline
from profilestack.geometry.path import Point, Points

Measure = Callable[[Points], tuple[Numbers, Numbers]]
"""Distance [mm] of points (below 0: so deep inside) and the place of the nearest point [mm]."""

PARTS = 6
"""An unsettled stretch is cut into so many parts."""

ROUNDS = 7
"""A stretch of 0.5 mm is then cut down to 0.000002 mm."""

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

    def bounds(self, line: Polyline) -> Numbers:
        """What the distance cannot exceed on each stretch [mm], shape (n,)."""
        length = np.hypot(*(self.ends - self.starts).T)
        walked = (self.far[:, 0] + self.far[:, 1] + length) / 2.0
        feet = line.at(self.places.reshape(-1)).reshape(-1, 2, 2)
        gap2 = ((feet[:, 1] - feet[:, 0]) ** 2).sum(axis=1)
        span2 = (self.places[:, 1] - self.places[:, 0]) ** 2
        # a thread of that span between both feet stays in an ellipse: half its smaller axis
        bend = np.sqrt(np.maximum(span2 - gap2, 0.0)) / 2.0
        bound: Numbers = np.minimum(walked, np.abs(self.far).max(axis=1) + bend)
        return bound

    def taken(self, chosen: Indices) -> Stretches:
        """The chosen ones."""
        return Stretches(
            self.starts[chosen], self.ends[chosen], self.far[chosen], self.places[chosen]
        )


def highest_between(
    stretches: Stretches, measure: Measure, line: Polyline, floor: float, ripple: float
) -> tuple[float, Point | None]:
    """The largest distance on the stretches above ``floor`` [mm], and where; None: none above it.

    It is met within a tenth of ``ripple`` [mm], the error of flattened arcs; what is not above two
    ripples is not looked for. ``line`` is what ``measure`` measures to.
    """
    best, at = floor, None
    for _ in range(ROUNDS):
        bounds = stretches.bounds(line)
        chosen = np.flatnonzero(bounds > max(best + 0.1 * ripple, 2.0 * ripple))
        if len(chosen) == 0:
            break
        if len(chosen) > MOST:
            chosen = chosen[np.argsort(-bounds[chosen])[:MOST]]
        points, far, places = _divided(stretches.taken(chosen), measure)
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


def _divided(stretches: Stretches, measure: Measure) -> tuple[Points, Numbers, Numbers]:
    """The stretches' points, ends among them, shape (n, PARTS + 1, 2), measured."""
    shares = np.arange(1, PARTS) / PARTS
    along = stretches.ends - stretches.starts
    inner = stretches.starts[:, None] + shares[None, :, None] * along[:, None]
    far, places = measure(inner.reshape(-1, 2))
    count = len(along)
    points = np.concatenate((stretches.starts[:, None], inner, stretches.ends[:, None]), axis=1)
    return points, _between(stretches.far, far, count), _between(stretches.places, places, count)


def _between(ends: Numbers, inner: Numbers, count: int) -> Numbers:
    return np.concatenate((ends[:, :1], inner.reshape(count, PARTS - 1), ends[:, 1:]), axis=1)

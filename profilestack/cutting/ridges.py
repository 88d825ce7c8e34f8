"""Ridges: the local peaks of leftover that two neighbouring cuts leave between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from profilestack.cutting.cut import Cut
from profilestack.cutting.farthest import Edges, polish
from profilestack.cutting.nearest import Numbers, Polyline
from profilestack.geometry.path import Point, Points

LOWEST = 0.005
"""Peaks up to this height [mm] are not told: sanding takes them unseen."""

LEVEL = 1e-7
"""Heights nearer than this [mm] are one."""


@dataclass(frozen=True, slots=True)
class Ridge:
    """A peak of leftover.

    ``at`` is its crest [mm]; ``height`` the crest's distance to the target [mm]; ``width`` the
    length of target between the neighbouring minima [mm]; ``between`` the numbers of the passes
    that made its two flanks, from the lower x or earlier place on the target to the later (0: the
    blank's own face).
    """

    at: Point
    height: float
    width: float
    between: tuple[int, int]


def ridges_of(cut: Cut, edges: Edges, line: Polyline) -> tuple[Ridge, ...]:
    """All ridges of a cut section, in the order of the target.

    ``edges`` are those of the leftover, measured from the target ``line``. Peaks that rise less
    than 2.5 chords above the dips beside them are the flattening's own ripples, and passed over.
    """
    crests = [
        _crest(chain, far, places, extremes)
        for chain, far, places in edges.parts()
        if far.max(initial=0.0) > LOWEST
        for extremes in _peaks(far, 2.5 * cut.chord)
    ]
    if not crests:
        return ()
    crests.sort(key=lambda crest: crest.place)
    behind, top, ahead = (
        np.array([getattr(crest, key) for crest in crests]) for key in ("behind", "top", "ahead")
    )
    heights, tops = polish(behind, top, ahead, line)
    flanks = np.stack(((behind + top) / 2.0, (top + ahead) / 2.0), axis=1)
    level = np.array([crest.level for crest in crests])
    heights[level] = line.nearest(top[level])[0]  # as high all along: nothing to climb
    flanks[level] = np.stack((behind, ahead), axis=1)[level]
    makers = _makers(cut, flanks.reshape(-1, 2))
    found = []
    for k, crest in enumerate(crests):
        first, second = makers[2 * k], makers[2 * k + 1]
        at = crest.top if crest.level else tops[k]
        between = (first, second) if crest.forward else (second, first)
        found.append(Ridge((float(at[0]), float(at[1])), float(heights[k]), crest.width, between))
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class _Crest:
    """A peak on a chain: its top and the points beside it; ``level`` when it is a stretch."""

    place: float
    top: Points
    behind: Points
    ahead: Points
    width: float
    forward: bool
    level: bool


def _peaks(far: Numbers, rise: float) -> list[tuple[int, int, int]]:
    """Peaks of a closed chain that stand ``rise`` above the dips on both sides.

    Gives (dip, peak, dip) as indices; the dips are the ones nearest to the peak. The chain is
    walked once round from its lowest place, over the places where it turns only.
    """
    turn = int(np.argmin(far))
    walk = np.concatenate((np.arange(turn, len(far)), np.arange(turn + 1)))
    level = far[walk]
    slope = np.sign(np.where(np.abs(np.diff(level)) < LEVEL, 0.0, np.diff(level)))
    turning = np.concatenate(([True], slope[1:] != slope[:-1], [True]))
    walk, level = walk[turning], level[turning]
    found: list[tuple[int, int, int]] = []
    low, high, after = 0, -1, 0
    for k in range(1, len(walk)):
        if high < 0:
            if level[k] <= level[low] + LEVEL:
                low = k
            elif level[k] > max(LOWEST, level[low] + rise):
                high, after = k, k
            continue
        # the dip before the height: the next place may be the top of a higher peak
        if level[k] > level[after] + rise and level[after] < level[high] - rise:
            found.append((int(walk[low]), int(walk[high]), int(walk[after])))
            low, high, after = after, (k if level[k] > LOWEST else -1), k
            low = _last_level(level, low, k)
        elif level[k] > level[high]:
            high, after = k, k
        elif level[k] < level[after] - LEVEL:
            after = k
    if high >= 0 and level[after] < level[high] - rise:
        found.append((int(walk[low]), int(walk[high]), int(walk[after])))
    return found


def _last_level(level: Numbers, low: int, end: int) -> int:
    """The last place before ``end`` that is as low as ``low``."""
    return max(k for k in range(low, end) if level[k] <= level[low] + LEVEL)


def _crest(chain: Points, far: Numbers, places: Numbers, extremes: tuple[int, int, int]) -> _Crest:
    low, peak, high = extremes
    count = len(chain)
    left = right = 0
    # a crest may be level for a while: a stretch of the blank's face left standing
    while abs(far[(peak + right + 1) % count] - far[peak]) < LEVEL and right < count:
        right += 1
    while abs(far[(peak - left - 1) % count] - far[peak]) < LEVEL and left < count:
        left += 1
    first, last = (peak - left) % count, (peak + right) % count
    behind, ahead = chain[(first - 1) % count], chain[(last + 1) % count]
    level, top = first != last, chain[peak]
    if level:  # its flanks begin beyond its ends
        behind, ahead = (behind + chain[first]) / 2.0, (ahead + chain[last]) / 2.0
        top = _middle(chain[np.arange(first, first + (last - first) % count + 1) % count])
    return _Crest(
        float(places[peak]),
        top,
        behind,
        ahead,
        float(abs(places[high] - places[low])),
        bool(places[low] <= places[high]),
        level,
    )


def _middle(stretch: Points) -> Points:
    """Half way along a chain of points: on it, even where it turns a corner."""
    steps = np.hypot(*np.diff(stretch, axis=0).T)
    places = np.concatenate(([0.0], np.cumsum(steps)))
    half = places[-1] / 2.0
    middle: Points = np.array([np.interp(half, places, axis) for axis in stretch.T])
    return middle


def _makers(cut: Cut, points: Points) -> list[int]:
    """The number of the first pass whose edge runs through each place; 0: the blank's own face.

    No place of the section's outline lies inside a stroke, so touching one is lying on its edge.
    """
    numbers = [0] * len(points)
    if not cut.strokes:
        return numbers
    tree = shapely.STRtree([stroke.region for stroke in cut.strokes])
    places, strokes = tree.query(shapely.points(points), predicate="dwithin", distance=1e-6)
    for place, stroke in zip(places.tolist(), strokes.tolist(), strict=True):
        number = cut.strokes[stroke].number
        numbers[place] = min(numbers[place] or number, number)
    return numbers

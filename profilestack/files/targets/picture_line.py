"""The middle of a drawn line, from the closed outline round it."""

from __future__ import annotations

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.geometry.path import Points
from profilestack.geometry.polyline import filled, meeting_of, places_along

FATTEST = 0.1
"""A drawn line is no wider than this share of its length."""


TIP = 1.2
"""Nearer to the line's ends than so many of its widths its middle is not trusted."""

SIDE = 16
"""So many points on either side tell where a corner of the middle is."""

UNEVEN, UNEVEN_PIXELS = 0.08, 0.5
"""Where the line is wider or narrower than usual by more than this share, and by more than so many
pixels, its middle is not trusted."""


def middle_of_line(outline: Points) -> Points:
    """The middle between the two sides of an outline that runs round a drawn line [pixels].

    The sides are parted at the line's two ends: the two places of the outline between which the
    way along the line, across the outline's inside, is longest. From each point of one side half
    the way to the nearest point of the other is taken; corners, where that rounds, are put back.

    Raises:
        InputError: the outline runs round no line.
    """
    if float(np.hypot(*(outline[0] - outline[-1]))) > 1e-6:
        text = "is not closed: the drawn line runs off the picture"
        raise InputError(Problem("trace", text, "a whole drawn line", "leave some ground round it"))
    row = filled(outline, 0.5)[:-1]
    length = float(places_along(row)[-1]) / 2.0
    width = 2.0 * abs(_area(row)) / (2.0 * length)
    if width > FATTEST * length:
        told = f"is a shape {width:.0f} pixels wide and {length:.0f} long, no drawn line"
        raise InputError(Problem("trace", told, "a thin line", "say --trace edge"))
    first, second = _tips(row, width)
    one = np.roll(row, -first, axis=0)[: (second - first) % len(row) + 1]
    two = np.roll(row, -second, axis=0)[: (first - second) % len(row) + 1][::-1]
    middle = (one + _nearest_on(one, two)) / 2.0
    # round the ends and in the corners the nearest of the other side is not straight across
    apart = 2.0 * np.hypot(*(one - middle).T)
    usual = float(np.median(apart))
    even = np.abs(apart - usual) <= max(UNEVEN * usual, UNEVEN_PIXELS)
    for tip in (row[first], row[second]):
        even &= np.hypot(*(middle - tip).T) > TIP * usual
    if int(even.sum()) < 2 * SIDE:
        raise InputError(Problem("trace", "shows no line with two sides", "a thin line"))
    return _led_on(_with_corners(middle[even], usual), row[first], row[second], usual)


def _led_on(middle: Points, first: Points, last: Points, width: float) -> Points:
    """The middle led on straight to the pen's own ends, half its width before the tips."""
    ends = []
    for tip, near in ((first, middle[:SIDE][::-1]), (last, middle[-SIDE:])):
        along = near[-1] - near[0]
        along /= np.hypot(*along)
        ends.append(near[-1] + max(0.0, float((tip - near[-1]) @ along) - width / 2.0) * along)
    return np.concatenate((ends[:1], middle, ends[1:]))


def _with_corners(middle: Points, width: float) -> Points:
    """The middle with its corners put back: where the rows before and after a gap meet."""
    steps = np.hypot(*np.diff(middle, axis=0).T)
    middle = np.concatenate((middle[:1], middle[1:][steps > 1e-9]))
    steps = steps[steps > 1e-9]
    parts, last = [], 0
    for k in np.flatnonzero(steps > 0.4 * width).tolist():
        before, after = middle[max(last, k + 1 - SIDE) : k + 1], middle[k + 1 : k + 1 + SIDE]
        parts.append(middle[last : k + 1])
        last = k + 1
        if min(len(before), len(after)) < 4:
            continue
        corner = meeting_of(before, after)
        if corner is not None and np.hypot(*(before[-1] - np.array(corner))) < 1.5 * width:
            parts.append(np.array([corner]))
    parts.append(middle[last:])
    return np.concatenate(parts)


def _area(row: Points) -> float:
    x, y = row[:, 0], row[:, 1]
    return float(x @ np.roll(y, -1) - y @ np.roll(x, -1)) / 2.0


def _tips(row: Points, width: float) -> tuple[int, int]:
    """The two places where the outline turns back: most of a half turn within the pen's width."""
    reach = max(2, round(1.5 * width / 0.5))
    back = row - np.roll(row, reach, axis=0)
    ahead = np.roll(row, -reach, axis=0) - row
    turn = np.abs(
        np.arctan2(back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0], (back * ahead).sum(axis=1))
    )
    # a tip is narrow: what lies the reach before and behind it lies side by side
    narrow = np.hypot(*(np.roll(row, reach, axis=0) - np.roll(row, -reach, axis=0)).T)
    score = turn - narrow / (width + 1e-9) * 0.2
    first = int(np.argmax(score))
    apart = (np.arange(len(row)) - first) % len(row)
    far = (apart > 3 * reach) & (apart < len(row) - 3 * reach)
    if not far.any():
        raise InputError(Problem("trace", "shows no line with two ends", "a thin line"))
    second = int(np.flatnonzero(far)[np.argmax(score[far])])
    return first, second


def _nearest_on(points: Points, row: Points) -> Points:
    """For each point the nearest of a row, which is looked at in order: lines do not cross."""
    found = np.empty_like(points)
    share = len(row) / len(points)
    reach = max(200, len(row) // 8)
    for k, point in enumerate(points):
        low = max(0, int(k * share) - reach)
        near = row[low : int(k * share) + reach + 1]
        found[k] = near[int(np.argmin(np.hypot(*(near - point).T)))]
    return found

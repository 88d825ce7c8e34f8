"""Joints and bulges moved by least squares until a path lies best among its points.

Scattered points are evened out so, corners come to where the neighbouring pieces meet, and joints
can be asked to be tangent, lines to be exactly level or upright.
"""

from __future__ import annotations

import numpy as np

from profilestack.geometry.path import Points
from profilestack.targets.bulges import BulgePath, distances_to_piece
from profilestack.targets.least_squares import Task, least_squares
from profilestack.targets.moving import Rules, Variables

MOST_POINTS = 3000
"""More points are thinned for the least squares; they are all looked at afterwards."""

ROUNDS = 3
"""How often points are given to pieces anew."""


def refined(
    joined: BulgePath, points: Points, breaks: list[int], rules: Rules
) -> tuple[BulgePath, list[int]]:
    """The path moved by least squares among points that it runs along in order.

    ``breaks`` are the points, by index, between which the pieces stand for them: piece k has those
    from ``breaks[k]`` to ``breaks[k + 1]``. Returned with the breaks as they then are.
    """
    for _ in range(ROUNDS):
        joined = _solved(joined, points, breaks, rules)
        moved = _breaks_of(joined, points, breaks)
        if moved == breaks:
            break
        breaks = moved
    return joined, breaks


def evened(joined: BulgePath, rules: Rules) -> BulgePath:
    """The path with the level and upright lines of the rules exactly so, at their ends' means."""
    variables = Variables(joined, Rules(level=rules.level, upright=rules.upright))
    return variables.put(joined, variables.gathered(joined))


def _solved(joined: BulgePath, points: Points, breaks: list[int], rules: Rules) -> BulgePath:
    variables = Variables(joined, rules)
    if not variables.groups:
        return joined
    owners = np.repeat(np.arange(joined.count), np.diff(breaks))
    owners = np.concatenate((owners, [joined.count - 1]))
    used = points[breaks[0] : breaks[-1] + 1]
    # the points of pieces that cannot move say nothing
    telling = variables.moves_piece()[owners]
    used, owners = used[telling], owners[telling]
    if len(used) > MOST_POINTS:
        kept = np.linspace(0, len(used) - 1, MOST_POINTS).round().astype(int)
        used, owners = used[kept], owners[kept]
    task = Task(joined, variables, used, owners, tuple(sorted(rules.tangent)))
    return variables.put(joined, least_squares(task))


def _breaks_of(joined: BulgePath, points: Points, breaks: list[int]) -> list[int]:
    """The points at which the path goes from piece to piece, near where it did before."""
    moved = [breaks[0]]
    for k in range(1, joined.count):
        low = max(moved[-1] + 1, (breaks[k - 1] + breaks[k]) // 2)
        high = min(breaks[-1] - (joined.count - k), (breaks[k] + breaks[k + 1] + 1) // 2)
        if high <= low:
            moved.append(max(low, moved[-1] + 1))
            continue
        near = points[low : high + 1]
        before = distances_to_piece(
            near, joined.joints[k - 1], joined.joints[k], joined.bulges[k - 1]
        )
        after = distances_to_piece(near, joined.joints[k], joined.joints[k + 1], joined.bulges[k])
        # the cut that gives each side to the nearer piece, by the squares; the point at the cut
        # belongs to the piece after it
        total = np.concatenate(([0.0], np.cumsum(before**2)))
        rest = np.concatenate((np.cumsum(after[::-1] ** 2)[::-1], [0.0]))
        moved.append(low + min(int(np.argmin(total + rest)), high - low))
    moved.append(breaks[-1])
    return moved

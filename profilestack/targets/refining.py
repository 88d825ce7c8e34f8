"""Joints and bulges moved by least squares until a path lies best among its points.

Scattered points are evened out so, corners come to where the neighbouring pieces meet, and joints
can be asked to be tangent, lines to be exactly level or upright.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from profilestack.geometry.path import Points
from profilestack.targets.bulges import (
    BulgePath,
    Numbers,
    carrier_distances,
    distances_to_piece,
    kinks,
)

Places = npt.NDArray[np.signedinteger[Any]]

HOLD = 1e-3
"""Joints are drawn to where they were with this weight, so that one between two pieces that run
alike has a place at all; points weigh 1."""

TANGENT = 1e4
"""Weight of a kink [mm/rad]: joints come out tangent to about a ten-thousandth of a degree."""

MOST_POINTS = 3000
"""More points are thinned for the least squares; they are all looked at afterwards."""

ROUNDS = 3
"""How often points are given to pieces anew."""

MOST_STEPS = 40
"""Steps of one least squares."""

STEP = 1e-6
"""Step of the numeric derivatives [mm, and in bulge]."""


@dataclass(frozen=True, slots=True)
class Rules:
    """What may move, and what must hold.

    ``held_joints`` and ``held_bulges`` are not moved. ``level`` and ``upright`` are pieces,
    lines, whose ends keep one z or one x. ``tangent`` are joints without a kink (0 in a closed
    path: its closing joint).
    """

    held_joints: frozenset[int] = frozenset()
    held_bulges: frozenset[int] = frozenset()
    level: frozenset[int] = frozenset()
    upright: frozenset[int] = frozenset()
    tangent: frozenset[int] = frozenset()


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
    variables = _Variables(joined, Rules(level=rules.level, upright=rules.upright))
    return variables.put(joined, variables.gathered(joined))


class _Variables:
    """Which of the numbers of a path vary together.

    An index for each joint's x and z and each bulge, -1 where it is held.
    """

    def __init__(self, joined: BulgePath, rules: Rules) -> None:
        count = joined.count
        closed = joined.is_closed
        groups: list[list[tuple[str, int]]] = []
        for axis, same in (("x", rules.upright), ("z", rules.level)):
            group: dict[int, int] = {k: k for k in range(count + 1)}
            for k in sorted(same):
                _unite(group, k, k + 1)
            if closed:
                _unite(group, 0, count)
            members: dict[int, list[tuple[str, int]]] = {}
            for k in range(count + 1):
                members.setdefault(_root(group, k), []).append((axis, k))
            groups += [
                own for own in members.values()
                if not any(k in rules.held_joints for _, k in own)
            ]  # fmt: skip
        lines = set(np.flatnonzero(joined.bulges == 0.0).tolist())
        free = [k for k in range(count) if k not in rules.held_bulges and k not in lines]
        groups += [[("b", k)] for k in free]
        self.groups = groups
        self.of_joints = np.full((count + 1, 2), -1)
        self.of_bulges = np.full(count, -1)
        for number, members_of in enumerate(groups):
            for what, k in members_of:
                if what == "b":
                    self.of_bulges[k] = number
                else:
                    self.of_joints[k, 0 if what == "x" else 1] = number

    def gathered(self, joined: BulgePath) -> Numbers:
        """The varying numbers of a path; those that vary together by their mean."""
        values = np.zeros(len(self.groups))
        for number, members in enumerate(self.groups):
            own = [
                joined.bulges[k] if what == "b" else joined.joints[k, 0 if what == "x" else 1]
                for what, k in members
            ]
            values[number] = math.fsum(own) / len(own)
        return values

    def put(self, joined: BulgePath, values: Numbers) -> BulgePath:
        """The path with other numbers."""
        joints, bulges = joined.joints.copy(), joined.bulges.copy()
        vary = self.of_joints >= 0
        joints[vary] = values[self.of_joints[vary]]
        free = self.of_bulges >= 0
        bulges[free] = values[self.of_bulges[free]]
        return BulgePath(joints, bulges)


def _solved(joined: BulgePath, points: Points, breaks: list[int], rules: Rules) -> BulgePath:
    variables = _Variables(joined, rules)
    if not variables.groups:
        return joined
    owners = np.repeat(np.arange(joined.count), np.diff(breaks))
    owners = np.concatenate((owners, [joined.count - 1]))
    used = points[breaks[0] : breaks[-1] + 1]
    if len(used) > MOST_POINTS:
        kept = np.linspace(0, len(used) - 1, MOST_POINTS).round().astype(int)
        used, owners = used[kept], owners[kept]
    tangent = sorted(rules.tangent)
    started = variables.gathered(joined)
    # bulges are held too, but hardly: an arc between two points only has none of its own
    hold = HOLD * np.array([0.01 if own[0][0] == "b" else 1.0 for own in variables.groups])

    def residuals(values: Numbers) -> Numbers:
        here = variables.put(joined, values)
        off = carrier_distances(
            used, here.joints[owners], here.joints[owners + 1], here.bulges[owners]
        )
        parts = [off, hold * (values - started)]
        if tangent:
            parts.append(TANGENT * kinks(here)[tangent])
        return np.concatenate(parts)

    def slopes(values: Numbers) -> Numbers:
        here = variables.put(joined, values)
        return np.concatenate(
            (
                _point_slopes(here, variables, used, owners, len(values)),
                np.diag(hold),
                _kink_slopes(joined, variables, values, tangent),
            )
        )

    return variables.put(joined, _least_squares(residuals, slopes, started))


def _least_squares(
    residuals: Callable[[Numbers], Numbers], slopes: Callable[[Numbers], Numbers], values: Numbers
) -> Numbers:
    """The numbers with the least sum of squared residuals near ``values``.

    Levenberg's and Marquardt's steps (D. Marquardt, SIAM J. Appl. Math. 11, 1963, 431-441, from
    memory), on the normal equations: they are small here, and large factorizations would only
    wait for each other's threads.
    """
    damping = 1e-6
    off = residuals(values)
    cost = float(off @ off)
    for _ in range(MOST_STEPS):
        table = slopes(values)
        normal = np.einsum("ij,ik->jk", table, table)
        slope = np.einsum("ij,i->j", table, off)
        better = False
        while not better and damping < 1e8:
            damped = normal + damping * np.diag(np.diag(normal))
            tried = values - np.linalg.solve(damped, slope)
            there = residuals(tried)
            squares = float(there @ there)
            better = squares <= cost  # never where a number is not finite
            damping *= 0.1 if better else 10.0
        if not better:
            break
        gain, step = cost - squares, float(np.abs(tried - values).max())
        values, off, cost = tried, there, squares
        damping = max(damping, 1e-12)
        if gain <= 1e-9 * cost or step <= 1e-9:
            break
    return values


def _point_slopes(
    here: BulgePath, variables: _Variables, used: Points, owners: Places, count: int
) -> Numbers:
    """How each point's distance changes with each varying number: five of them move it."""
    begins, ends = here.joints[owners], here.joints[owners + 1]
    bulges = here.bulges[owners]
    base = carrier_distances(used, begins, ends, bulges)
    table = np.zeros((len(used), count))
    rows = np.arange(len(used))
    for which in range(5):
        b, e, g = begins, ends, bulges
        if which < 2:
            b = begins.copy()
            b[:, which] += STEP
            columns = variables.of_joints[owners, which]
        elif which < 4:
            e = ends.copy()
            e[:, which - 2] += STEP
            columns = variables.of_joints[owners + 1, which - 2]
        else:
            g = bulges + STEP
            columns = variables.of_bulges[owners]
        slope = (carrier_distances(used, b, e, g) - base) / STEP
        vary = columns >= 0
        table[rows[vary], columns[vary]] += slope[vary]
    return table


def _kink_slopes(
    joined: BulgePath, variables: _Variables, values: Numbers, tangent: list[int]
) -> Numbers:
    table = np.zeros((len(tangent), len(values)))
    if not tangent:
        return table
    base = kinks(variables.put(joined, values))[tangent]
    for column in range(len(values)):
        stepped = values.copy()
        stepped[column] += STEP
        change = kinks(variables.put(joined, stepped))[tangent] - base
        change = (change + math.pi) % (2.0 * math.pi) - math.pi
        table[:, column] = TANGENT * change / STEP
    return table


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


def _unite(group: dict[int, int], one: int, two: int) -> None:
    group[_root(group, two)] = _root(group, one)


def _root(group: dict[int, int], member: int) -> int:
    while group[member] != member:
        member = group[member]
    return member

"""What is asked of a fitted path beside lying near its points: few, level, upright, tangent.

Every wish is tried and kept only where the path then still lies within the tolerance.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from profilestack.targets.bulges import BulgePath, distances_to_piece, kinks
from profilestack.targets.deviation import Yardstick, deviation_of
from profilestack.targets.refining import Rules, evened, refined
from profilestack.targets.rows import Row
from profilestack.targets.segmenting import one_piece

LEVEL_SLOPE = math.tan(math.radians(2.0))
"""A line steeper than this against level (or upright) is meant to be."""

SMALL_KINK = math.radians(12.0)
"""Joints with a smaller kink are made tangent where that fits."""

LARGE_KINK = math.radians(35.0)
"""Joints with a larger kink are corners, even where all joints are asked to be tangent."""

BARELY = 1e-5
"""The bulge of a line that is allowed to bend."""

MOST_EXTRA = 12
"""So many pieces may be added to make joints tangent."""


@dataclass(frozen=True, slots=True, eq=False)
class Draft:
    """A fitted path on its way.

    ``breaks`` are the points, by index, between which each piece stands; ``exact`` are the pieces
    that stay, ``sharp`` the joints that were said to be corners, both by number.
    """

    joined: BulgePath
    breaks: tuple[int, ...]
    exact: frozenset[int]
    sharp: frozenset[int]
    rules: Rules

    def off(self, yardstick: Yardstick) -> float:
        """The largest deviation [mm]."""
        return deviation_of(self.joined, yardstick).largest


def settled(draft: Draft, row: Row, rules: Rules) -> Draft:
    """The draft after least squares under other rules."""
    joined, breaks = refined(draft.joined, row.points, list(draft.breaks), rules)
    return replace(draft, joined=joined, breaks=tuple(breaks), rules=rules)


def merged(draft: Draft, row: Row, yardstick: Yardstick, tolerance: float) -> Draft:
    """The draft with neighbours made one wherever that keeps within the tolerance.

    Scattered points make more pieces than needed, because each runs from point to point.
    """
    k = 1
    while k < draft.joined.count:
        tried = None if k in draft.sharp else _without_joint(draft, row, k, tolerance)
        if tried is not None and tried.off(yardstick) <= tolerance:
            draft, k = tried, max(1, k - 1)
        else:
            k += 1
    return draft


def _without_joint(draft: Draft, row: Row, k: int, tolerance: float) -> Draft | None:
    breaks = [*draft.breaks[:k], *draft.breaks[k + 1 :]]
    single = one_piece(row.points[breaks[k - 1] : breaks[k] + 1], 2.0 * tolerance)
    if single is None:
        return None
    joints = np.delete(draft.joined.joints, k, axis=0)
    bulges = np.delete(draft.joined.bulges, k)
    bulges[k - 1] = single.bulge
    sharp = frozenset(j - (j > k) for j in draft.sharp)
    whole = Draft(BulgePath(joints, bulges), tuple(breaks), frozenset(), sharp, draft.rules)
    return settled(whole, row, draft.rules)


def levelled(draft: Draft, row: Row, yardstick: Yardstick, tolerance: float) -> Draft:
    """The draft with its nearly level and nearly upright lines exactly so."""
    steps = np.diff(draft.joined.joints, axis=0)
    lines = np.flatnonzero(draft.joined.bulges == 0.0).tolist()
    off: dict[tuple[str, int], float] = {}
    for k in lines:
        across, up = abs(float(steps[k, 0])), abs(float(steps[k, 1]))
        if up <= min(tolerance, LEVEL_SLOPE * across):
            off["level", k] = up
        elif across <= min(tolerance, LEVEL_SLOPE * up):
            off["upright", k] = across
    while off:
        rules = replace(
            draft.rules,
            level=frozenset(k for word, k in off if word == "level"),
            upright=frozenset(k for word, k in off if word == "upright"),
        )
        tried = replace(draft, joined=evened(draft.joined, rules), rules=rules)
        if row.measured:
            tried = settled(tried, row, rules)
        if tried.off(yardstick) <= max(tolerance, draft.off(yardstick)):
            return tried
        off.pop(max(off, key=lambda key: off[key]))
    return draft


def tangent_where_it_fits(
    draft: Draft, row: Row, yardstick: Yardstick, tolerance: float, limit: float = SMALL_KINK
) -> Draft:
    """The draft with joints tangent whose kink is below ``limit`` [rad], as many as fit."""
    wanted = _smooth_joints(draft, limit)
    bends = np.abs(kinks(draft.joined))
    while wanted:
        tried = settled(draft, row, replace(draft.rules, tangent=frozenset(wanted)))
        if tried.off(yardstick) <= tolerance:
            return tried
        wanted.remove(max(wanted, key=lambda k: float(bends[k])))
    return draft


def tangent_everywhere(draft: Draft, row: Row, yardstick: Yardstick, tolerance: float) -> Draft:
    """The draft with all joints tangent but the corners, with more pieces where needed.

    Where even those do not help, the joints with the largest kinks stay as they are.
    """
    base = draft
    for _ in range(MOST_EXTRA + 1):
        wanted = _smooth_joints(base, LARGE_KINK)
        if not wanted:
            return base
        tried = settled(base, row, replace(base.rules, tangent=frozenset(wanted)))
        if tried.off(yardstick) <= tolerance:
            return tried
        worst = _worst_piece(tried, row)
        if worst is None:
            break
        base = _split(base, worst)
    return tangent_where_it_fits(draft, row, yardstick, tolerance, LARGE_KINK)


def _smooth_joints(draft: Draft, limit: float) -> list[int]:
    """Joints with a kink below the limit that are no corners, and whose pieces can bend."""
    joined = draft.joined
    bends = np.abs(kinks(joined))
    found = []
    for k in range(0 if joined.is_closed else 1, joined.count):
        before, after = (k - 1) % joined.count, k
        both_lines = joined.bulges[before] == joined.bulges[after] == 0.0
        both_exact = {before, after} <= draft.exact
        if k not in draft.sharp and bends[k] < limit and not (both_lines or both_exact):
            found.append(k)
    return found


def _worst_piece(draft: Draft, row: Row) -> int | None:
    """The piece that lies farthest from its points, of those that may be cut in two."""
    worst, most = None, 0.0
    joined = draft.joined
    for k in range(joined.count):
        begin, end = draft.breaks[k], draft.breaks[k + 1]
        if k in draft.exact or end - begin < 4:
            continue
        off = distances_to_piece(
            row.points[begin : end + 1], joined.joints[k], joined.joints[k + 1], joined.bulges[k]
        )
        if float(off.max()) > most:
            worst, most = k, float(off.max())
    return worst


def _split(draft: Draft, k: int) -> Draft:
    """The draft with piece ``k`` cut in the middle."""
    joined = draft.joined
    begin, end = joined.joints[k], joined.joints[k + 1]
    bulge = float(joined.bulges[k])
    step = end - begin
    # the top of an arc lies its height to the right of the chord's middle
    middle = (begin + end) / 2.0 + bulge / 2.0 * np.array((step[1], -step[0]))
    half = math.tan(math.atan(bulge) / 2.0) or BARELY
    joints = np.insert(joined.joints, k + 1, middle, axis=0)
    bulges = np.concatenate((joined.bulges[:k], [half, half], joined.bulges[k + 1 :]))
    breaks = list(draft.breaks)
    breaks.insert(k + 1, (breaks[k] + breaks[k + 1]) // 2)

    def later(pieces: frozenset[int]) -> frozenset[int]:
        return frozenset(j + (j > k) for j in pieces if j != k)

    def later_joints(joints: frozenset[int]) -> frozenset[int]:
        return frozenset(j + (j > k) for j in joints)

    rules = Rules(
        later_joints(draft.rules.held_joints), later(draft.rules.held_bulges),
        later(draft.rules.level), later(draft.rules.upright), frozenset(),
    )  # fmt: skip
    return Draft(
        BulgePath(joints, bulges), tuple(breaks), later(draft.exact),
        later_joints(draft.sharp), rules,
    )  # fmt: skip

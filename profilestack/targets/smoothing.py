"""What is asked of a fitted path beside lying near its points: few, level, upright, tangent.

Every wish is tried and kept only where the path then still lies within the tolerance.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from profilestack.geometry.path import Points
from profilestack.targets.bulges import BulgePath, kinks
from profilestack.targets.deviation import Yardstick, deviation_of
from profilestack.targets.moving import Rules
from profilestack.targets.refining import evened, refined
from profilestack.targets.rows import Row
from profilestack.targets.segmenting import One, one_piece

LEVEL_SLOPE = math.tan(math.radians(2.0))
"""A line steeper than this against level (or upright) is meant to be."""

SMALL_KINK = math.radians(12.0)
"""Joints with a smaller kink are made tangent where that fits."""

LARGE_KINK = math.radians(35.0)
"""Joints with a larger kink are corners, even where all joints are asked to be tangent."""

NEIGHBOURS = 3
"""So many pieces on either side move while two neighbours are made one."""

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

    def keeps(self, tolerance: float, yardstick: Yardstick) -> bool:
        """Whether no deviation is larger than the tolerance [mm]."""
        return deviation_of(self.joined, yardstick, tolerance).largest <= tolerance


def settled(draft: Draft, row: Row, rules: Rules) -> Draft:
    """The draft after least squares under other rules."""
    joined, breaks = refined(draft.joined, row.points, list(draft.breaks), rules)
    return replace(draft, joined=joined, breaks=tuple(breaks), rules=rules)


def merged(draft: Draft, row: Row, yardstick: Yardstick, tolerance: float) -> Draft:
    """The draft with neighbours made one wherever that keeps within the tolerance.

    Scattered points make more pieces than needed, because each runs from point to point.
    """
    before, k = draft, 1
    while k < draft.joined.count:
        tried = None
        if k not in draft.sharp:
            bridges = draft.breaks[k + 1] - draft.breaks[k] == 1 and k + 1 < draft.joined.count
            tried = (
                _without_bridge(draft, row, k)
                if bridges
                else _without_joint(draft, row, k, tolerance)
            )
        if tried is not None and tried.keeps(tolerance, yardstick):
            draft, k = tried, max(1, k - 1)
        else:
            k += 1
    if draft is before:
        return draft
    whole = settled(draft, row, draft.rules)
    return whole if whole.keeps(tolerance, yardstick) else draft


def _without_bridge(draft: Draft, row: Row, k: int) -> Draft:
    """The draft without piece ``k``, which only leads from one point over to the next.

    Where a corner lies between two measured points, such a piece cuts it off; its neighbours are
    led on to where they meet instead.
    """
    joints = np.delete(draft.joined.joints, k, axis=0)
    joints[k] = (draft.joined.joints[k] + draft.joined.joints[k + 1]) / 2.0
    bulges = np.delete(draft.joined.bulges, k)
    breaks = (*draft.breaks[:k], *draft.breaks[k + 1 :])
    sharp = frozenset(j - (j > k) for j in draft.sharp)
    whole = Draft(BulgePath(joints, bulges), breaks, frozenset(), sharp, draft.rules)
    return _settled_near(whole, row, k, draft.rules)


def _without_joint(draft: Draft, row: Row, k: int, tolerance: float) -> Draft | None:
    breaks = [*draft.breaks[:k], *draft.breaks[k + 1 :]]
    single = _loose_piece(row.points[breaks[k - 1] : breaks[k] + 1], 2.0 * tolerance)
    if single is None:
        return None
    joints = np.delete(draft.joined.joints, k, axis=0)
    bulges = np.delete(draft.joined.bulges, k)
    bulges[k - 1] = single.bulge
    sharp = frozenset(j - (j > k) for j in draft.sharp)
    whole = Draft(BulgePath(joints, bulges), tuple(breaks), frozenset(), sharp, draft.rules)
    return _settled_near(whole, row, k, draft.rules)


def _loose_piece(points: Points, tolerance: float) -> One | None:
    """One piece along the points; the first and the last may belong to its neighbours."""
    for first, last in ((0, 0), (1, 0), (0, 1), (1, 1)):
        inner = points[first : len(points) - last]
        piece = one_piece(inner, tolerance) if len(inner) > 1 else None
        if piece is not None:
            return piece
    return None


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
        if tried.keeps(tolerance, yardstick):
            return tried
        off.pop(max(off, key=lambda key: off[key]))
    return draft


def tangent_where_it_fits(
    draft: Draft, row: Row, yardstick: Yardstick, tolerance: float, limit: float = SMALL_KINK
) -> Draft:
    """The draft with joints tangent whose kink is below ``limit`` [rad], as many as fit."""
    wanted = _smooth_joints(draft, limit)
    if not wanted:
        return draft
    tried = settled(draft, row, replace(draft.rules, tangent=frozenset(wanted)))
    if tried.keeps(tolerance, yardstick):
        return tried
    bends = np.abs(kinks(draft.joined))
    for k in sorted(wanted, key=lambda k: float(bends[k])):
        rules = replace(draft.rules, tangent=draft.rules.tangent | {k})
        tried = _settled_near(draft, row, k, rules)
        if tried.keeps(tolerance, yardstick):
            draft = tried
    return draft


def _settled_near(draft: Draft, row: Row, k: int, rules: Rules) -> Draft:
    """The draft after least squares near joint ``k``: what lies further away stays or can wait."""
    joined = draft.joined
    if joined.is_closed and not NEIGHBOURS <= k <= joined.count - NEIGHBOURS:
        return settled(draft, row, rules)
    near = range(max(0, k - NEIGHBOURS), min(joined.count, k + NEIGHBOURS))
    joints = frozenset(range(joined.count + 1)) - {*near, near.stop}
    if near.start > 0:
        joints |= {near.start}
    if near.stop < joined.count:
        joints |= {near.stop}
    held = replace(
        rules,
        held_joints=joints | rules.held_joints,
        held_bulges=(frozenset(range(joined.count)) - {*near}) | rules.held_bulges,
        tangent=frozenset(j for j in rules.tangent if near.start <= j <= near.stop),
    )
    return replace(settled(draft, row, held), rules=rules)


def tangent_everywhere(draft: Draft, row: Row, yardstick: Yardstick, tolerance: float) -> Draft:
    """The draft with all joints tangent but the corners, with more pieces where needed.

    Where even those do not help, a joint stays as it is.
    """
    draft = tangent_where_it_fits(draft, row, yardstick, tolerance, LARGE_KINK)
    given_up: set[int] = set()
    extra = 0
    while extra < MOST_EXTRA:
        left = [k for k in _smooth_joints(draft, LARGE_KINK)
                if k not in draft.rules.tangent and draft.breaks[k] not in given_up]  # fmt: skip
        if not left:
            break
        made = _made_tangent(draft, row, left[0], yardstick, tolerance)
        if made is None:
            given_up.add(draft.breaks[left[0]])
        else:
            extra += made.joined.count - draft.joined.count
            draft = made
    return draft


def _made_tangent(
    draft: Draft, row: Row, k: int, yardstick: Yardstick, tolerance: float
) -> Draft | None:
    """Joint ``k`` made tangent by one piece more before or after it, or one on both sides."""
    count = draft.joined.count
    before, after = (k - 1) % count, k % count
    for split in ((before,), (after,), (after, before)):
        if any(piece in draft.exact for piece in split):
            continue
        base, wanted, joint = draft, set(draft.rules.tangent), k
        for piece in split:  # the later piece first, so that the earlier one keeps its number
            base = _split(base, piece)
            wanted = {j + (j > piece) for j in wanted} | {piece + 1}
            joint += joint > piece
        rules = replace(base.rules, tangent=frozenset(wanted | {joint}))
        tried = _settled_near(base, row, joint, rules)
        if tried.keeps(tolerance, yardstick):
            return tried
    return None


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

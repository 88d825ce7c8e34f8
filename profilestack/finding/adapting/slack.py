"""Who takes up the slack when one member of a column changes its size."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from profilestack.errors import InputError
from profilestack.geometry.extent import box_of
from profilestack.targets.member import Member
from profilestack.targets.members import MemberColumn

SMALLEST = 1.0
"""Nothing shrinks below this [mm on the wood]."""

SHARE_KEPT = 0.5
"""Nor below this share of what was drawn."""

DUST = 1e-9
"""Sizes that differ by less [mm] are equal."""

DIGITS = 9

Members = tuple[Member, ...]


@dataclass(frozen=True, slots=True)
class Fitted:
    """A column in which the members at ``takers`` (counted from 0) took up what was left."""

    column: MemberColumn
    takers: tuple[int, ...]


def may_become(drawn: float, fitted: float, scale: float = 1.0) -> bool:
    """Whether a size [mm] may shrink, or has grown, to ``fitted``: it keeps its sense and enough.

    ``scale`` turns both into mm on the wood.
    """
    if drawn * fitted <= 0.0:
        return False
    least = max(SMALLEST / scale, SHARE_KEPT * abs(drawn))
    return abs(fitted) >= min(abs(drawn), least) - DUST


def take_up(
    column: MemberColumn,
    at: int,
    new: Member,
    drawn: Members,
    accepted: Callable[[Members], MemberColumn | None],
) -> Fitted | None:
    """The column with ``new`` in the place ``at`` and its overall height and projection kept.

    Fillets take up what the height changes, setbacks what the projection does, the nearest first;
    ``drawn`` are the members before any change. ``accepted`` gives the column of members, or None
    where it will not do. None if nobody can take up the slack.
    """
    members = (*column.members[:at], new, *column.members[at + 1 :])
    fall, step = new.fall - column.members[at].fall, new.step - column.members[at].step
    for heights in _shares(members, at, "fillet", "height", fall, drawn, column.scale):
        for steps in _shares(members, at, "setback", "projection", step, drawn, column.scale):
            trial = _with(members, heights | steps)
            for shift in ({}, *_shifts(trial, column, at, drawn)):
                if found := accepted(_with(trial, shift)):
                    return Fitted(found, tuple(sorted({*heights, *steps, *shift})))
    return None


Shares = dict[int, Member]
"""Members by their place that stand in for those of a column."""


def _with(members: Members, others: Shares) -> Members:
    return tuple(others.get(place, member) for place, member in enumerate(members))


def _shares(
    members: Members, at: int, word: str, key: str, slack: float, drawn: Members, scale: float
) -> Iterator[Shares]:
    """Ways to take ``slack`` [mm] off members of one kind: one alone, or several together."""
    if abs(slack) < DUST:
        yield {}
        return
    able = [k for k, member in enumerate(members) if member.member == word and k != at]
    able.sort(key=lambda k: (abs(k - at), -abs(getattr(drawn[k], key))))
    for k in able:
        if other := _changed(members[k], drawn[k], key, slack, scale):
            yield {k: other}
    rest, several = slack, {}
    for k in able:
        part = _most(members[k], drawn[k], key, rest, scale)
        if abs(part) > DUST and (other := _changed(members[k], drawn[k], key, part, scale)):
            several[k] = other
            rest -= part
    if len(several) > 1 and abs(rest) < DUST:
        yield several


def _changed(member: Member, drawn: Member, key: str, less: float, scale: float) -> Member | None:
    """The member with ``less`` [mm] taken off, if it may."""
    value = round(getattr(member, key) - less, DIGITS)
    if not may_become(getattr(drawn, key), value, scale):
        return None
    return replace(member, height=value) if key == "height" else replace(member, projection=value)


def _most(member: Member, drawn: Member, key: str, slack: float, scale: float) -> float:
    """How much of the slack the member can take [mm]."""
    value: float = getattr(member, key)
    first: float = getattr(drawn, key)
    sense = 1.0 if first > 0.0 else -1.0
    if slack * sense < 0.0:  # it grows
        return slack
    least = min(abs(first), max(SMALLEST / scale, SHARE_KEPT * abs(first)))
    return sense * max(0.0, min(abs(slack), abs(value) - least))


def _shifts(members: Members, column: MemberColumn, at: int, drawn: Members) -> Iterator[Shares]:
    """Setbacks above and below that move a member back which stands out too far by now."""
    try:
        after = box_of(replace(column, members=members).face())
    except InputError:  # they run into each other
        return
    before = box_of(column.face())
    excess = after.right - before.right
    if abs(excess) < DUST:
        excess = after.left - before.left
    if abs(excess) < DUST:
        return
    steps = [k for k, member in enumerate(members) if member.member == "setback"]
    for k in reversed([k for k in steps if k < at]):
        for m in (m for m in steps if m > at):
            upper = _changed(members[k], drawn[k], "projection", -excess, column.scale)
            lower = _changed(members[m], drawn[m], "projection", excess, column.scale)
            if upper and lower:
                yield {k: upper, m: lower}


def same_size(one: MemberColumn, other: MemberColumn) -> bool:
    """Whether overall height and projection are the same, and the ends stand as they did."""
    first, second = one.face(), other.face()
    before, after = box_of(first), box_of(second)
    pairs: Sequence[tuple[float, float]] = (
        (before.left, after.left),
        (before.right, after.right),
        (before.height, after.height),
        (first.end[0], second.end[0]),
        (first.end[1], second.end[1]),
    )
    return all(abs(a - b) < 10.0 * DUST for a, b in pairs)

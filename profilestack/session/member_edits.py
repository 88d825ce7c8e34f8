"""What a hand does to a wanted profile of members: from a column to (column, what Undo says).

Members are counted from 0 here, from the molding's top, and from 1 in the labels.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from profilestack.errors import InputError
from profilestack.targets.member import LENGTHS
from profilestack.targets.member_shapes import MEMBERS
from profilestack.targets.members import Member, MemberColumn

Edited = tuple[MemberColumn, str]
"""A column after an edit, and what the edit is called."""

FIRST = Member("fillet", height=12.0)
"""A column begins with it."""


def first_column() -> MemberColumn:
    """The least column: one fillet, with some wood behind."""
    return MemberColumn((FIRST,), back=12.0)


def keys_of(word: str) -> tuple[str, ...]:
    """The lengths that a member takes, needed ones first."""
    shape = MEMBERS[word]
    needed = [key for key in LENGTHS if key in shape.required]
    return (*needed, *(key for key in LENGTHS if key in shape.optional))


def new_member(word: str) -> Member:
    """A member of usual proportions, struck as usual."""
    sample = MEMBERS[word].samples[0]
    return Member(word, sample.height, sample.projection, None, sample.width, sample.depth)


def as_other(member: Member, word: str) -> Member:
    """Another member of the same size, as far as it has the same measures."""
    usual = new_member(word)
    keys = keys_of(word)
    kept = {key: value for key in keys if (value := getattr(member, key)) is not None}
    if member.variant in MEMBERS[word].variants:
        kept["variant"] = member.variant
    try:
        return replace(usual, **kept)
    except InputError:  # its measures make no such member
        return usual


def with_member_added(column: MemberColumn, member: Member, at: int) -> Edited:
    """One more member, in place ``at``."""
    members = (*column.members[:at], member, *column.members[at:])
    return replace(column, members=members), f"Add {with_article(member.member)}"


def with_member_changed(column: MemberColumn, at: int, **changes: Any) -> Edited:
    """One member with other measures."""
    member = replace(column.members[at], **changes)
    return with_member(column, at, member), f"Change member {at + 1}"


def measured(member: Member, key: str, value: float | None) -> dict[str, Any]:
    """What changes when a measure is typed: with its height a quarter's projection changes too.

    So a quarter round stays one. A projection that is typed itself makes it flatter or bolder.
    """
    changes: dict[str, Any] = {key: value}
    is_quarter = {"height", "projection"} <= set(MEMBERS[member.member].required) and (
        abs(member.projection or 0.0) == member.height
    )
    if key == "height" and value is not None and is_quarter:
        changes["projection"] = math.copysign(value, member.projection or 0.0)
    return changes


def with_member(column: MemberColumn, at: int, member: Member) -> MemberColumn:
    """Another member in place ``at``."""
    return replace(column, members=(*column.members[:at], member, *column.members[at + 1 :]))


def without_member(column: MemberColumn, at: int) -> Edited:
    """A member less; the last one cannot go."""
    members = (*column.members[:at], *column.members[at + 1 :])
    return replace(column, members=members), f"Remove member {at + 1}"


def with_member_doubled(column: MemberColumn, at: int) -> Edited:
    """The same member once more, below."""
    edited, _ = with_member_added(column, column.members[at], at + 1)
    return edited, f"Duplicate member {at + 1}"


def with_member_moved(column: MemberColumn, at: int, to: int) -> Edited:
    """A member in another place of the list."""
    members = list(column.members)
    members.insert(to, members.pop(at))
    return replace(column, members=tuple(members)), f"Move member {at + 1}"


def with_lie(column: MemberColumn, lie: str) -> Edited:
    """The column laid another way; what only a sprung one has goes with it."""
    if lie == "sprung":
        return replace(column, lie=lie), "Lay it sprung"
    return replace(column, lie=lie, spring=None, bottom=None), f"Lay it {lie}"


def with_article(word: str) -> str:
    """The word as it is spoken of: an ovolo, a fillet."""
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"

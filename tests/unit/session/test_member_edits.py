from __future__ import annotations

from dataclasses import replace

import pytest

from profilestack.errors import InputError
from profilestack.session.member_edits import (
    as_other,
    first_column,
    keys_of,
    measured,
    new_member,
    with_lie,
    with_member_added,
    with_member_changed,
    with_member_doubled,
    with_member_moved,
    without_member,
)
from profilestack.targets.member_shapes import MEMBERS
from profilestack.targets.members import Member, MemberColumn

FILLET, COVE = Member("fillet", height=6.0), Member("cavetto", height=10.0, projection=8.0)
COLUMN = MemberColumn((FILLET, COVE), back=5.0)


@pytest.mark.parametrize("word", MEMBERS)
def test_new_members_have_what_they_need(word: str) -> None:
    member = new_member(word)
    assert all(getattr(member, key) is not None for key in MEMBERS[word].required)
    assert set(keys_of(word)) == MEMBERS[word].required | MEMBERS[word].optional


@pytest.mark.parametrize("old", MEMBERS)
@pytest.mark.parametrize("new", MEMBERS)
def test_any_member_becomes_any_other(old: str, new: str) -> None:
    member = as_other(new_member(old), new)
    assert member.member == new


def test_size_is_kept_where_the_other_member_has_it() -> None:
    assert as_other(COVE, "ovolo") == Member("ovolo", 10.0, 8.0)
    assert as_other(COVE, "quirk").width == new_member("quirk").width


def test_variant_is_kept_where_the_other_member_has_it() -> None:
    flat = replace(COVE, variant="flat")
    assert as_other(flat, "ovolo").variant == "flat"
    assert as_other(flat, "scotia").variant is None


def test_measures_that_make_no_such_member_are_left() -> None:
    # a fillet that leans is none
    assert as_other(COVE, "fillet") == new_member("fillet")


def test_members_are_added_moved_doubled_removed() -> None:
    torus = new_member("torus")
    assert with_member_added(COLUMN, torus, 1)[0].members == (FILLET, torus, COVE)
    assert with_member_added(COLUMN, torus, 2) == (
        replace(COLUMN, members=(FILLET, COVE, torus)), "Add a torus",
    )  # fmt: skip
    assert with_member_moved(COLUMN, 0, 1)[0].members == (COVE, FILLET)
    assert with_member_doubled(COLUMN, 0)[0].members == (FILLET, FILLET, COVE)
    assert without_member(COLUMN, 1) == (replace(COLUMN, members=(FILLET,)), "Remove member 2")


def test_member_is_changed_and_refused() -> None:
    edited, label = with_member_changed(COLUMN, 1, height=12.0, variant="flat")
    assert edited.members[1] == Member("cavetto", 12.0, 8.0, "flat")
    assert label == "Change member 2"
    with pytest.raises(InputError, match="height"):
        with_member_changed(COLUMN, 1, height=-1.0)


def test_a_quarter_stays_one_when_its_height_is_typed() -> None:
    quarter = Member("ovolo", 18.0, 18.0)
    assert measured(quarter, "height", 12.7) == {"height": 12.7, "projection": 12.7}
    assert measured(quarter, "projection", 12.7) == {"projection": 12.7}
    upside_down = Member("cavetto", 18.0, -18.0)
    assert measured(upside_down, "height", 6.0) == {"height": 6.0, "projection": -6.0}


def test_what_is_no_quarter_keeps_its_projection() -> None:
    assert measured(COVE, "height", 12.0) == {"height": 12.0}
    assert measured(FILLET, "height", 12.0) == {"height": 12.0}
    assert measured(Member("torus", 10.0, 5.0), "height", 12.0) == {"height": 12.0}


def test_last_member_cannot_go() -> None:
    with pytest.raises(InputError, match="members: is empty"):
        without_member(first_column(), 0)


def test_lie_takes_its_own_measures_with_it() -> None:
    sprung = replace(COLUMN, lie="sprung", spring=38.0)
    assert with_lie(sprung, "upright") == (COLUMN, "Lay it upright")
    assert with_lie(COLUMN, "sprung")[0].lie == "sprung"

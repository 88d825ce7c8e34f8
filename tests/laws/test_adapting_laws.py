"""Whatever is fitted to whatever drawer: what is kept, and how far anything moves."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from profilestack.bits.bit import Bit
from profilestack.errors import InputError
from profilestack.finding.adapting.adapt import adapted
from profilestack.finding.adapting.adaptation import Adaptation
from profilestack.finding.adapting.edge_arcs import edge_arcs, owner_of
from profilestack.finding.adapting.refitting import curves_in
from profilestack.geometry.extent import box_of
from profilestack.stack import Blank, MemberTarget, Rectangle, Stack, StraightRun
from profilestack.targets.member import Member
from profilestack.targets.members import MemberColumn
from tests.laws.stacks import law, sizes
from tests.shop import core_box, roundover, straight

NEAR = 1e-6


@st.composite
def moldings(draw: st.DrawFn) -> MemberColumn:
    """Members that come back to the wall, parted by fillets and steps, in any lie and scale."""
    members: list[Member] = []
    words = ("ovolo", "cavetto", "cyma-recta", "cyma-reversa", "torus", "quirk", "conge", "scotia")
    for word in draw(st.lists(st.sampled_from(words), min_size=1, max_size=3)):
        tall = draw(sizes(4.0, 20.0))
        members.append(Member("fillet", draw(sizes(0.8, 12.0))))
        clear = 20.0 if word == "torus" else 0.0  # of what stands out most
        members.append(Member("setback", projection=draw(sizes(0.8, 6.0)) + clear))
        if word == "quirk":
            width = draw(sizes(1.0, 6.0))
            members.append(Member(word, width=width, depth=draw(sizes(1.0, 8.0))))
        elif word in ("torus", "scotia"):
            members.append(Member(word, tall))
        else:
            members.append(Member(word, tall, tall))
    members += [Member("setback", projection=draw(sizes(0.8, 6.0))), Member("fillet", 30.0)]
    lie = draw(st.sampled_from(("upright", "head-down", "flat", "sprung")))
    scale = draw(st.sampled_from((1.0, 0.5, 2.0)))
    try:
        return MemberColumn(tuple(members), lie, back=9.0, scale=scale)
    except InputError:  # members that run into each other, or no sloping back
        reject()


@st.composite
def drawers(draw: st.DrawFn) -> tuple[Bit, ...]:
    radii = draw(st.lists(sizes(2.0, 12.0), min_size=4, max_size=9, unique=True))
    flats = draw(st.lists(sizes(1.0, 6.0), min_size=1, max_size=2, unique=True))
    return (
        *(core_box(2.0 * radius, radius + 4.0) for radius in radii),
        *(roundover(radius, 3.0, radius + 2.0) for radius in radii),
        *(straight(flat, 10.0, shank=3.0) for flat in flats),
    )


def fitted(column: MemberColumn, bits: tuple[Bit, ...], limit: float) -> Adaptation:
    stack = Stack(Blank(Rectangle(*column.box())), StraightRun(1.0), target=MemberTarget(column))
    return adapted(stack, bits, limit)


def column_in(adaptation: Adaptation) -> MemberColumn:
    assert isinstance(adaptation.stack.target, MemberTarget)
    return adaptation.stack.target.column


@law
@given(moldings(), drawers(), sizes(0.05, 3.0))
def test_overall_height_and_projection_are_kept(
    column: MemberColumn, bits: tuple[Bit, ...], limit: float
) -> None:
    after = column_in(fitted(column, bits, limit))
    before, face = box_of(column.face()), box_of(after.face())
    assert (face.left, face.right, face.height) == pytest.approx(
        (before.left, before.right, before.height), abs=NEAR
    )
    assert after.face().end == pytest.approx(column.face().end, abs=NEAR)
    assert [each.member for each in after.members] == [each.member for each in column.members]
    assert after.box()[1] == pytest.approx(column.box()[1], abs=NEAR)


@law
@given(moldings(), drawers(), sizes(0.05, 3.0))
def test_nothing_moves_further_than_it_may(
    column: MemberColumn, bits: tuple[Bit, ...], limit: float
) -> None:
    found = fitted(column, bits, limit)
    by_id = {single.id: single for single in bits}
    for change in found.changes:
        more = change.fitted - change.drawn
        if change.key == "radius":
            assert abs(more) <= min(limit, 0.1 * change.drawn) + NEAR
            assert change.bit is not None
            radii = [arc.curve.radius for arc in edge_arcs([by_id[change.bit]])]
            assert min(abs(radius - change.fitted) for radius in radii) <= 0.02
        elif change.key == "width":
            assert 0.0 < more * column.scale <= limit + NEAR
        elif change.name in ("fillet", "setback") and change.bit is None:
            assert change.slack_of
            kept = abs(change.fitted / change.drawn)
            assert math.copysign(1.0, change.fitted) == math.copysign(1.0, change.drawn)
            assert kept >= 0.5 - NEAR
            assert kept >= 1.0 or abs(change.fitted) * column.scale >= 1.0 - NEAR


@law
@given(moldings(), drawers(), sizes(0.05, 3.0))
def test_a_second_time_changes_nothing_that_fits(
    column: MemberColumn, bits: tuple[Bit, ...], limit: float
) -> None:
    first = fitted(column, bits, limit)
    drawer = edge_arcs(bits)
    for change in first.changes:
        if change.key != "radius":
            continue
        member = column_in(first).members[change.number - 1]
        curves = curves_in(member, column.scale)
        near = [curve for curve in curves if abs(curve.radius - change.fitted) <= NEAR]
        assert any(owner_of(curve, drawer) for curve in near)
    second = adapted(first.stack, bits, limit)
    again = {change.number for change in second.changes if change.bit}
    assert again.isdisjoint(change.number for change in first.changes if change.bit)

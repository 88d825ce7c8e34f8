"""Whatever the members: where they end, how they lie, what moving them does."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from profilestack.geometry.extent import box_of, reach
from profilestack.targets.member_shapes import MEMBERS
from profilestack.targets.members import Member, MemberColumn

lengths = st.floats(1.0, 60.0).map(lambda value: round(value, 3))
ratios = st.floats(0.4, 1.0)


@st.composite
def any_member(draw: st.DrawFn) -> Member:
    """Any member of the table, one of its samples at another size and the other way up."""
    word = draw(st.sampled_from(sorted(MEMBERS)))
    shape = MEMBERS[word]
    sample = draw(st.sampled_from(shape.samples))
    factor = draw(st.floats(0.1, 10.0))
    sign = draw(st.sampled_from([1.0, -1.0])) if shape.signed and word != "quirk" else 1.0
    sizes = [
        None if value is None else value * factor * (sign if key == "projection" else 1.0)
        for key, value in (
            ("height", sample.height),
            ("projection", sample.projection),
            ("width", sample.width),
            ("depth", sample.depth),
        )
    ]
    return Member(word, sizes[0], sizes[1], sample.variant, sizes[2], sizes[3])


@st.composite
def crowns(draw: st.DrawFn) -> tuple[Member, ...]:
    """Members that come back to the wall, parted by fillets and steps: none meets another."""
    members: list[Member] = []
    for _ in range(draw(st.integers(1, 4))):
        tall = draw(lengths)
        members.append(Member("fillet", draw(lengths)))
        members.append(Member("setback", projection=draw(lengths)))
        word = draw(st.sampled_from(["cavetto", "ovolo", "cyma-recta", "cyma-reversa", "bevel"]))
        members.append(Member(word, tall, tall * draw(ratios)))
    members.append(Member("fillet", draw(lengths)))
    return tuple(members)


@given(any_member())
def test_a_member_ends_where_its_height_and_projection_say(one: Member) -> None:
    path = one.trace()
    assert math.isclose(path.end[0], -one.step, abs_tol=1e-9)
    assert math.isclose(path.end[1], -one.fall, abs_tol=1e-9)
    if one.height is not None:
        assert one.fall == one.height
    if one.projection is not None and MEMBERS[one.member].signed:
        assert one.step == one.projection


@given(any_member(), any_member())
def test_members_stand_end_to_end(first: Member, second: Member) -> None:
    fillets = (Member("fillet", 500.0), Member("setback", projection=-500.0))
    column = MemberColumn((first, *fillets, second, Member("fillet", 1.0)), back=1000.0)
    face = column.face()
    steps = first.step - 500.0 + second.step
    assert math.isclose(face.end[0], -steps, abs_tol=1e-6)
    assert math.isclose(face.end[1], -column.height, abs_tol=1e-6)


@settings(max_examples=50)
@given(crowns(), st.floats(0.0, 50.0))
def test_every_lie_holds_the_same_wood(members: tuple[Member, ...], back: float) -> None:
    areas = {}
    for lie in ("upright", "head-down", "flat"):
        column = MemberColumn(members, lie=lie, back=back)
        path = column.path()
        width, height = column.box()
        # closed along the outline of the blank that just holds it
        closed = path.line((path.end[0], 0.0)).line((0.0, 0.0)).line(path.start)
        areas[lie] = -closed.signed_area
        assert width * height >= areas[lie] > 0.0
    assert np.ptp(list(areas.values())) <= 1e-9 * max(areas.values())


@settings(max_examples=50)
@given(crowns(), st.sampled_from(["upright", "head-down", "flat"]), st.floats(0.01, 100.0))
def test_scaling_the_column_scales_the_members(
    members: tuple[Member, ...], lie: str, factor: float
) -> None:
    scaled = MemberColumn(members, lie=lie, back=5.0, scale=factor)
    plain = MemberColumn(members, lie=lie, back=5.0)
    assert np.allclose(scaled.box(), np.multiply(plain.box(), factor), rtol=1e-12)
    assert math.isclose(scaled.path().length, factor * plain.path().length, rel_tol=1e-9)


@settings(max_examples=50)
@given(
    crowns(),
    st.booleans(),
    st.floats(-360.0, 360.0),
    st.tuples(st.floats(-100.0, 100.0), st.floats(-100.0, 100.0)),
)
def test_moving_the_column_moves_its_path(
    members: tuple[Member, ...], mirrored: bool, rotation: float, at: tuple[float, float]
) -> None:
    here = MemberColumn(members, mirror=mirrored, rotation=rotation, back=3.0)
    there = MemberColumn(members, mirror=mirrored, rotation=rotation, back=3.0, at=at)
    assert np.allclose(there.path().flatten(0.1), here.path().flatten(0.1) + at, atol=1e-6)
    assert math.isclose(there.path().signed_area, here.path().signed_area, rel_tol=1e-6)


@settings(max_examples=50)
@given(crowns(), st.floats(20.0, 70.0))
def test_a_sprung_column_lies_on_its_back(members: tuple[Member, ...], spring: float) -> None:
    column = MemberColumn(members, lie="sprung", spring=spring, back=0.5, bottom=1.0)
    box = box_of(column.path())
    assert math.isclose(box.bottom, 0.0, abs_tol=1e-9)
    assert math.isclose(box.left, 0.0, abs_tol=1e-9)
    first, *_, last = column.path().flatten(1e-3)
    assert first[1] == last[1] == 0.0
    # as high as the face is deep, square to the back, and the back behind it
    out = (math.cos(math.radians(spring)), -math.sin(math.radians(spring)))
    face = column.face()
    deep = reach(face, out) + reach(face, (-out[0], -out[1]))
    assert math.isclose(box.height, deep + 0.5, rel_tol=1e-9)

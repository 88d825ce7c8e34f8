"""A column of members fitted to a drawer: what moves, by how much, and what stays."""

from __future__ import annotations

import math

import pytest

from profilestack.errors import InputError
from profilestack.finding.adapting.adapt import adapted
from profilestack.stack import Blank, MemberTarget, Rectangle, Stack, StraightRun
from profilestack.targets.member import Member
from profilestack.targets.members import MemberColumn
from tests.shop import core_box, roundover, straight
from tests.unit.finding.fitting import (
    DRAWER,
    bits_of,
    column_of,
    extent,
    fillet,
    members_of,
    setback,
    sizes_of,
    stack_for,
)

OVOLO = Member("ovolo", 12.5, 12.5)


def test_a_round_takes_the_radius_of_a_bit_and_its_neighbours_the_slack() -> None:
    stack = stack_for(column_of(fillet(10.0), setback(3.0), OVOLO, setback(3.0), fillet(6.0)))
    fitted = adapted(stack, DRAWER, 1.0)
    more = 12.7 - 12.5
    assert sizes_of(fitted) == {
        (1, "height"): pytest.approx(10.0 - more),
        (2, "projection"): pytest.approx(3.0 - more),
        (3, "height"): 12.7,
        (3, "projection"): 12.7,
    }
    assert [(c.drawn, c.fitted) for c in fitted.changes if c.key == "radius"] == [(12.5, 12.7)]
    assert bits_of(fitted.changes, 3) == {"roundover 12.7"}
    assert {c.slack_of for c in fitted.changes if c.number in (1, 2)} == {(3,)}
    assert extent(fitted.stack) == pytest.approx(extent(stack), abs=1e-9)
    assert fitted.drawn == stack.target.path()  # type: ignore[union-attr]
    assert fitted.unfitted == ()


def test_what_fits_stays() -> None:
    members = (fillet(10.0), setback(3.0), Member("ovolo", 12.71, 12.71), setback(3.0), fillet(6.0))
    stack = stack_for(column_of(*members))
    fitted = adapted(stack, DRAWER, 1.0)
    assert fitted.stack == stack
    assert (fitted.changes, fitted.unfitted) == ((), ())


@pytest.mark.parametrize("limit", [0.19, 0.21])
def test_a_radius_moves_by_the_limit_at_most(limit: float) -> None:
    stack = stack_for(column_of(fillet(10.0), setback(3.0), OVOLO, setback(3.0), fillet(6.0)))
    fitted = adapted(stack, DRAWER, limit)
    assert bool(fitted.changes) == (limit > 12.7 - 12.5)
    assert bool(fitted.unfitted) == (not fitted.changes)


@pytest.mark.parametrize("radius", [11.4, 11.6])
def test_and_by_a_tenth_at_most(radius: float) -> None:
    own = Member("ovolo", radius, radius)
    stack = stack_for(column_of(fillet(10.0), setback(3.0), own, setback(3.0), fillet(6.0)))
    fitted = adapted(stack, DRAWER, 5.0)
    assert bool(fitted.changes) == (12.7 - radius <= 0.1 * radius)
    if not fitted.changes:
        (why,) = fitted.unfitted
        assert why.number == 3
        expected = "no bit has a round of radius 11.4 mm or near enough; the nearest is 12.7 mm"
        assert why.say("mm") == f"{expected}, roundover 12.7"


def test_without_a_setback_the_projection_finds_no_taker() -> None:
    stack = stack_for(column_of(fillet(10.0), OVOLO, fillet(6.0)))
    fitted = adapted(stack, DRAWER, 1.0)
    assert fitted.stack == stack
    assert fitted.changes == ()
    (why,) = fitted.unfitted
    assert "no fillet or setback can take up the slack" in why.say("mm")


@pytest.mark.parametrize(
    ("height", "fits"), [(1.15, False), (1.25, True), (0.9, False)], ids=["below 1", "1", "small"]
)
def test_no_fillet_shrinks_below_1(height: float, fits: bool) -> None:
    stack = stack_for(column_of(fillet(height), setback(3.0), OVOLO, setback(3.0)))
    assert bool(adapted(stack, DRAWER, 1.0).changes) == fits


@pytest.mark.parametrize(("height", "fits"), [(2.3, False), (2.5, True)])
def test_nor_below_half(height: float, fits: bool) -> None:
    torus = Member("torus", 24.2)  # radius 12.1: 1.2 taller at 12.7
    stack = stack_for(column_of(fillet(height), setback(15.0), torus, setback(-15.0)))
    assert bool(adapted(stack, DRAWER, 1.0).changes) == fits


def test_several_fillets_share_what_is_too_much_for_one() -> None:
    torus = Member("torus", 24.2)
    members = (fillet(2.0), setback(15.0), torus, setback(-15.0), fillet(2.0))
    fitted = adapted(stack_for(column_of(*members)), DRAWER, 1.0)
    heights = [member.height for member in members_of(fitted) if member.member == "fillet"]
    assert math.fsum(height or 0.0 for height in heights) == pytest.approx(4.0 - 1.2)
    assert min(height or 0.0 for height in heights) == 1.0


def test_a_growing_fillet_has_no_limit() -> None:
    own = Member("ovolo", 13.2, 13.2)
    fitted = adapted(stack_for(column_of(fillet(0.5), setback(0.4), own)), DRAWER, 1.0)
    assert sizes_of(fitted)[1, "height"] == pytest.approx(0.5 + 13.2 - 12.7)
    assert sizes_of(fitted)[2, "projection"] == pytest.approx(0.4 + 13.2 - 12.7)


def test_a_torus_that_stands_out_most_moves_back() -> None:
    members = (fillet(10.0), setback(-6.0), Member("torus", 24.2), setback(6.0), fillet(6.0))
    stack = stack_for(column_of(*members, lie="upright"))
    fitted = adapted(stack, DRAWER, 1.0)
    out = 12.7 - 12.1
    assert sizes_of(fitted) == {
        (1, "height"): pytest.approx(10.0 - 2.0 * out),
        (2, "projection"): pytest.approx(-(6.0 - out)),
        (3, "height"): 25.4,
        (4, "projection"): pytest.approx(6.0 - out),
    }
    assert extent(fitted.stack) == pytest.approx(extent(stack), abs=1e-9)


def test_a_torus_on_the_face_itself_cannot() -> None:
    stack = stack_for(column_of(fillet(10.0), Member("torus", 24.2), fillet(6.0), lie="upright"))
    fitted = adapted(stack, DRAWER, 1.0)
    assert fitted.changes == ()
    assert [each.number for each in fitted.unfitted] == [2]


def test_a_conge_lets_its_own_straight_part_take_the_height() -> None:
    members = (fillet(10.0), setback(2.0), Member("conge", 14.0, 12.5), setback(3.0), fillet(6.0))
    fitted = adapted(stack_for(column_of(*members)), DRAWER, 1.0)
    # 1.5 straight: it would be 1.3, which is more than half
    assert sizes_of(fitted) == {
        (3, "projection"): pytest.approx(12.7),
        (2, "projection"): pytest.approx(2.0 - 0.2),
    } or sizes_of(fitted) == {
        (3, "projection"): pytest.approx(12.7),
        (4, "projection"): pytest.approx(3.0 - 0.2),
    }


def test_a_cyma_needs_its_radius_hollow_and_round() -> None:
    members = (fillet(10.0), setback(3.0), Member("cyma-recta", 25.0, 25.0), fillet(6.0))
    stack = stack_for(column_of(*members))
    fitted = adapted(stack, DRAWER, 1.0)
    assert sizes_of(fitted)[3, "height"] == 25.4
    assert [c.bit for c in fitted.changes if c.key == "radius"] == [
        "core-box 25.4",
        "roundover 12.7",
    ]
    without_round = tuple(each for each in DRAWER if each.id != "roundover 12.7")
    assert adapted(stack, without_round, 1.0).changes == ()


def test_the_two_radii_of_a_scotia_find_a_bit_each() -> None:
    upper, lower = 5.7, 12.5
    scotia = Member("scotia", upper + lower, upper - lower)
    members = (fillet(10.0), setback(3.0), scotia, setback(-8.0), fillet(6.0))
    stack = stack_for(column_of(*members, back=15.0))
    fitted = adapted(stack, DRAWER, 1.0)
    # the drawer has hollows of 6 and of 12.7
    assert sizes_of(fitted)[3, "height"] == pytest.approx(6.0 + 12.7)
    assert sizes_of(fitted)[3, "projection"] == pytest.approx(6.0 - 12.7)
    assert extent(fitted.stack) == pytest.approx(extent(stack), abs=1e-9)


def test_an_uneven_hollow_keeps_the_side_that_is_not_its_radius() -> None:
    # an uneven hollow leaves its box a little: the last fillet lies deeper than that
    own = Member("cavetto", 12.5, 9.0)
    members = (fillet(10.0), setback(3.0), own, setback(3.0), fillet(6.0))
    fitted = adapted(stack_for(column_of(*members)), DRAWER, 1.0)
    assert members_of(fitted)[2] == Member("cavetto", 12.7, 9.0)
    assert members_of(fitted)[1] == setback(3.0)


def test_radii_are_those_on_the_wood() -> None:
    small = Member("ovolo", 6.25, 6.25)
    members = (fillet(5.0), setback(1.5), small, setback(1.5), fillet(3.0))
    fitted = adapted(stack_for(column_of(*members, scale=2.0)), DRAWER, 0.25)
    assert [(c.drawn, c.fitted) for c in fitted.changes if c.key == "radius"] == [(12.5, 12.7)]
    assert sizes_of(fitted)[3, "height"] == pytest.approx(12.7 / 2.0)


def test_a_worn_bit_counts_as_it_is() -> None:
    worn = roundover(12.5, 3.2, 16.0, measured=2.0 * (1.6 + 12.5) - 0.4)
    stack = stack_for(column_of(fillet(10.0), setback(3.0), OVOLO, setback(3.0), fillet(6.0)))
    fitted = adapted(stack, (worn, straight(3.0)), 1.0)
    # ground by 0.2 all round, a hollow edge is 0.2 larger: it leaves a larger round
    assert sizes_of(fitted)[3, "height"] == pytest.approx(12.7, abs=1e-6)


def test_a_bit_without_a_bearing_is_chosen_first() -> None:
    near = roundover(12.6, 12.7, 16.0, pilot_diameter=12.7, pilot_length=8.0)
    stack = stack_for(column_of(fillet(10.0), setback(3.0), OVOLO, setback(3.0), fillet(6.0)))
    fitted = adapted(stack, (near, *DRAWER), 1.0)
    assert bits_of(fitted.changes, 3) == {"roundover 12.7"}


def test_a_grecian_curve_is_told_and_stays() -> None:
    own = Member("ovolo", 20.0, 20.0, "grecian")
    stack = stack_for(column_of(fillet(10.0), setback(3.0), own, setback(3.0), fillet(6.0)))
    (why,) = adapted(stack, DRAWER, 1.0).unfitted
    assert "Grecian" in why.say("mm")


@pytest.mark.parametrize("lie", ["upright", "head-down", "flat", "sprung"])
def test_however_it_lies(lie: str) -> None:
    members = (
        fillet(10.0), setback(3.0), OVOLO, setback(3.0), fillet(6.0),
        Member("cavetto", 12.5, 12.5), setback(4.0), fillet(8.0),
    )  # fmt: skip
    stack = stack_for(column_of(*members, lie=lie, back=7.0))
    fitted = adapted(stack, DRAWER, 1.0)
    assert {members_of(fitted)[k].height for k in (2, 5)} == {12.7}
    assert extent(fitted.stack) == pytest.approx(extent(stack), abs=1e-6)


def test_a_sprung_strip_stays_as_thick_and_its_bottom_as_wide() -> None:
    hollow = Member("cavetto", 25.0, 25.0)
    members = (fillet(10.0), setback(3.0), hollow, setback(4.0), fillet(8.0))
    column = column_of(*members, lie="sprung", back=7.0)
    fitted = adapted(stack_for(column), (core_box(50.8),), 1.0)
    assert isinstance(fitted.stack.target, MemberTarget)
    after = fitted.stack.target.column
    assert after.bottom == 7.0
    # the centre stays where it was, so the hollow comes nearer to the sloping back
    assert after.back == pytest.approx(7.0 - 0.4)
    assert [c.number for c in fitted.changes if c.key == "back"] == [0]


def test_the_wood_of_the_blank_is_enough_after_as_before() -> None:
    """A column that does not fit its blank is left for the finder to refuse."""
    column = column_of(fillet(10.0), setback(3.0), OVOLO, setback(3.0), fillet(6.0))
    small = Stack(Blank(Rectangle(20.0, 20.0)), StraightRun(1.0), target=MemberTarget(column))
    assert adapted(small, DRAWER, 1.0).stack == small


@pytest.mark.parametrize("limit", [0.0, -1.0, math.nan, math.inf, 101.0])
def test_an_impossible_limit_is_refused(limit: float) -> None:
    stack = stack_for(column_of(fillet(10.0), setback(3.0), OVOLO))
    with pytest.raises(InputError, match="adapt"):
        adapted(stack, DRAWER, limit)


def test_without_a_target_there_is_nothing_to_fit() -> None:
    stack = Stack(Blank(Rectangle(20.0, 20.0)), StraightRun(1.0))
    with pytest.raises(InputError, match="nothing to fit"):
        adapted(stack, DRAWER, 1.0)


# -- quirks ----------------------------------------------------------------------------------------

BEAD = Member("bead", 12.0)


def casing(width: float, field: float = 60.0) -> MemberColumn:
    quirk = Member("quirk", width=width, depth=6.0, projection=6.0)
    return column_of(fillet(field), quirk, BEAD)


def test_a_quirk_is_widened_to_the_narrowest_bit_whatever_the_share() -> None:
    fitted = adapted(stack_for(casing(1.6)), DRAWER, 1.5)
    assert sizes_of(fitted) == {(1, "height"): pytest.approx(60.0 - 1.4), (2, "width"): 3.0}
    assert bits_of(fitted.changes, 2) == {"straight 3"}


def test_but_by_the_limit_at_most() -> None:
    fitted = adapted(stack_for(casing(1.6)), DRAWER, 1.3)
    assert fitted.changes == ()
    (why,) = fitted.unfitted
    assert why.say("mm") == (
        "no bit is as narrow as 1.6 mm; the narrowest that goes in, straight 3, needs 3 mm"
    )


@pytest.mark.parametrize("width", [3.0, 2.99, 5.0])
def test_a_quirk_that_a_bit_enters_stays(width: float) -> None:
    assert adapted(stack_for(casing(width)), DRAWER, 1.5).changes == ()


def test_a_bit_that_is_too_short_does_not_enter() -> None:
    # the shank of the narrow one is thicker than the quirk: it stops above the edge
    short = (straight(3.0, 4.0), straight(4.0, 8.0), roundover(6.0, 3.0, 9.0))
    fitted = adapted(stack_for(casing(1.6)), short, 3.0)
    assert sizes_of(fitted)[2, "width"] == 4.0


def test_a_round_quirk_takes_the_ball() -> None:
    quirk = Member("quirk", variant="round", width=3.0, depth=6.0)
    column = column_of(fillet(20.0), quirk, fillet(20.0))
    ball = core_box(4.0, 10.0)
    assert sizes_of(adapted(stack_for(column), (*DRAWER, ball), 1.5))[2, "width"] == 4.0


def test_a_v_quirk_opens_to_the_angle_of_the_bit() -> None:
    quirk = Member("quirk", variant="v", width=2.5, depth=3.0)
    column = column_of(fillet(20.0), quirk, fillet(20.0))
    fitted = adapted(stack_for(column), DRAWER, 1.5)
    assert sizes_of(fitted)[2, "width"] == pytest.approx(2 * 3.0 * math.tan(math.radians(30.0)))


def between_rounds(width: float) -> MemberColumn:
    return column_of(fillet(20.0), Member("ovolo", 6.0, 6.0), fillet(width), BEAD)


def test_between_two_rounds_the_flat_of_their_bit_decides() -> None:
    fitted = adapted(stack_for(between_rounds(2.0)), DRAWER, 1.5)
    assert sizes_of(fitted) == {(1, "height"): pytest.approx(19.0), (3, "height"): 3.0}
    assert bits_of(fitted.changes, 3) == {"roundover 6"}
    assert adapted(stack_for(between_rounds(3.0)), DRAWER, 1.5).changes == ()


def test_the_bottom_between_two_rounds_takes_up_no_slack() -> None:
    cavetto = Member("cavetto", 12.5, 12.5)
    above = (fillet(20.0), setback(3.0), cavetto, Member("ovolo", 6.0, 6.0), fillet(3.0), BEAD)
    fitted = adapted(stack_for(column_of(*above)), DRAWER, 1.5)
    assert members_of(fitted)[4] == fillet(3.0)
    assert sizes_of(fitted)[1, "height"] == pytest.approx(19.8)

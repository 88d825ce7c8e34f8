"""What no bit reaches, how much of it stays, why, and which bits would help."""

from __future__ import annotations

import math

import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Dovetail
from profilestack.finding.advice import Stretch, unreached_stretches
from profilestack.finding.purchases import worth_buying
from profilestack.geometry.path import Path
from profilestack.stack import Setup, Stack
from tests.finding import board_for, problem
from tests.shop import bit as bit_of
from tests.shop import core_box, roundover, straight, vee

LEFTOVER, OVERCUT = 0.02, 0.002

ROUNDED = 0.011
"""Offsets and depths are whole hundredths, so that a bit may stand a hundredth off."""

SQUARE = Path((0.0, 20.0)).line((10.0, 20.0)).line((10.0, 10.0)).line((40.0, 10.0))
GROOVE = (
    Path((0.0, 20.0)).line((12.0, 20.0)).line((20.0, 12.0)).line((28.0, 20.0)).line((40.0, 20.0))
)
UNDERCUT = (
    Path((0.0, 20.0)).line((10.0, 20.0)).line((5.0, 10.0)).line((25.0, 10.0)).line((20.0, 20.0))
    .line((40.0, 20.0))
)  # fmt: skip
SLOT = (
    Path((0.0, 30.0)).line((10.0, 30.0)).line((10.0, 5.0)).line((20.0, 5.0)).line((20.0, 30.0))
    .line((40.0, 30.0))
)  # fmt: skip

TIGHT = "a corner or hollow tighter than any bit at hand"
DEEP = "too deep for the edges, shanks and nut of the bits at hand"
HIDDEN = "wood hangs over it in every setup allowed: allow another setup, or undercut bits"


def stays(stack: Stack, *bits: Bit, **other: object) -> tuple[Stretch, ...]:
    return unreached_stretches(problem(stack, bits, LEFTOVER, OVERCUT, **other))


@pytest.mark.parametrize("radius", [2.0, 4.0, 6.35])
def test_a_round_nose_leaves_a_square_corner(radius: float) -> None:
    (found,) = stays(board_for(SQUARE, 40.0, 20.0), core_box(2.0 * radius))
    # the corner is R (sqrt 2 - 1) from the cut (computed)
    assert found.leftover == pytest.approx(radius * (math.sqrt(2.0) - 1.0), abs=ROUNDED)
    assert found.why == TIGHT
    # it stays from where wall and floor are the leftover from the circle: y off the corner with
    # sqrt(R^2 + (R - y)^2) - R = leftover; points are a quarter millimetre apart
    y = radius - math.sqrt(2.0 * radius * LEFTOVER + LEFTOVER**2)
    assert found.begin == pytest.approx((10.0, 10.0 + y), abs=0.26)
    assert found.end == pytest.approx((10.0 + y, 10.0), abs=0.26)


@pytest.mark.parametrize("tip", [0.5, 1.0, 2.0])
@pytest.mark.parametrize("angle", [60.0, 90.0])
def test_a_flat_tip_leaves_the_bottom_of_a_groove(tip: float, angle: float) -> None:
    half = 8.0 * math.tan(math.radians(angle / 2.0))
    path = Path((0.0, 20.0)).line((20.0 - half, 20.0)).line((20.0, 12.0))
    path = path.line((20.0 + half, 20.0)).line((40.0, 20.0))
    (found,) = stays(board_for(path, 40.0, 20.0), vee(30.0, angle, tip=tip))
    # the flat of width t rests where the groove is as wide: t/2 / tan(angle/2) above its bottom,
    # t/2 at 90 degrees (computed)
    height = tip / 2.0 / math.tan(math.radians(angle / 2.0))
    assert found.leftover == pytest.approx(height, abs=ROUNDED)
    assert (found.begin[0] + found.end[0]) / 2.0 == pytest.approx(20.0, abs=0.26)


def test_a_round_nose_leaves_the_foot_of_a_torus() -> None:
    rho, r = 6.0, 1.5
    path = Path((0.0, 10.0)).line((10.0, 10.0)).arc((22.0, 10.0), (16.0, 10.0), "cw")
    found = stays(board_for(path.line((40.0, 10.0)), 40.0, 20.0), core_box(2.0 * r))
    # between a level fillet and a torus: 0.517 for rho 6 and r 1.5 (computed, printed so)
    left = math.sqrt((math.sqrt(rho**2 + 2.0 * rho * r) - rho) ** 2 + r**2) - r
    assert left == pytest.approx(0.517, abs=5e-4)
    assert [each.leftover for each in found] == pytest.approx([left, left], abs=ROUNDED)
    assert found[0].end[0] == pytest.approx(10.0, abs=0.3)


def test_between_a_torus_and_a_wall_a_slim_bit_goes_as_far_as_the_gap_is_wide() -> None:
    # the foot of a torus against the plinth: both upright where they meet, the gap closes to
    # nothing. A bit of diameter d stands where it is d wide: sqrt(2 rho d - d^2) up (computed)
    rho, d = 9.0, 3.175
    path = Path((0.0, 10.0)).line((10.0, 10.0)).arc((28.0, 10.0), (19.0, 10.0), "cw")
    path = path.line((28.0, 21.0)).line((40.0, 21.0))
    found = stays(board_for(path, 40.0, 22.0), straight(d))
    gap = max(found, key=lambda each: each.leftover)
    assert gap.leftover == pytest.approx(math.sqrt(2.0 * rho * d - d * d), abs=0.02)
    assert gap.why == TIGHT
    assert gap.begin[0] < 28.0 == pytest.approx(gap.end[0])


def test_a_wall_deeper_than_any_edge_is_called_too_deep() -> None:
    found = stays(board_for(SLOT, 40.0, 30.0), straight(6.0, edge=12.0, shank=10.0))
    assert found
    assert {each.why for each in found} == {DEEP}


def test_what_lies_under_an_overhang_is_called_hidden() -> None:
    found = stays(board_for(UNDERCUT, 40.0, 20.0), straight(6.0))
    assert found
    assert {each.why for each in found} == {HIDDEN}


def test_another_setup_reaches_what_the_face_does_not() -> None:
    path = Path((0.0, 20.0)).line((30.0, 20.0)).line((30.0, 12.0)).line((24.0, 12.0))
    path = path.line((24.0, 8.0)).line((40.0, 8.0))
    stack = board_for(path, 40.0, 20.0, setups=(Setup("edge", 90.0),))
    alone = stays(stack, straight(3.0))
    assert {each.why for each in alone} == {HIDDEN}
    edge = stack.setup("edge")
    assert stays(stack, straight(3.0), setups=(stack.setup("face"), edge)) == ()


def test_nothing_stays_where_all_is_reached() -> None:
    assert stays(board_for(SQUARE, 40.0, 20.0), straight(6.0)) == ()


def test_bits_that_reach_what_stays_are_named_the_most_helpful_first() -> None:
    stack = board_for(SQUARE, 40.0, 20.0)
    library = [core_box(3.0), core_box(8.0), straight(5.0), roundover(3.0, 20.0), vee(10.0, 90.0)]
    found = worth_buying(problem(stack, [core_box(8.0)], LEFTOVER, OVERCUT), library)
    assert found[0].bit == straight(5.0)
    assert found[0].gain == "reaches the place that stays"
    names = [each.bit.id for each in found]
    assert core_box(8.0).id not in names  # it is there already
    assert core_box(3.0).id in names
    smaller = next(each for each in found if each.bit == core_box(3.0))
    assert smaller.gain.startswith("reaches ")
    assert smaller.gain.endswith(" % of what stays")


def test_nothing_is_worth_buying_where_nothing_stays() -> None:
    stack = board_for(SQUARE, 40.0, 20.0)
    assert worth_buying(problem(stack, [straight(6.0)], LEFTOVER, OVERCUT), [core_box(3.0)]) == ()


def test_an_undercut_bit_is_named_for_what_hangs_over() -> None:
    slope = math.degrees(math.atan2(5.0, 10.0))
    fitting = bit_of("fitting", Dovetail(16.0, slope - 2.0), edge=12.0, shank=4.0)
    stack = board_for(UNDERCUT, 40.0, 20.0)
    found = worth_buying(problem(stack, [straight(6.0)], 0.3, 0.1), [core_box(3.0), fitting])
    assert [each.bit.id for each in found] == ["fitting"]

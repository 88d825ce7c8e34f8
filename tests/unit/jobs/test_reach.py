"""What bits are good for, on targets where that is plain geometry."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Dovetail
from profilestack.errors import Cancelled, InputError
from profilestack.geometry.path import Path
from profilestack.jobs.reach import BitReach, ReachRequest, asked_by, reach_of_bits
from profilestack.progress import Progress
from profilestack.stack import Pass, PathTarget, Setup, Stack, Tolerance, TurnedRun
from tests.shop import bit, board, core_box, lines, roundover, stack_of, straight, vee

WIDTH, TOP = 60.0, 30.0
REBATE = lines((0, TOP), (30, TOP), (30, 20), (WIDTH, 20))
VEE = lines((0, TOP), (20, TOP), (30, 20), (40, TOP), (WIDTH, TOP))
SLOT = lines((0, TOP), (24, TOP), (24, 10), (36, 10), (36, TOP), (WIDTH, TOP))


def stack(target: PathTarget, **other: object) -> Stack:
    return stack_of(target=target, **other)[0]


def looked_at(target: PathTarget, one: Bit, **other: object) -> BitReach:
    return reach_of_bits(ReachRequest(stack(target, **other), (one,)))[one.id]


def half_round_groove(radius: float) -> PathTarget:
    path = Path((0.0, TOP)).line((30.0 - radius, TOP))
    path = path.arc((30.0 + radius, TOP), center=(30.0, TOP), turn="ccw")
    return PathTarget(path.line((WIDTH, TOP)))


def quarter_round(radius: float) -> PathTarget:
    """A round of that radius at the right end, on a fillet as high again."""
    path = Path((0.0, TOP)).line((40.0, TOP))
    path = path.arc((40.0 + radius, TOP - radius), center=(40.0, TOP - radius), turn="cw")
    return PathTarget(path.line((40.0 + radius, 5.0)).line((WIDTH, 5.0)))


@pytest.mark.parametrize("hollow", [5.0, 8.0, 12.0])
@pytest.mark.parametrize("nose", [4.0, 5.0, 8.0, 12.0, 20.0])
def test_core_box_follows_hollows_that_are_no_tighter_than_itself(
    hollow: float, nose: float
) -> None:
    found = looked_at(half_round_groove(hollow), core_box(2.0 * nose))
    follows = nose <= hollow
    assert [arch.radius for arch in found.follows] == ([hollow] if follows else [])
    assert [arch.radius for arch in found.fits] == ([hollow] if nose == hollow else [])
    assert found.reaches == follows
    assert found.smallest_hollow == found.largest_hollow == (hollow if follows else None)
    if not follows:
        assert found.why == "its radius is larger than that of every hollow"
        assert found.share < 0.2


def test_an_arc_says_whether_it_is_hollow() -> None:
    hollow = looked_at(half_round_groove(8.0), core_box(16.0))
    assert [(arch.hollow, arch.said) for arch in hollow.follows] == [(True, "hollow")]
    rounded = looked_at(quarter_round(9.525), roundover(9.525, 3.0, 12.0))
    assert [(arch.hollow, arch.said) for arch in rounded.fits] == [(False, "round")]
    assert rounded.smallest_hollow is None


def test_the_wood_of_a_closed_target_is_inside_whichever_way_it_runs() -> None:
    ring = Path((1, 1)).line((59, 1)).line((59, 29)).line((38, 29))
    ring = ring.arc((22, 29), center=(30, 29), turn="cw").line((1, 29)).line((1, 1))
    for path in (ring, ring.reversed()):
        found = looked_at(PathTarget(path, closed=True), core_box(16.0))
        assert [arch.said for arch in found.fits] == ["hollow"]


def test_roundover_fits_a_round_of_its_own_radius_alone() -> None:
    target = quarter_round(9.525)
    (fit,) = looked_at(target, roundover(9.525, 3.0, 12.0)).fits
    assert fit.radius == pytest.approx(9.525)
    assert looked_at(target, roundover(15.875, 3.0, 18.0)).fits == ()


def test_v90_fits_a_right_angle_that_stands_on_its_corner() -> None:
    found = looked_at(VEE, vee(25.0, 90.0))
    assert (found.corners, found.of_corners) == (1, 1)
    assert found.share == pytest.approx(1.0)
    assert found.best_pass == pytest.approx(1.0)


def test_v90_does_not_fit_a_square_inside_corner() -> None:
    # its side meets the arris 10 mm up the wall: the corner stays 10 / sqrt 2 away
    found = looked_at(REBATE, vee(25.0, 90.0))
    assert (found.corners, found.of_corners) == (0, 1)
    assert looked_at(REBATE, straight(12.0)).corners == 1


def test_blunter_vee_does_not_reach_the_bottom_of_a_sharper_groove() -> None:
    # it rests on the arrises: its point stays 10 - 10 / tan 60 = 4.2 mm above the corner
    found = looked_at(VEE, vee(40.0, 120.0))
    assert (found.corners, found.of_corners) == (0, 1)
    assert found.share < 0.2


def test_straight_makes_a_rebate_in_one_pass_only_when_it_is_as_wide() -> None:
    wide, slim = looked_at(REBATE, straight(70.0)), looked_at(REBATE, straight(12.0))
    assert wide.share == slim.share == pytest.approx(1.0)
    assert wide.best_pass == pytest.approx(1.0)
    # a wall of 10 mm and a floor of 30: the slim one takes the wall and 12 mm of the floor, and
    # what lies within the leftover of its edge
    assert slim.best_pass == pytest.approx((10.0 + 12.0) / 40.0, abs=0.02)


@pytest.mark.parametrize(
    ("one", "why"),
    [
        (straight(10.0, 0.5, shank=20.0), "its edge is too short: the shank meets the wood"),
        (straight(10.0, 15.0, length=23.5, grip=20.0),
         "the nut meets the wood: it is too short from tip to nut"),
        (straight(10.0, 15.0, pilot_diameter=8.0, pilot_length=6.0),
         "its bearing meets the wood before the edge does"),
        (straight(14.0, 15.0), "it is too wide for every place that has to be cut"),
    ],
)  # fmt: skip
def test_a_bit_that_reaches_nothing_of_a_slot_says_why(one: Bit, why: str) -> None:
    found = looked_at(SLOT, one)
    assert not found.reaches
    assert found.why == why


def test_undercut_bit_is_refused_on_a_turned_part() -> None:
    dovetail = bit("dovetail", Dovetail(14.0, 10.0), 10.0)
    target = lines((0, TOP), (20, TOP), (20, 20), (40, 20), (40, TOP), (WIDTH, TOP))
    assert looked_at(target, dovetail).reaches
    found = looked_at(target, dovetail, run=TurnedRun())
    assert not found.reaches
    assert found.why.startswith("it undercuts")


def test_a_dovetail_too_wide_for_a_slot_says_so() -> None:
    found = looked_at(SLOT, bit("dovetail", Dovetail(20.0, 14.0), 12.0))
    assert found.why == "it is too wide for every place that has to be cut"


def test_setups_of_the_document_count() -> None:
    # a groove in the right side is reached with that side up alone
    side = lines((0, TOP), (WIDTH, TOP), (WIDTH, 20), (55, 20), (55, 10), (WIDTH, 10), (WIDTH, 0))
    one = straight(8.0)
    assert not looked_at(side, one).reaches
    found = looked_at(side, one, setups=(Setup("edge", 90.0),))
    assert found.share == pytest.approx(1.0)
    assert (found.corners, found.of_corners) == (2, 2)


def test_looser_tolerances_never_reach_less() -> None:
    tight = looked_at(half_round_groove(8.0), core_box(20.0), tolerance=Tolerance(0.05, 0.05))
    loose = looked_at(half_round_groove(8.0), core_box(20.0), tolerance=Tolerance(0.6, 0.3))
    assert tight.share <= loose.share
    assert 0.0 < loose.share < 1.0


def test_no_tolerance_at_all_is_looked_at_as_a_fine_one() -> None:
    found = looked_at(half_round_groove(8.0), core_box(16.0), tolerance=Tolerance(0.0, 0.0))
    assert math.isfinite(found.share)


def test_nothing_is_known_without_a_target() -> None:
    assert reach_of_bits(ReachRequest(stack_of()[0], (straight(6.0),))) == {}


def test_a_target_that_leaves_the_blank_is_refused() -> None:
    with pytest.raises(InputError, match="leaves the blank"):
        looked_at(lines((0, 10), (90, 10)), straight(6.0))


def test_it_stops_when_it_is_told_to() -> None:
    with pytest.raises(Cancelled):
        reach_of_bits(
            ReachRequest(stack(REBATE), (straight(6.0),)), Progress(is_stopped=lambda: True)
        )


def test_passes_and_bits_of_the_document_change_nothing() -> None:
    one = straight(6.0)
    first = stack(REBATE)
    second = replace(first, passes=(Pass(one.id, 3.0, 2.0),), bits=(one,), title="Shelf")
    assert asked_by(first) == asked_by(second)
    assert asked_by(first) != asked_by(replace(first, blank=board(61.0)))
    assert reach_of_bits(ReachRequest(first, (one,))) == reach_of_bits(ReachRequest(second, (one,)))

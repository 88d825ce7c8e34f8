"""Moves without a screen: setups, copies, repeats, typed numbers, new passes."""

from __future__ import annotations

import numpy as np
import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Straight
from profilestack.cutting.cut import cut_stack
from profilestack.geometry.path import Path
from profilestack.jobs.snapping import Hold
from profilestack.session.moving import (
    Hand,
    Move,
    in_the_middle,
    move_of_new,
    nudge_across_and_deeper,
    placed_in_the_middle,
    placing,
)
from profilestack.stack import (
    Blank,
    Pass,
    PathTarget,
    Rectangle,
    Round,
    Setup,
    Stack,
    StraightRun,
    TurnedRun,
)

FLAT = Bit("flat", Straight(10.0), cutting_length=30.0, shank=6.0, length=90.0)
BITS = {"flat": FLAT}
HOLD = Hold(reach=0.5)


def board(*passes: Pass, setups: tuple[Setup, ...] = (), target: Path | None = None) -> Stack:
    return Stack(
        blank=Blank(Rectangle(60.0, 30.0)),
        run=StraightRun(1000.0),
        target=None if target is None else PathTarget(target),
        setups=setups,
        passes=passes,
    )


def moved(stack: Stack, stroke: int, by: tuple[float, float]) -> Pass:
    """The first pass after its stroke was gripped and carried by so much, seen in the section."""
    grip = cut_stack(stack, BITS).strokes[stroke]
    begin = (21.0, 17.0)
    move = Move(stack, 0, FLAT, grip, begin)
    hand = Hand((begin[0] + by[0], begin[1] + by[1]), lets_go=True)
    return move.to(hand, HOLD).passes[0]


@pytest.mark.parametrize("angle", [0.0, 30.0, 45.0, 90.0, 180.0, 270.0])
def test_what_is_gripped_stays_under_the_hand(angle: float) -> None:
    setups = (Setup("turned", angle),)
    stack = board(Pass("flat", 20.0, 8.0, setup="turned"), setups=setups)
    by = (3.7, -1.9)
    after = board(moved(stack, 0, by), setups=setups)
    before_at, after_at = (
        np.array(cut_stack(each, BITS).strokes[0].region.centroid.coords[0])
        for each in (stack, after)
    )
    # offset and depth are rounded to 0.01
    assert after_at - before_at == pytest.approx(by, abs=0.0075)


@pytest.mark.parametrize("copy", [0, 1, 2, 3])
def test_any_copy_can_be_gripped(copy: int) -> None:
    """A copy of a pass cut around moves outward by what it is pulled along its own axis."""
    stack = Stack(
        blank=Blank(Round(60.0)),
        run=StraightRun(500.0),
        setups=(Setup("around", 0.0, copies=4),),
        passes=(Pass("flat", 30.0, 8.0, setup="around"),),
    )
    strokes = cut_stack(stack, BITS).strokes
    tip, above = strokes[copy].to_section(np.array(((0.0, 0.0), (0.0, 2.0))))
    pulled = above - tip
    single = moved(stack, copy, (float(pulled[0]), float(pulled[1])))
    assert (single.offset, single.depth) == pytest.approx((30.0, 6.0))


def test_a_repeat_that_is_gripped_takes_its_pass_along() -> None:
    stack = board(Pass("flat", 10.0, 5.0, count=3, pitch=15.0))
    assert moved(stack, 2, (4.0, -1.0)) == Pass("flat", 14.0, 6.0, count=3, pitch=15.0)


def test_a_turned_part_is_moved_as_the_engine_cuts_it() -> None:
    stack = Stack(
        blank=Blank(Rectangle(60.0, 30.0)), run=TurnedRun(), passes=(Pass("flat", 20.0, 8.0),)
    )
    assert moved(stack, 0, (2.0, -3.0)) == Pass("flat", 22.0, 11.0)


def test_a_depth_stays_above_nothing_wherever_the_hand_goes() -> None:
    stack = board(Pass("flat", 20.0, 8.0))
    assert moved(stack, 0, (0.0, 100.0)).depth == HOLD.step


def test_others_keep_their_distance_and_hold_nothing() -> None:
    stack = board(Pass("flat", 20.0, 8.0), Pass("flat", 40.0, 9.0))
    grip = cut_stack(stack, BITS).strokes[0]
    move = Move(stack, 0, FLAT, grip, (20.0, 25.0), others=(0, 1))
    shown = move.to(Hand((40.2, 25.0)), HOLD)
    assert "pass 2" not in move.snap.words
    assert shown.passes[1].offset - shown.passes[0].offset == pytest.approx(20.0)
    assert move.label == "Move passes 1 and 2"


def test_typed_numbers_are_taken_when_they_are_lengths() -> None:
    stack = board(Pass("flat", 20.0, 8.0))
    move = Move(stack, 0, FLAT)
    assert move.type("1", HOLD).passes[0].offset == 1.0
    assert move.type("x", HOLD).passes[0].offset == 20.0
    assert move.trouble("mm") == "'1x' is no offset"
    assert move.untype(HOLD).passes[0].offset == 1.0
    assert move.trouble("mm") == ""
    move.next_number()
    assert move.type("0", HOLD).passes[0].depth == 8.0
    assert move.trouble("mm") == "'0' is no depth"
    assert move.type(".5", HOLD).passes[0] == Pass("flat", 1.0, 0.5)
    inches = Move(stack, 0, FLAT)
    assert inches.type("1-3/8", Hold(0.5, units="in")).passes[0].offset == 34.925


@pytest.mark.parametrize(
    ("angle", "right", "up", "expected"),
    [
        (0.0, 1.0, 0.0, (1.0, 0.0)),
        (0.0, 0.0, 1.0, (0.0, -1.0)),
        (180.0, 1.0, 0.0, (-1.0, 0.0)),
        (180.0, 0.0, 1.0, (0.0, 1.0)),
        (90.0, 1.0, 0.0, (0.0, -1.0)),
        (90.0, 0.0, 1.0, (-1.0, 0.0)),
        (30.0, 0.5, 0.0, (0.5, 0.0)),
        (-30.0, 0.0, 0.5, (0.0, -0.5)),
    ],
)
def test_a_nudge_goes_along_the_axis_that_points_most_that_way(
    angle: float, right: float, up: float, expected: tuple[float, float]
) -> None:
    setups = (Setup("turned", angle),)
    stack = board(Pass("flat", 20.0, 8.0, setup="turned"), setups=setups)
    assert nudge_across_and_deeper(stack, 0, right, up) == pytest.approx(expected)


def test_a_new_pass_has_its_tip_where_it_is_put_and_its_bit_with_it() -> None:
    stack = board()
    grown = placing(stack, FLAT, (23.4, 21.0), carried=True)
    assert grown.passes == (Pass("flat", 23.4, 9.0),)
    assert grown.bits == (FLAT,)
    assert placing(grown, FLAT, (1.0, 40.0), carried=True).bits == (FLAT,)
    move = move_of_new(stack, FLAT, (23.4, 21.0), carried=True)
    assert move.to(Hand((25.0, 22.0), lets_go=True), HOLD).passes[0] == Pass("flat", 25.0, 8.0)


def test_a_bit_nobody_points_at_goes_over_the_middle_and_touches() -> None:
    slope = Path((0.0, 30.0)).line((10.0, 30.0)).line((50.0, 10.0)).line((60.0, 10.0))
    x, z = in_the_middle(board(target=slope), FLAT)
    assert x == 30.0
    # the flat bit's left corner stands on the slope, 5 before the middle
    assert z == pytest.approx(20.0 + 5.0 * 0.5, abs=2e-4)
    assert in_the_middle(board(), FLAT) == (30.0, 30.0 - 30.0 / 4.0)


@pytest.mark.parametrize(("at", "place"), [(None, 2), (2, 2), (1, 1), (0, 0)])
def test_a_bit_put_in_the_middle_is_cut_where_it_is_wanted(at: int | None, place: int) -> None:
    before = board(Pass("flat", 20.0, 8.0), Pass("flat", 30.0, 3.0))
    after, label = placed_in_the_middle(before, FLAT, at, carried=True)
    assert label == "Place flat"
    assert after.passes[place] == Pass("flat", 30.0, 30.0 / 4.0)
    assert (*after.passes[:place], *after.passes[place + 1 :]) == before.passes
    assert after.bits == (FLAT,)
    assert placed_in_the_middle(before, FLAT, at)[0].bits == ()

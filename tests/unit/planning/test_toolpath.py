"""Travels of a bit, and what a machine can do in one go."""

from __future__ import annotations

import itertools
import math

import pytest

from profilestack.planning.plan import Rest
from profilestack.planning.toolpath.moves import Bend, Feed, Rapid, lowered
from profilestack.planning.toolpath.programs import programs_of, reach_of
from profilestack.planning.toolpath.travels import LEAD, Room, lead_of, step_moves
from profilestack.stack import CurvedRun, Setup, StraightRun
from tests.plans import plan_of, step_of
from tests.shop import core_box, stack_of, straight, vee

ROOM = Room(height=30.0, safe=45.0)


def moves_of(bit, run, **keys):
    stack, bits = stack_of((bit, 20.0, 4.0, keys), run=run)
    return list(step_moves(step_of(stack, bits, 1), run, ROOM))


def test_a_straight_travel_is_down_along_and_up():
    assert moves_of(straight(12.0), StraightRun(500.0)) == [
        Rapid((20.0, -16.0, 45.0)),
        Feed((20.0, -16.0, 26.0), 1000.0),
        Feed((20.0, 516.0, 26.0), 2400.0),
        Rapid((20.0, 516.0, 45.0)),
    ]


def test_leads_are_clear_of_the_widest_part_of_the_bit():
    assert lead_of(straight(12.0)) == 6.0 + LEAD
    assert lead_of(straight(4.0, shank=12.0)) == 6.0 + LEAD
    bearing = straight(4.0, pilot_diameter=16.0, pilot_length=5.0)
    assert lead_of(bearing) == 8.0 + LEAD


def test_repeats_are_travels_of_their_own():
    moves = moves_of(straight(4.0), StraightRun(500.0), count=3, pitch=7.5)
    assert [move.to[0] for move in moves[::4]] == [20.0, 27.5, 35.0]


def test_a_stopped_travel_slopes_down_inside_and_comes_back_to_its_start():
    moves = moves_of(core_box(8.0), StraightRun(500.0), begin=100.0, end=400.0)
    levels = [move.to for move in moves if isinstance(move, Feed)]
    assert levels[0] == (20.0, 100.0, 31.0)  # 1 mm above the face
    there, back = levels[1], levels[2]
    # 5 mm down in two legs of 3 degrees: 2.5 / tan 3 degrees = 47.7 along
    assert there == (20.0, pytest.approx(100.0 + 2.5 / math.tan(math.radians(3.0))), 28.5)
    assert back == (20.0, 100.0, 26.0)
    assert levels[3] == (20.0, 400.0, 26.0)


@pytest.mark.parametrize("end", [101.0, 110.0, 130.0, 400.0])
def test_no_slope_is_steeper_than_three_degrees_and_none_leaves_the_stretch(end: float):
    moves = moves_of(core_box(8.0), StraightRun(500.0), begin=100.0, end=end)
    for before, after in itertools.pairwise(moves):
        along = abs(after.to[1] - before.to[1])
        if along and after.to[2] < before.to[2]:
            slope = (before.to[2] - after.to[2]) / along
            assert slope <= math.tan(math.radians(3.0)) * (1.0 + 1e-9)
        assert 100.0 <= after.to[1] <= end


def test_a_bend_is_led_in_and_out_along_its_tangents():
    moves = moves_of(straight(12.0), CurvedRun(300.0, 90.0))
    assert moves[0] == Rapid((20.0, -16.0, 45.0))
    bend = next(move for move in moves if isinstance(move, Bend))
    assert bend.center == (-300.0, 0.0)
    assert bend.to == pytest.approx((-300.0, 320.0, 26.0))
    assert moves[-1].to == pytest.approx((-316.0, 320.0, 45.0))


def test_reaches_count_the_whole_of_a_bend():
    moves = [Rapid((10.0, 0.0, 5.0)), Bend((-10.0, 0.0, 2.0), (0.0, 0.0), "ccw", 100.0)]
    x, y, z = reach_of(moves)
    assert x == pytest.approx((-10.0, 10.0))
    assert y == pytest.approx((0.0, 10.0))
    assert z == (2.0, 5.0)


def test_moves_are_counted_from_another_level():
    assert lowered([Rapid((1.0, 2.0, 30.0))], 20.0) == [Rapid((1.0, 2.0, 10.0))]


def test_programs_end_where_the_blank_is_touched_or_each_bit_has_its_own():
    stack, bits = stack_of(
        (straight(12.0), 10.0, 4.0), (vee(20.0, 90.0), 30.0, 4.0), (straight(12.0), 40.0, 4.0),
        (core_box(8.0), 20.0, 4.0, {"setup": "back"}), setups=(Setup("back", 180.0),),
    )  # fmt: skip
    plan = plan_of(stack, bits)
    whole = programs_of(plan)
    assert [len(program.stages) for program in whole] == [3, 1]
    assert [bit.id for bit in whole[0].bits] == ["straight 12", "vee 90"]
    parted = programs_of(plan, per_bit=True)
    assert [program.bits[0].id for program in parted] == [
        "straight 12", "vee 90", "straight 12", "core-box 8",
    ]  # fmt: skip
    rested = programs_of(plan_of(stack, bits, rests=(Rest(3, 0.4),)))
    assert [(len(program.stages), program.rests) for program in rested] == [
        (2, False), (1, True), (1, False),
    ]  # fmt: skip

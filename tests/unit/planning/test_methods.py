"""The other ways of making a molding: balls, roughing, cutters, costs, and the ratio."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import CoreBox, TaperBall
from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.cutting.wanted import wanted_in
from profilestack.errors import InputError
from profilestack.files.shipped import read_drawer
from profilestack.files.stack_file import read_stack
from profilestack.geometry.path import Path
from profilestack.jobs.methods import MethodsReport, methods_for
from profilestack.jobs.opening import find_bits
from profilestack.planning.ball_nose import ball_radius, chosen_ball, roughing_of, rows_of
from profilestack.planning.facing import Facing, facing_of
from profilestack.planning.made_to_order import LONGEST_EDGE, cutter_for, largest_diameter
from profilestack.planning.methods import Means, compare_methods
from profilestack.planning.planner import plan_stack
from profilestack.planning.scallops import step_on_flat
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS, Shop
from profilestack.planning.species import UNTOLD
from profilestack.planning.work import Work, break_even
from profilestack.stack import PathTarget, Stack, StraightRun
from tests.shop import board, lines, stack_of, straight
from tests.unit.planning.shipped import CROWN, EXAMPLES, OGEE


def ball(diameter: float, edge: float = 25.0, name: str = "") -> Bit:
    called = name or f"ball {diameter:g}"
    return Bit(called, CoreBox(diameter), edge, diameter, edge + 45.0)


def floor_stack(wide: float = 100.0) -> Stack:
    """A level floor, 2400 long, 5 below the face."""
    return stack_of(
        (straight(20.0), 10.0, 5.0, {"count": 6, "pitch": 16.0}),
        blank=board(wide, 30.0), target=lines((0.0, 25.0), (wide, 25.0)), run=StraightRun(2400.0),
    )[0]  # fmt: skip


def facing(stack: Stack) -> Facing:
    assert stack.target is not None
    return facing_of(stack.blank, wanted_in(stack.blank, stack.target, 0.001))


def shipped(name: str, **other: object) -> MethodsReport:
    stack = read_stack(EXAMPLES / f"{name}.stack.toml")
    return methods_for(stack, find_bits(stack)[0], **other)  # type: ignore[arg-type]


# -- what is seen from above ----------------------------------------------------------------------


def test_a_hollow_a_round_and_a_corner_are_seen() -> None:
    path = Path((0.0, 30.0)).line((10.0, 30.0)).line((10.0, 20.0)).line((20.0, 20.0))
    path = path.arc((30.0, 30.0), (20.0, 30.0), "ccw").line((40.0, 30.0))
    path = path.arc((48.0, 22.0), (40.0, 22.0), "cw").line((60.0, 22.0))
    stack, _ = stack_of(target=PathTarget(path))
    seen = facing(stack)
    # the face itself is the blank's own; the wall, the level, both arcs and the ledge are not
    arcs = math.pi / 2 * 10.0 + math.pi / 2 * 8.0
    assert seen.developed == pytest.approx(10.0 + 10.0 + 12.0 + arcs, abs=0.6)
    assert seen.smallest == pytest.approx(10.0)
    assert np.degrees(seen.corners) == pytest.approx([90.0, 90.0], abs=1.5)
    assert seen.depth == pytest.approx(10.0, abs=0.2)
    assert seen.hidden == 0.0


def test_what_hangs_over_hides() -> None:
    target = lines(
        (0.0, 30.0), (20.0, 30.0), (14.0, 20.0), (46.0, 20.0), (40.0, 30.0), (60.0, 30.0)
    )
    stack, _ = stack_of(target=target)
    seen = facing(stack)
    assert seen.hidden == pytest.approx(2 * math.hypot(6.0, 10.0) + 12.0, abs=1.5)
    assert seen.developed == pytest.approx(20.0, abs=0.6)


# -- the ball and its rows --------------------------------------------------------------------


def test_the_reference_pass_has_90_rows() -> None:
    """100 mm developed, R 3.175, cusp 0.05: 90 rows (computed); 72 min at 3000 mm/min."""
    stack = floor_stack()
    # no acceleration to speak of, and a shank that does not halve the feed
    machine = replace(USUAL_SHOP.machine, acceleration=1e6)
    stout = replace(ball(6.35), length=52.0)
    rows = rows_of(facing(stack), stout, 0.05, stack, replace(USUAL_SHOP, machine=machine), UNTOLD)
    assert rows.speed.feed == 3000.0
    assert rows.rows == 90
    assert rows.minutes == pytest.approx(72.0, rel=1e-3)
    assert rows.ridge_area == pytest.approx(100.0 * 0.05 / 3.0, rel=0.01)


def test_acceleration_and_turns_are_counted() -> None:
    stack = floor_stack()
    stout = replace(ball(6.35), length=52.0)
    quick = rows_of(facing(stack), stout, 0.05, stack, USUAL_SHOP, UNTOLD)
    # each row starts and stops: v/a; each step across of s from rest to rest: 2 sqrt(s/a)
    speed, acceleration = 50.0, USUAL_SHOP.machine.acceleration
    each = 2400.0 / speed + speed / acceleration + 2 * math.sqrt(quick.step / acceleration)
    assert quick.minutes == pytest.approx(90 * each / 60.0)


def test_the_largest_ball_that_follows_the_hollow_is_taken() -> None:
    path = Path((0.0, 30.0)).line((20.0, 30.0)).arc((40.0, 30.0), (30.0, 30.0), "ccw")
    stack, _ = stack_of(target=PathTarget(path.line((60.0, 30.0))))
    seen = facing(stack)
    balls = [ball(6.0), ball(20.0, 30.0), ball(24.0, 30.0), ball(12.0)]
    best = chosen_ball(seen, balls)
    assert best is not None
    assert best.id == "ball 20"  # its radius is the hollow's own
    assert chosen_ball(seen, [ball(24.0, 30.0)]) is None
    tapered = Bit("taper-ball 3", TaperBall(3.0, 5.0, 12.0), 25.0, 12.0, 70.0)
    assert chosen_ball(seen, [tapered, ball(4.0)]) == ball(4.0)
    assert chosen_ball(seen, [tapered]) == tapered


def test_core_boxes_are_no_balls() -> None:
    assert ball_radius(Bit("core-box-1in", CoreBox(25.4), 22.0, 12.7, 70.0)) is None
    assert ball_radius(ball(6.35, name="ball-1-4in")) == 3.175
    drawer = {bit.id for bit in read_drawer().bits if ball_radius(bit) is not None}
    assert drawer == {"ball-1-4in", "taper-ball-1-16in"}


def test_a_ball_that_fills_a_hollow_needs_one_row_there() -> None:
    path = Path((0.0, 30.0)).line((20.0, 30.0)).arc((40.0, 30.0), (30.0, 30.0), "ccw")
    stack, _ = stack_of(target=PathTarget(path.line((60.0, 30.0))))
    rows = rows_of(facing(stack), ball(20.0, 30.0), 0.05, stack, USUAL_SHOP, UNTOLD)
    assert rows.rows == 1
    narrow = rows_of(facing(stack), ball(8.0), 0.05, stack, USUAL_SHOP, UNTOLD)
    # on a hollow rows stand wider than on a flat
    assert 1 < narrow.rows < math.pi * 10.0 / step_on_flat(4.0, 0.05)


def test_a_slot_narrower_than_the_ball_is_told() -> None:
    target = lines(
        (0.0, 30.0), (25.0, 30.0), (25.0, 20.0), (30.0, 20.0), (30.0, 30.0), (60.0, 30.0)
    )
    stack, _ = stack_of(target=target)
    seen = facing(stack)
    assert rows_of(seen, ball(8.0), 0.05, stack, USUAL_SHOP, UNTOLD).narrow > 8.0
    assert rows_of(seen, ball(3.0), 0.05, stack, USUAL_SHOP, UNTOLD).narrow == 0.0


def test_roughing_counts_lanes_and_levels() -> None:
    stack = floor_stack()
    rough = roughing_of(facing(stack), [straight(20.0)], stack, USUAL_SHOP, UNTOLD)
    assert rough is not None
    # 5 deep less the allowance of 0.5: one level of at most 6.5; lanes of 17 over 100 and beyond
    assert rough.levels == 1
    assert rough.travels == math.ceil((100.25 - 20.0) / 17.0 + 1.0)


# -- the cutter made to order ---------------------------------------------------------------------


def test_the_spindle_bounds_the_cutter() -> None:
    assert largest_diameter(USUAL_SHOP) == pytest.approx(133.3, abs=0.1)  # 12,000 x 88.9 / 8,000
    slow = USUAL_SHOPS["spindle-moulder"]
    assert largest_diameter(slow) > 300.0
    deep = lines((0.0, 120.0), (40.0, 120.0), (40.0, 30.0), (160.0, 30.0), (160.0, 120.0),
                 (200.0, 120.0))  # fmt: skip
    stack, _ = stack_of(target=deep, blank=board(200.0, 120.0))
    cutter = cutter_for(facing(stack), stack, USUAL_SHOP, UNTOLD, 9000.0)
    assert "wider than the spindle turns" in cutter.trouble
    wide = lines((0.0, 30.0), (10.0, 30.0), (10.0, 24.0), (150.0, 24.0), (150.0, 30.0),
                 (160.0, 30.0))  # fmt: skip
    stack, _ = stack_of(target=wide, blank=board(160.0, 30.0))
    cutter = cutter_for(facing(stack), stack, USUAL_SHOP, UNTOLD, 800.0)
    assert cutter.edge > LONGEST_EDGE
    assert "no edge of that length" in cutter.trouble


def test_its_steps_keep_to_the_machine() -> None:
    stack = read_stack(OGEE)
    species = USUAL_SHOP.wood(stack.blank.species)
    seen = facing(stack)
    few = cutter_for(seen, stack, USUAL_SHOP, species, 100.0)
    many = cutter_for(seen, stack, USUAL_SHOP, species, 400.0)
    assert 1 <= few.steps < many.steps
    # every step but the last takes at most what the machine takes in one travel
    rest = 400.0 - seen.developed * 0.6
    assert many.steps - 1 == math.ceil(rest / USUAL_SHOP.machine.chip_section)
    assert many.power < many.power_there * USUAL_SHOP.load


def test_knives_are_priced_by_their_width() -> None:
    stack = read_stack(CROWN)
    moulder = USUAL_SHOPS["spindle-moulder"]
    cutter = cutter_for(facing(stack), stack, moulder, moulder.wood("poplar"), 400.0)
    assert cutter.trouble == ""
    assert cutter.price == pytest.approx(50.0 * cutter.edge / 25.4)
    assert (cutter.wait, cutter.setting) == (7.0, 75.0)


# -- costs ------------------------------------------------------------------------------------


def test_break_even_is_where_both_cost_the_same() -> None:
    stack = floor_stack()
    dear = Work(4, ("face",), 5.0, 10.0, 2.0)
    bought = Work(1, ("face",), 0.0, 3.0, 2.0, price=300.0)
    length = break_even(dear, bought, stack, USUAL_SHOP)
    assert length is not None
    pieces = length / 2400.0
    costs = [fixed + pieces * each for fixed, each in
             (work.fixed_and_each(stack, USUAL_SHOP) for work in (dear, bought))]  # fmt: skip
    assert costs[0] == pytest.approx(costs[1])
    assert break_even(bought, dear, stack, USUAL_SHOP) is None
    more = math.ceil(pieces) + 1
    assert bought.cost(stack, USUAL_SHOP, more) < dear.cost(stack, USUAL_SHOP, more)


def test_minutes_are_the_trades_own_sums() -> None:
    """10 pieces, 4 bits: 135 min with all bits on each piece, 72 with one bit through all (C).

    The quicker of both is taken; the sums are those of the trade's table: 3 a change, 1.5 a piece.
    """
    stack = floor_stack()
    parts = Work(4, ("face",), 0.0, 0.0, 0.0).parts(stack, USUAL_SHOP, 10)
    assert parts.changes == 4 * (3.0 + 10 * 1.5) == 72.0
    assert 10 * (4 * 3.0 + 1.5) == 135.0


# -- the whole ------------------------------------------------------------------------------------


def test_the_stacked_way_is_the_plan() -> None:
    stack = read_stack(OGEE)
    bits = find_bits(stack)[0]
    report = methods_for(stack, bits)
    plan = report.methods.plan
    stacked = report.methods.methods[0]
    parts = stacked.work.parts(stack, USUAL_SHOP, stack.run.pieces)
    assert parts.total == pytest.approx(plan.minutes.total, abs=1e-9)
    assert parts.cutting == pytest.approx(plan.minutes.cutting, abs=1e-9)
    assert parts.setups == plan.minutes.setups
    assert stacked.ridge_max == compare(cut_stack(stack, bits)).leftover.max  # type: ignore[union-attr]


def test_the_crown_is_compared_with_its_hidden_sides_kept() -> None:
    report = shipped("cornice/crown")
    methods = report.methods
    assert {step.setup for step in methods.kept} == {"back"}
    assert methods.cusp == pytest.approx(0.1797, abs=1e-3)  # as proud as the stacked cut leaves
    rows = methods.method("ball-nose")
    assert rows is not None
    assert rows.ball is not None
    assert rows.ball.ball.id == "ball-1-4in"
    assert rows.ball.left_aside == 3
    assert rows.work.setups == ("back", "face")
    assert report.ratios is not None
    assert report.ratios.one < report.ratios.batch < report.ratios.cutting
    assert report.ratios.cutting < report.ratios.finishing


def test_the_ratio_moves_as_it_must() -> None:
    report = shipped("ogee/small")
    assert report.ratios is not None
    moved = {each.words: each for each in report.ratios.moved}
    low, high = moved["cusp"].low_ratio, moved["cusp"].high_ratio
    assert low > report.ratios.batch > high  # a finer cusp asks for more rows
    assert moved["ball"].low_ratio > report.ratios.batch > moved["ball"].high_ratio
    assert moved["finishing feed"].low_ratio > report.ratios.batch
    assert moved["number of pieces"].low_ratio == pytest.approx(report.ratios.one)
    assert moved["bit changes"].high_ratio < report.ratios.batch
    reaches = [each.reach for each in report.ratios.moved]
    assert reaches == sorted(reaches, reverse=True)
    assert report.ratios.finishing > 20.0  # of the 36 to 80 of common practice it has the order


def test_a_given_cusp_holds() -> None:
    coarse, fine = (shipped("ogee/small", cusp=cusp) for cusp in (0.2, 0.02))
    rows = [report.methods.method("ball-nose").ball.rows for report in (coarse, fine)]  # type: ignore[union-attr]
    assert rows[1] / rows[0] == pytest.approx(math.sqrt(10.0), rel=0.1)
    with pytest.raises(InputError, match="cusp"):
        shipped("ogee/small", cusp=0.0)


def test_the_hybrid_makes_what_no_bit_reaches() -> None:
    report = shipped("casing/as-sampled")
    hybrid = report.methods.method("hybrid")
    assert hybrid is not None
    assert hybrid.ball is not None
    stacked = report.methods.methods[0]
    assert hybrid.work.runs == stacked.work.runs + 1
    assert hybrid.work.finishing > stacked.work.finishing
    assert hybrid.work.sanding < stacked.work.sanding
    assert hybrid.ball.developed < 10.0
    assert shipped("casing/adapted").methods.method("hybrid") is None


def test_without_a_target_nothing_is_compared() -> None:
    stack, bits = stack_of((straight(12.0), 30.0, 5.0))
    plan = plan_stack(stack, bits)
    with pytest.raises(InputError, match="no wanted profile"):
        compare_methods(plan, None, None, Means(()))


def test_a_slower_shop_takes_longer() -> None:
    slow = Shop(finish_feed=1000.0, rough_feed=1000.0)
    stacked = [shipped("ogee/small", shop=shop).methods.methods[0] for shop in (USUAL_SHOP, slow)]
    assert stacked[1].work.finishing > stacked[0].work.finishing

"""Minutes, by hand: all with the usual figures of a shop (common practice, from memory)."""

from __future__ import annotations

import math

import pytest

from profilestack.cutting.comparison import compare
from profilestack.planning.minutes import length_of, minutes_of, steps_of
from profilestack.planning.shop import Shop, step_depth
from profilestack.stack import (
    Blank,
    CurvedRun,
    Rectangle,
    Round,
    Setup,
    StraightRun,
    TurnedRun,
)
from tests.shop import core_box, cut, lines, straight

FACE = (straight(10.0), 20.0, 4.0)
LANE = (straight(10.0), 30.0, 4.0)
HOLLOW = (core_box(12.0), 45.0, 5.0)


def test_a_small_stack_by_hand() -> None:
    done = cut(FACE, LANE, HOLLOW, run=StraightRun(2400.0, 3))
    minutes = minutes_of(done, None)
    # two bits, three pieces. All on each piece: 3 x (2 x 3 + 1.5) = 22.5; one bit through all
    # pieces: 2 x (3 + 3 x 1.5) = 15
    assert minutes.changes == pytest.approx(15.0)
    # one setup: a test piece alone
    assert minutes.setups == pytest.approx(8.0)
    # each pass in one depth: 2.4 m at 3 m/min and 0.3 for the way back
    assert minutes.cutting == pytest.approx(3 * 3 * (0.8 + 0.3))
    # 1.75 a metre
    assert minutes.sanding == pytest.approx(3 * 2.4 * 1.75)
    assert minutes.total == pytest.approx(15.0 + 8.0 + 9.9 + 12.6)


def test_for_one_piece_all_bits_are_taken_on_it() -> None:
    minutes = minutes_of(cut(FACE, HOLLOW, run=StraightRun(2400.0, 1)), None)
    # 2 x 3 + 1.5 = 7.5 against 2 x (3 + 1.5) = 9
    assert minutes.changes == pytest.approx(7.5)


def test_a_bit_that_comes_back_is_changed_again() -> None:
    apart = minutes_of(cut(FACE, HOLLOW, LANE), None)
    together = minutes_of(cut(FACE, LANE, HOLLOW), None)
    assert apart.changes - together.changes == pytest.approx(3.0)


def test_setups_cost_fixing_a_wedge_and_a_test_piece() -> None:
    setups = (Setup("back", 180.0), Setup("tipped", 30.0))
    passes = (FACE, (straight(10.0), 20.0, 4.0, {"setup": "back"}),
              (straight(10.0), 20.0, 8.0, {"setup": "tipped"}))  # fmt: skip
    minutes = minutes_of(cut(*passes, setups=setups, run=StraightRun(1000.0, 4)), None)
    # two more setups: each 15 once and 3 a piece; one wedge 40; three test pieces 8 each
    assert minutes.setups == pytest.approx(2 * (15.0 + 4 * 3.0) + 40.0 + 3 * 8.0)


def test_deep_passes_are_taken_in_steps() -> None:
    # D/2 in hardwood up to 8: a 10 mm straight 4.0 deep in one, 16 deep in ceil(16 / 5) = 4
    assert (step_depth(10.0), step_depth(19.0), step_depth(30.0), step_depth(50.0)) == (
        5.0, 8.0, 6.0, 4.0,
    )  # fmt: skip
    done = cut((straight(10.0), 20.0, 16.0), (straight(10.0), 20.0, 20.0))
    # the second one meets 4 mm of stock only
    assert [steps_of(done, single) for single in done.passes] == [4, 1]


def test_relief_passes_run_at_the_rough_feed_and_repeats_count() -> None:
    plain = minutes_of(cut(FACE, run=StraightRun(2400.0)), None)
    relief = minutes_of(cut((*FACE, {"relief": True}), run=StraightRun(2400.0)), None)
    assert plain.cutting - relief.cutting == pytest.approx(2400.0 / 3000.0 - 2400.0 / 4000.0)
    twice = minutes_of(cut((*FACE, {"count": 2, "pitch": 15.0}), run=StraightRun(2400.0)), None)
    assert twice.cutting == pytest.approx(2.0 * plain.cutting)


def test_what_stands_has_to_be_sanded() -> None:
    target = lines(
        (0.0, 30.0), (15.0, 30.0), (15.0, 26.0), (27.0, 26.0), (27.0, 30.0), (60.0, 30.0)
    )
    done = cut(FACE, target=target, run=StraightRun(2400.0))
    comparison = compare(done)
    assert comparison is not None
    # a strip 2 wide and 4 high stays: 1.5 min more per metre and mm2
    assert comparison.leftover.area == pytest.approx(8.0)
    assert minutes_of(done, comparison).sanding == pytest.approx(2.4 * (1.75 + 1.5 * 8.0))


def test_the_way_along_curved_and_turned_parts() -> None:
    board = Blank(Rectangle(60.0, 30.0))
    assert length_of(cut(FACE, blank=board, run=StraightRun(700.0))) == 700.0
    # along the middle of the blank, 60 degrees at 900 + 30
    assert length_of(cut(FACE, blank=board, run=CurvedRun(900.0, 60.0))) == pytest.approx(
        math.radians(60.0) * 930.0
    )
    # once round the middle of the blank that is half the section: 2 pi x 15 x 2
    assert length_of(cut(FACE, blank=board, run=TurnedRun())) == pytest.approx(math.tau * 30.0)
    rod = Blank(Round(50.0))
    assert length_of(cut(FACE, blank=rod, run=CurvedRun(100.0, 90.0))) == pytest.approx(
        math.radians(90.0) * 125.0
    )


def test_a_shops_own_figures_are_used() -> None:
    shop = Shop(change=1.0, refix=0.5, test=2.0, back=0.0, finish_feed=6000.0, sanding=0.0)
    minutes = minutes_of(cut(FACE, HOLLOW, run=StraightRun(3000.0)), None, shop)
    assert minutes.changes == pytest.approx(2.5)
    assert minutes.setups == pytest.approx(2.0)
    assert minutes.cutting == pytest.approx(2 * 0.5)
    assert minutes.sanding == 0.0

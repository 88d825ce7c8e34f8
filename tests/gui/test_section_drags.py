"""Passes are dragged over the section: axes, what holds them, giving up, turned setups."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.desktop.window import Window
from profilestack.stack import Pass, Setup
from tests.gui.benches import ALT, SHIFT, TOP, HandOver, bench_on, board
from tests.gui.section_hands import HALF_STEP, board_shown, numbers


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return board_shown(qtbot)


@pytest.fixture
def hand(bench: Bench) -> HandOver:
    return HandOver(bench.section, bench)


def test_a_drag_moves_offset_and_depth_by_what_the_axis_says(bench: Bench, hand: HandOver) -> None:
    before = numbers(bench)
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(37.0, -21.0), ALT)
    scale = bench.axis.scale
    expected = (before[0] + 37.0 / scale, before[1] - 21.0 / scale)
    assert numbers(bench) == pytest.approx(expected, abs=HALF_STEP)
    assert bench.document.session.undo_label == "Move pass 1"
    assert bench.document.chosen == (0,)


def test_a_drag_is_one_step_and_shows_itself_before_it_is_one(bench: Bench, hand: HandOver) -> None:
    stack = bench.document.stack
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(20.0, 0.0), ALT)
    hand.move(begin + QPointF(40.0, 9.0), ALT)
    assert bench.document.stack != stack
    assert bench.document.session.settled is stack
    assert bench.document.session.undo_label is None
    hand.release()
    bench.document.undo()
    assert bench.document.stack is stack
    assert bench.document.session.undo_label is None


def test_shift_keeps_to_the_longer_way(bench: Bench, hand: HandOver) -> None:
    offset, depth = numbers(bench)
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(40.0, 6.0), SHIFT | ALT)
    assert numbers(bench)[1] == depth
    assert numbers(bench)[0] == pytest.approx(offset + 40.0 / bench.axis.scale, abs=HALF_STEP)
    begin = hand.over(numbers(bench)[0], 35.0)
    moved = numbers(bench)[0]
    hand.drag(begin, begin + QPointF(4.0, 30.0), SHIFT | ALT)
    assert numbers(bench)[0] == moved
    assert numbers(bench)[1] == pytest.approx(depth + 30.0 / bench.axis.scale, abs=HALF_STEP)


def test_a_pass_comes_to_rest_on_the_wanted_profile_and_alt_lets_go(
    bench: Bench, hand: HandOver
) -> None:
    scale = bench.axis.scale
    begin = hand.over(20.3, 35.0)
    end = begin + QPointF(40.0, (15.0 - 9.7) * scale + 5.0)
    hand.press(begin)
    hand.move(end)
    held = bench.section.move_now
    assert held is not None
    assert held.snap.depth_to == "touches the wanted profile"
    assert numbers(bench)[1] == pytest.approx(TOP - 25.0, abs=2e-4)
    hand.move(end, ALT)
    assert numbers(bench)[1] == pytest.approx(15.0 + 5.0 / scale, abs=HALF_STEP)
    hand.move(end)
    hand.release()
    assert bench.document.report is not None
    assert bench.document.report.comparison is not None
    assert bench.document.report.comparison.overcut_worst < 0.002


def test_what_holds_a_pass_is_told(bench: Bench, hand: HandOver, qtbot: QtBot) -> None:
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    with qtbot.waitSignal(bench.held_changed, check_params_cb=lambda words: "pass 2" in words):
        hand.move(begin + QPointF((55.3 - 20.3) * bench.axis.scale, -20.0))
    with qtbot.waitSignal(bench.held_changed, check_params_cb=lambda words: words == ""):
        hand.release()


def test_escape_gives_a_drag_up(bench: Bench, hand: HandOver, qtbot: QtBot) -> None:
    stack = bench.document.stack
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(50.0, 5.0))
    qtbot.keyClick(bench.section, Qt.Key.Key_Escape)
    assert bench.document.stack is stack
    hand.release()
    assert bench.document.stack is stack
    assert bench.document.session.undo_label is None


def test_after_escape_the_hand_moves_on_without_the_pass(
    bench: Bench, hand: HandOver, qtbot: QtBot
) -> None:
    stack = bench.document.stack
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(50.0, 5.0))
    qtbot.keyClick(bench.section, Qt.Key.Key_Escape)
    hand.move(begin + QPointF(80.0, 9.0))
    hand.release()
    assert bench.document.stack is stack


def test_an_undo_in_the_middle_of_a_drag_ends_it(bench: Bench, hand: HandOver) -> None:
    first = bench.document.stack
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(24.0, 0.0), ALT)
    begin = hand.over(numbers(bench)[0], 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(30.0, 0.0), ALT)
    bench.document.undo()
    assert bench.section.move_now is None
    hand.move(begin + QPointF(60.0, 0.0), ALT)
    hand.release()
    assert bench.document.stack is first
    assert bench.document.session.undo_label is None
    assert bench.document.session.redo_label == "Move pass 1"


def test_the_action_undo_lets_go_of_a_drag_and_of_no_more(window: Window) -> None:
    window.document.edit(board(), "Take the board")
    window.show()
    window.bench.fit()
    kept = window.document.stack
    hand = HandOver(window.bench.section, window.bench)
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(30.0, 0.0), ALT)
    assert window.document.stack != kept
    window.actions_by_name["undo"].trigger()
    assert window.document.stack is kept
    hand.move(begin + QPointF(60.0, 0.0), ALT)
    hand.release()
    assert window.document.stack is kept
    window.actions_by_name["undo"].trigger()
    assert window.document.session.redo_label == "Take the board"


def test_a_press_without_a_move_chooses_and_changes_nothing(bench: Bench, hand: HandOver) -> None:
    stack = bench.document.stack
    hand.drag(hand.over(55.3, 35.0), hand.over(55.3, 35.0) + QPointF(1.0, 0.0))
    assert bench.document.chosen == (1,)
    hand.press(hand.over(20.3, 35.0), keys=Qt.KeyboardModifier.ControlModifier)
    hand.release()
    assert bench.document.chosen == (0, 1)
    hand.press(hand.over(40.0, 10.0))
    hand.release()
    assert bench.document.chosen == ()
    assert bench.document.stack is stack


def test_chosen_passes_are_dragged_together(bench: Bench, hand: HandOver) -> None:
    bench.document.choose((0, 1))
    before = [numbers(bench, index) for index in (0, 1)]
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(24.0, -12.0), ALT)
    moved = [
        (now[0] - was[0], now[1] - was[1])
        for was, now in zip(before, (numbers(bench, 0), numbers(bench, 1)), strict=True)
    ]
    assert moved[0] == pytest.approx(moved[1])
    assert moved[0][0] == pytest.approx(24.0 / bench.axis.scale, abs=HALF_STEP)
    assert bench.document.session.undo_label == "Move passes 1 and 2"


@pytest.mark.parametrize(
    ("angle", "way", "expected"),
    [
        # turned over: right on the screen is toward the left side as it lies, up is deeper
        (180.0, QPointF(30.0, 0.0), (-1.0, 0.0)),
        (180.0, QPointF(0.0, -30.0), (0.0, 1.0)),
        # right side up: moving right on the screen lifts the bit, moving up takes it to the left
        (90.0, QPointF(30.0, 0.0), (0.0, -1.0)),
        (90.0, QPointF(0.0, -30.0), (-1.0, 0.0)),
    ],
)
def test_a_pass_of_a_turned_setup_moves_along_its_own_axes(
    qtbot: QtBot, angle: float, way: QPointF, expected: tuple[float, float]
) -> None:
    setups = (Setup("other", angle),)
    bench = bench_on(board(Pass("flat", 20.0, 10.0, setup="other"), target=None, setups=setups))
    qtbot.addWidget(bench)
    hand = HandOver(bench.section, bench)
    assert bench.document.report is not None
    middle = bench.document.report.cut.passes[0]
    region = bench.document.report.cut.removed_by(middle).centroid
    begin = hand.over(region.x, region.y)
    hand.drag(begin, begin + way, ALT)
    moved = 30.0 / bench.axis.scale
    wanted = (20.0 + expected[0] * moved, 10.0 + expected[1] * moved)
    assert numbers(bench) == pytest.approx(wanted, abs=HALF_STEP)


def test_the_words_of_the_place_are_those_of_what_is_shown(bench: Bench, hand: HandOver) -> None:
    """Whatever ends the move: the words do not speak of a cut that is no more."""
    told: list[str] = []
    bench.place_told.connect(told.append)
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(0.0, 60.0), ALT)
    during = told[-1]
    bench.section.hands.give_up()
    assert told[-1] == bench.place_words != during
    hand.release()
    hand.drag(begin, begin + QPointF(0.0, 60.0), ALT)
    cut = told[-1]
    bench.document.undo()
    assert told[-1] == bench.place_words != cut

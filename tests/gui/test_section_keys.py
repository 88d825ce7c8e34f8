"""Numbers are typed over the section, and arrows nudge passes."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPointF, Qt
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.session.pass_edits import nudge_step
from profilestack.stack import Pass, Setup
from tests.gui.benches import HandOver, bench_on, board
from tests.gui.section_hands import board_shown, numbers


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return board_shown(qtbot)


@pytest.fixture
def hand(bench: Bench) -> HandOver:
    return HandOver(bench.section, bench)


def test_numbers_can_be_typed_while_dragging(bench: Bench, hand: HandOver, qtbot: QtBot) -> None:
    begin = hand.over(20.3, 35.0)
    hand.press(begin)
    hand.move(begin + QPointF(30.0, 0.0))
    qtbot.keyClicks(bench.section, "31.25")
    assert numbers(bench)[0] == 31.25
    hand.move(begin + QPointF(60.0, 3.0))
    assert numbers(bench)[0] == 31.25, "a typed number no longer follows the hand"
    qtbot.keyClick(bench.section, Qt.Key.Key_Tab)
    qtbot.keyClicks(bench.section, "1/2 in")
    assert numbers(bench) == (31.25, 12.7)
    qtbot.keyClick(bench.section, Qt.Key.Key_Return)
    assert bench.section.move_now is None
    assert numbers(bench) == (31.25, 12.7)
    assert bench.document.session.undo_label == "Move pass 1"


def test_numbers_are_typed_without_a_mouse(bench: Bench, qtbot: QtBot) -> None:
    qtbot.keyClick(bench.section, Qt.Key.Key_N)
    qtbot.keyClick(bench.section, Qt.Key.Key_N)
    assert bench.document.chosen == (1,)
    qtbot.keyClick(bench.section, Qt.Key.Key_P)
    assert bench.document.chosen == (0,)
    qtbot.keyClicks(bench.section, "188")
    qtbot.keyClick(bench.section, Qt.Key.Key_Backspace)
    qtbot.keyClick(bench.section, Qt.Key.Key_Tab)
    qtbot.keyClicks(bench.section, "7.5")
    qtbot.keyClick(bench.section, Qt.Key.Key_Enter)
    assert numbers(bench) == (18.0, 7.5)
    bench.document.undo()
    assert numbers(bench) == (20.3, 9.7)
    qtbot.keyClicks(bench.section, "99")
    qtbot.keyClick(bench.section, Qt.Key.Key_Escape)
    assert numbers(bench) == (20.3, 9.7)


def test_arrows_nudge_and_a_row_of_nudges_is_one_step(bench: Bench, qtbot: QtBot) -> None:
    step = nudge_step("mm")
    bench.document.choose((0,))
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Down):
        qtbot.keyClick(bench.section, key)
    assert numbers(bench) == pytest.approx((20.3 + 2 * step, 9.7 + step))
    qtbot.keyClick(bench.section, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    assert numbers(bench)[0] == pytest.approx(20.3 - 8 * step)
    qtbot.keyClick(bench.section, Qt.Key.Key_Up, Qt.KeyboardModifier.ControlModifier)
    assert numbers(bench)[1] == pytest.approx(9.7 + 0.9 * step)
    bench.document.undo()
    assert numbers(bench) == (20.3, 9.7)
    assert bench.document.session.undo_label is None


def test_a_nudge_never_takes_a_depth_below_its_least(bench: Bench, qtbot: QtBot) -> None:
    bench.document.edit(board(Pass("flat", 20.0, 0.05)), "Shallow")
    bench.document.choose((0,))
    with qtbot.waitSignal(bench.document.said):
        qtbot.keyClick(bench.section, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert numbers(bench) == (20.0, 0.05)


def test_arrows_move_a_turned_pass_the_way_they_point(qtbot: QtBot) -> None:
    setups = (Setup("back", 180.0),)
    bench = bench_on(board(Pass("flat", 20.0, 10.0, setup="back"), target=None, setups=setups))
    qtbot.addWidget(bench)
    bench.document.choose((0,))
    before = bench.document.report
    qtbot.keyClick(bench.section, Qt.Key.Key_Right)
    after = bench.document.report
    assert before is not None
    assert after is not None
    moved = after.cut.strokes[0].region.centroid.x - before.cut.strokes[0].region.centroid.x
    assert moved == pytest.approx(nudge_step("mm"))

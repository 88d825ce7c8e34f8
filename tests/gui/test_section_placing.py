"""Bits are placed on the section: carried there, or by keyboard."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, Qt
from PySide6.QtGui import QDragEnterEvent, QDragMoveEvent, QDropEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.desktop.carrying import BIT
from tests.gui.benches import ALT, NO_KEYS, TOP, HandOver, bench_on, board
from tests.gui.section_hands import HALF_STEP, board_shown, numbers


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return board_shown(qtbot)


@pytest.fixture
def hand(bench: Bench) -> HandOver:
    return HandOver(bench.section, bench)


def carried(bit_id: str) -> QMimeData:
    data = QMimeData()
    data.setData(BIT, bit_id.encode())
    return data


@pytest.mark.filterwarnings("ignore:Function. .QDrag:DeprecationWarning")  # newer Qt
def test_a_bit_dropped_on_the_section_becomes_a_pass(bench: Bench, hand: HandOver) -> None:
    stack, view, data = bench.document.stack, bench.section, carried("nose")
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    begin, end = hand.over(38.0, 33.0).toPoint(), hand.over(44.0, 31.0)
    entered = QDragEnterEvent(begin, copy, data, left, NO_KEYS)
    QApplication.sendEvent(view, entered)
    assert entered.isAccepted()
    QApplication.sendEvent(view, QDragMoveEvent(end.toPoint(), copy, data, left, ALT))
    assert len(bench.document.stack.passes) == 3, "it is shown while it is carried"
    assert bench.document.session.settled is stack
    QApplication.sendEvent(view, QDropEvent(end, copy, data, left, ALT))
    assert bench.document.stack.passes[2].bit == "nose"
    # its tip is under the pointer
    assert numbers(bench, 2) == pytest.approx((44.0, TOP - 31.0), abs=HALF_STEP + 1e-6)
    assert bench.document.chosen == (2,)
    assert bench.document.session.undo_label == "Place nose"
    bench.document.undo()
    assert bench.document.stack is stack


@pytest.mark.filterwarnings("ignore:Function. .QDrag:DeprecationWarning")  # newer Qt
def test_a_bit_carried_away_leaves_nothing(bench: Bench, hand: HandOver) -> None:
    from PySide6.QtGui import QDragLeaveEvent

    stack, data = bench.document.stack, carried("nose")
    at = hand.over(38.0, 33.0).toPoint()
    copy, left = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton
    QApplication.sendEvent(bench.section, QDragEnterEvent(at, copy, data, left, NO_KEYS))
    assert bench.document.stack is not stack
    QApplication.sendEvent(bench.section, QDragLeaveEvent())
    assert bench.document.stack is stack
    assert bench.section.move_now is None


def test_a_bit_is_placed_by_keyboard_in_the_middle_as_deep_as_it_may_go(bench: Bench) -> None:
    assert bench.place_bit("nose")
    assert numbers(bench, 2) == pytest.approx((40.0, TOP - 25.0), abs=2e-4)
    assert bench.document.session.undo_label == "Place nose"
    assert not bench.place_bit("no such bit")


def test_a_shipped_bit_is_found_and_a_document_without_target_takes_it(qtbot: QtBot) -> None:
    bench = bench_on(board(target=None))
    qtbot.addWidget(bench)
    shipped = next(iter(bench.document.session.bits_at_hand.drawer))
    assert bench.place_bit(shipped)
    placed = bench.document.stack.passes[2]
    assert (placed.bit, placed.offset) == (shipped, 40.0)
    assert 0.0 < placed.depth <= TOP / 4.0

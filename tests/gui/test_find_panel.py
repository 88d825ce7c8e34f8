"""The panel "Ways to cut it": asked by mouse or keys, stopped, refused."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.find.looking import FIND, LOOKING
from profilestack.desktop.find.panel import FindPanel
from profilestack.desktop.waiting import STOP
from profilestack.errors import Cancelled
from profilestack.jobs.find import FindResult
from profilestack.progress import Progress
from profilestack.session.session import Session
from profilestack.stack import Setup
from tests.gui.finder_hands import looked, shown, small_stack


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return Document(Session(small_stack()))


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[FindPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


def test_by_keyboard_alone(qtbot: QtBot, panel: FindPanel, document: Document) -> None:
    panel.activateWindow()
    panel.form.bits.setFocus()
    for _ in range(40):
        if panel.looking.button.hasFocus():
            break
        qtbot.keyClick(QApplication.focusWidget() or panel, Qt.Key.Key_Tab)
    assert panel.looking.button.hasFocus()
    with qtbot.waitSignal(panel.background.ended, timeout=20_000):
        qtbot.keyClick(panel.looking.button, Qt.Key.Key_Space)
    chart, card = panel.ways.chart, panel.ways.cards[0]
    qtbot.waitUntil(card.isVisible)
    qtbot.keyClick(panel.looking.button, Qt.Key.Key_Tab)
    assert chart.hasFocus()
    qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert document.stack.passes
    qtbot.keyClick(chart, Qt.Key.Key_Tab)
    assert card.hasFocus()
    assert document.stack.passes
    assert document.session.undo_label is None
    qtbot.keyClick(card, Qt.Key.Key_Return)
    assert document.session.undo_label == "Take the way of fewest passes"


def test_progress_is_shown_late_and_cancel_gives_the_best_so_far(
    qtbot: QtBot, panel: FindPanel, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked(qtbot, panel)
    best = panel.result
    assert best is not None

    def slow(asked: object, progress: Progress) -> FindResult:
        progress.report(0.4, "looking for the fewest bits")
        while not progress.is_stopped():
            pass
        return replace(best, stopped=True)

    monkeypatch.setattr("profilestack.desktop.find.looking._find", slow)
    panel.looking.late.setInterval(50)
    qtbot.mouseClick(panel.looking.button, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(panel.looking.bar.isVisible)
    qtbot.waitUntil(lambda: panel.looking.bar.value() == 40)
    assert panel.looking.doing.text() == "Looking for the fewest bits"
    with qtbot.waitSignal(panel.background.ended):
        qtbot.mouseClick(panel.looking.button, Qt.MouseButton.LeftButton)
    assert "Stopped early" in panel.message.text()
    assert panel.looking.button.text() == FIND
    assert panel.looking.state.text() == ""
    assert panel.looking.bar.isHidden()


def test_the_button_cancels_at_once_and_stays_where_it_is(
    qtbot: QtBot, panel: FindPanel, monkeypatch: pytest.MonkeyPatch
) -> None:
    def endless(asked: object, progress: Progress) -> FindResult:
        while not progress.is_stopped():
            pass
        raise Cancelled

    monkeypatch.setattr("profilestack.desktop.find.looking._find", endless)
    button, state = panel.looking.button, panel.looking.state
    room = button.geometry()
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert (button.text(), state.text()) == (STOP, LOOKING)
    assert "Escape" in button.toolTip()
    QApplication.processEvents()
    assert button.geometry() == room
    assert state.geometry().left() > button.geometry().right()
    assert abs(state.geometry().center().y() - room.center().y()) <= 1
    assert panel.looking.late.isActive(), "long before progress is shown"
    with qtbot.waitSignal(panel.background.ended):
        qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert panel.message.text() == "Cancelled before anything was found."
    assert (button.text(), state.text()) == (FIND, "")
    assert "Escape" not in button.toolTip()


def test_escape_cancels_and_nothing_found_is_said(
    qtbot: QtBot, panel: FindPanel, monkeypatch: pytest.MonkeyPatch
) -> None:
    def endless(asked: object, progress: Progress) -> FindResult:
        while not progress.is_stopped():
            pass
        raise Cancelled

    monkeypatch.setattr("profilestack.desktop.find.looking._find", endless)
    panel.start()
    with qtbot.waitSignal(panel.background.ended):
        qtbot.keyClick(panel.looking.button, Qt.Key.Key_Escape)
    assert panel.message.text() == "Cancelled before anything was found."
    assert panel.ways.cards == []


def test_wrong_number_stays_at_its_field_and_nothing_starts(qtbot: QtBot, panel: FindPanel) -> None:
    panel.form.leftover.setFocus()
    panel.form.leftover.setText("")
    qtbot.keyClicks(panel.form.leftover, "a lot")
    panel.start()
    assert not panel.background.is_busy
    assert panel.form.leftover.text() == "a lot"
    assert "is not a length" in panel.form._rows["leftover"].trouble.text()


def test_limits_that_leave_no_way_say_what_is_needed(qtbot: QtBot, panel: FindPanel) -> None:
    panel.form.passes.value = 1
    looked(qtbot, panel)
    assert panel.ways.cards == []
    assert "it takes at least" in panel.message.text()
    assert panel.ways.chart.isHidden()


def test_title_typed_while_it_looks_is_kept(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    looked(qtbot, panel)
    document.edit(replace(document.stack, title="Another name"), "Name it")
    panel.take(0)
    assert document.stack.title == "Another name"
    assert document.stack.passes


def test_setups_of_the_document_are_offered(panel: FindPanel, document: Document) -> None:
    document.edit(replace(document.stack, setups=(Setup("edge", 90.0),)), "Add a setup")
    wishes = panel.form.wishes()
    assert wishes is not None
    assert wishes.setups == ("face", "edge")
    panel.form._setups["edge"].setChecked(False)
    wishes = panel.form.wishes()
    assert wishes is not None
    assert wishes.setups == ("face",)


def test_without_a_profile_the_button_says_why(qtbot: QtBot, panel: FindPanel) -> None:
    document = panel.document
    document.edit(replace(document.stack, target=None), "Remove the wanted profile")
    assert not panel.looking.button.isEnabled()
    assert panel.looking.button.toolTip() == "Draw the wanted profile first"
    document.undo()
    assert panel.looking.button.isEnabled()


def test_units_are_those_of_the_document(qtbot: QtBot, panel: FindPanel) -> None:
    looked(qtbot, panel)
    panel.document.set_units("in")
    assert " in gouged" in panel.ways.cards[0].accessibleDescription()
    assert panel.form.leftover.placeholderText().endswith("in")


def test_library_of_a_file_can_be_used(panel: FindPanel) -> None:
    panel.form.offer_file("/somewhere/mine.bits.toml")
    wishes = panel.form.wishes()
    assert wishes is not None
    assert wishes.libraries == ("/somewhere/mine.bits.toml",)
    assert wishes.bits is None


def test_missing_library_is_told(qtbot: QtBot, panel: FindPanel) -> None:
    panel.form.offer_file("/somewhere/mine.bits.toml")
    with qtbot.waitSignal(panel.background.ended):
        panel.start()
    assert "/somewhere/mine.bits.toml" in panel.trouble.text()
    assert panel.result is None

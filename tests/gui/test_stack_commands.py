"""What is done to chosen passes by keys, buttons and the menu."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QMenu
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.stack_panel.cells import SECOND_ROLE, Column
from profilestack.desktop.stack_panel.panel import StackPanel
from tests.gui.stack_panel_hands import CTRL, Key, crown, press, shown, text


@pytest.fixture
def document(own_places: None) -> Document:
    return crown()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> StackPanel:
    return shown(qtbot, document)


def test_space_and_the_check_switch_passes(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.choose([1, 2])
    press(qtbot, panel, Key.Key_Space)
    assert [single.on for single in document.stack.passes[:4]] == [True, False, False, True]
    assert "off" in text(panel, 1, Column.BIT, SECOND_ROLE)
    assert document.session.undo_label == "Switch passes 2 and 3 off"
    press(qtbot, panel, Key.Key_Space)
    assert all(single.on for single in document.stack.passes)
    cell = panel.table.visualRect(panel.table.passes.index(3, Column.NUMBER))
    place = cell.topLeft() + QPoint(12, cell.height() // 2)
    qtbot.mouseClick(panel.table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert not document.stack.passes[3].on
    assert document.session.undo_label == "Switch pass 4 off"


def test_passes_are_deleted_duplicated_and_mirrored(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    before = document.stack
    document.choose([3, 4])
    press(qtbot, panel, Key.Key_Delete)
    assert len(document.stack.passes) == 9
    assert document.session.undo_label == "Delete passes 4 and 5"
    assert document.chosen == (3,)
    document.undo()
    assert document.stack == before
    document.choose([3])
    press(qtbot, panel, Key.Key_D, CTRL)
    assert document.stack.passes[4] == before.passes[3]
    assert document.chosen == (4,)
    press(qtbot, panel, Key.Key_M, CTRL | Qt.KeyboardModifier.ShiftModifier)
    assert document.stack.passes[4].offset == pytest.approx(84.0 - before.passes[3].offset)
    assert document.stack.passes[3] == before.passes[3]


def test_passes_are_copied_cut_out_and_pasted(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    before = document.stack
    document.choose([0, 9])
    press(qtbot, panel, Key.Key_C, CTRL)
    assert "[[pass]]" in QGuiApplication.clipboard().text()
    document.choose([5])
    press(qtbot, panel, Key.Key_V, CTRL)
    assert document.stack.passes[6:8] == (before.passes[0], before.passes[9])
    assert document.chosen == (6, 7)
    press(qtbot, panel, Key.Key_X, CTRL)
    assert document.stack == before
    assert document.session.undo_label == "Cut out passes 7 and 8"
    QGuiApplication.clipboard().setText("a shopping list")
    with qtbot.waitSignal(document.said) as said:
        press(qtbot, panel, Key.Key_V, CTRL)
    assert "holds no passes" in said.args[0]
    assert document.stack == before


def test_all_are_chosen_by_the_usual_key(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    press(qtbot, panel, Key.Key_A, CTRL)
    assert document.chosen == tuple(range(11))


def test_the_menu_has_every_command_with_its_key(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.choose([2])
    menu = panel.table.menu()
    qtbot.addWidget(menu)
    actions = {action.text(): action for action in menu.actions()}
    assert actions["Mirror"].shortcut().toString() == "Ctrl+Shift+M"
    assert all(action.isEnabled() for action in actions.values())
    actions["Rough out or finish"].trigger()
    assert not document.stack.passes[2].relief
    document.choose([])
    idle = panel.table.menu()
    qtbot.addWidget(idle)
    assert [a.text() for a in idle.actions() if a.isEnabled()] == ["Paste", "Choose all"]


def test_setups_are_chosen_from_the_menu_too(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.choose([4, 5])
    menu = panel.table.menu()
    qtbot.addWidget(menu)
    lies = {action.text(): action for action in menu.actions() if action.menu()}["Setup"].menu()
    assert isinstance(lies, QMenu)
    words = [action.text() for action in lies.actions()]
    assert words == ["face", "back, turned over", "tipped, tipped by -45°"]
    assert [action.isChecked() for action in lies.actions()] == [True, False, False]
    lies.actions()[1].trigger()
    assert [single.setup for single in document.stack.passes[4:6]] == ["back", "back"]
    document.undo()
    assert [single.setup for single in document.stack.passes[4:6]] == ["face", "face"]


def test_buttons_say_why_they_are_off(panel: StackPanel, document: Document) -> None:
    document.choose([])
    for button in panel.buttons.values():
        assert not button.isEnabled()
        assert "Choose a pass first." in button.toolTip()
    document.choose([0])
    assert not panel.buttons["Earlier"].isEnabled()
    assert "first already" in panel.buttons["Earlier"].toolTip()
    panel.buttons["Later"].click()
    assert document.chosen == (1,)
    assert panel.buttons["Earlier"].isEnabled()

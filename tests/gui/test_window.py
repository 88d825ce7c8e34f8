"""The window: actions, title, layout, theme, units, help."""

from __future__ import annotations

import gc
import sys
import threading
import weakref
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QMimeData, QPoint, Qt
from PySide6.QtGui import QGuiApplication, QKeySequence, QPalette
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from profilestack.desktop.about import AboutDialog
from profilestack.desktop.actions import ROWS, told
from profilestack.desktop.desk import Desk
from profilestack.desktop.help import TOPICS, HelpDialog, topic_of
from profilestack.desktop.panels import PLACES
from profilestack.desktop.theme import DARK, LIGHT
from profilestack.desktop.window import Window
from profilestack.stack import Pass


def retitled(window: Window, title: str) -> None:
    document = window.document
    document.edit(replace(document.stack, title=title), f"Name it {title}")


def with_passes(window: Window, count: int) -> None:
    document = window.document
    passes = tuple(Pass("straight-1-2in", 10.0 + 5.0 * n, 3.0 + n) for n in range(count))
    document.edit(replace(document.stack, passes=passes), "Add passes")


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_every_action_says_what_it_does_and_has_a_place(window: Window, row: object) -> None:
    from profilestack.desktop.action_row import ActionRow

    assert isinstance(row, ActionRow)
    action = window.actions_by_name[row.name]
    assert action.text().replace("&", "").strip()
    assert row.tooltip
    assert action.toolTip().startswith(row.tooltip)
    assert action in window.menus[row.menu].actions()


def test_no_two_actions_share_a_name_a_shortcut_or_a_letter_of_their_menu() -> None:
    names = [row.name for row in ROWS]
    assert len(names) == len(set(names))
    keys = [key.toString() for row in ROWS for key in row.shortcuts]
    assert len(keys) == len(set(keys))
    letters = [
        (row.menu, row.text[row.text.index("&") + 1].lower()) for row in ROWS if "&" in row.text
    ]
    assert sorted(letters) == sorted(set(letters))


def test_no_single_letter_is_a_shortcut() -> None:
    for row in ROWS:
        for key in row.shortcuts:
            text = key.toString()
            assert len(text) > 1, f"{row.name}: {text}"


@pytest.mark.parametrize(
    ("name", "key"),
    [
        ("new", "New"), ("open", "Open"), ("save", "Save"), ("save_as", "SaveAs"),
        ("close", "Close"), ("undo", "Undo"), ("redo", "Redo"), ("cut", "Cut"), ("copy", "Copy"),
        ("paste", "Paste"), ("delete", "Delete"), ("choose_all", "SelectAll"),
        ("zoom_in", "ZoomIn"), ("zoom_out", "ZoomOut"), ("help", "HelpContents"),
    ],
)  # fmt: skip
def test_standard_shortcuts_are_the_systems_own(window: Window, name: str, key: str) -> None:
    standard = getattr(QKeySequence.StandardKey, key)
    bound = QKeySequence.keyBindings(standard)
    assert bound
    assert set(bound) <= set(window.actions_by_name[name].shortcuts())


def test_a_tooltip_names_the_shortcut_and_why_it_cannot_be_done(window: Window) -> None:
    undo = window.actions_by_name["undo"]
    assert not undo.isEnabled()
    assert undo.toolTip() == "Take the last step back (Ctrl+Z). Not now: nothing was done yet"
    retitled(window, "crown")
    assert undo.isEnabled()
    assert undo.toolTip() == "Take the last step back (Ctrl+Z)"


def test_undo_and_redo_are_named_in_the_menu(window: Window, qtbot: QtBot) -> None:
    undo, redo = window.actions_by_name["undo"], window.actions_by_name["redo"]
    retitled(window, "A & B")
    assert undo.text() == "&Undo name it A && B"
    qtbot.keyClick(window, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.document.stack.title == ""
    assert (undo.text(), redo.text()) == ("&Undo", "&Redo name it A && B")
    qtbot.keyClick(window, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
    assert window.document.stack.title == "A & B"


def test_the_title_names_the_document_and_marks_what_is_not_saved(
    window: Window, tmp_path: Path
) -> None:
    assert (window.windowTitle(), window.isWindowModified()) == ("New board[*]", False)
    retitled(window, "Crown")
    assert (window.windowTitle(), window.isWindowModified()) == ("Crown[*]", True)
    window.document.undo()
    assert not window.isWindowModified()
    window.document.redo()
    window.document.save(tmp_path / "crown.stack.toml")
    assert (window.windowTitle(), window.isWindowModified()) == ("crown.stack.toml[*]", False)


def test_the_edit_menu_works_on_the_chosen_passes(window: Window) -> None:
    with_passes(window, 3)
    document, act = window.document, window.actions_by_name
    names = ("cut", "copy", "duplicate", "delete", "mirror", "switch", "earlier", "later")
    assert not any(act[name].isEnabled() for name in names)
    document.choose([0])
    assert not act["earlier"].isEnabled()
    assert act["earlier"].toolTip().endswith("Not now: it is cut first already")
    first = document.stack.passes[0]
    act["later"].trigger()
    assert document.stack.passes[1] == first
    assert document.chosen == (1,)
    assert document.session.undo_label == "Cut pass 1 later"
    act["switch"].trigger()
    assert [single.on for single in document.stack.passes] == [True, False, True]
    act["duplicate"].trigger()
    assert len(document.stack.passes) == 4
    act["delete"].trigger()
    assert len(document.stack.passes) == 3
    act["choose_all"].trigger()
    assert document.chosen == (0, 1, 2)


def test_passes_are_copied_from_one_window_to_another(window: Window, desk: Desk) -> None:
    with_passes(window, 2)
    window.document.choose([1])
    window.actions_by_name["copy"].trigger()
    other = desk.new(window)
    assert other is not window
    assert other.actions_by_name["paste"].isEnabled()
    other.actions_by_name["paste"].trigger()
    assert other.document.stack.passes == window.document.stack.passes[1:]


def test_delete_in_a_text_field_deletes_text_not_passes(window: Window, qtbot: QtBot) -> None:
    from PySide6.QtWidgets import QLineEdit

    with_passes(window, 2)
    window.document.choose([0, 1])
    field = window.docks["drawer"].findChild(QLineEdit)
    assert field is not None
    window.show_panel("drawer")
    field.setText("cove")
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    assert field.text() == ""
    assert len(window.document.stack.passes) == 2


def test_all_panels_can_be_hidden_and_come_back_where_they_were(window: Window) -> None:
    assert list(window.docks) == [place.name for place in PLACES]
    sides = {name: window.dockWidgetArea(dock) for name, dock in window.docks.items()}
    for dock in window.docks.values():
        dock.toggleViewAction().trigger()
    window.docks["stack"].setFloating(True)
    window.actions_by_name["reset_layout"].trigger()
    assert {name: window.dockWidgetArea(dock) for name, dock in window.docks.items()} == sides
    assert not any(dock.isHidden() or dock.isFloating() for dock in window.docks.values())
    assert [place.side for place in PLACES] == list(sides.values())


def test_the_layout_is_kept_for_the_next_window(window: Window, desk: Desk) -> None:
    window.docks["find"].hide()
    window.resize(780, 700)
    window.close()
    again = desk.new()
    assert again.docks["find"].isHidden()
    assert not again.docks["target"].isHidden()
    assert again.height() == 700


def test_the_theme_is_switched_while_windows_are_open(window: Window, desk: Desk) -> None:
    base = QPalette.ColorRole.Base
    window.actions_by_name["theme_dark"].trigger()
    assert QApplication.palette().color(base).name() == DARK.paper.lower()
    QApplication.processEvents()  # the windows are told when they are idle
    assert window.palette().color(base).name() == DARK.paper.lower()
    assert window.actions_by_name["theme_dark"].isChecked()
    assert desk.settings.theme == "dark"
    window.actions_by_name["theme_light"].trigger()
    assert QApplication.palette().color(base).name() == LIGHT.paper.lower()


def test_units_are_switched_in_all_windows_and_kept(window: Window, desk: Desk) -> None:
    other = desk.new(window)
    window = desk.windows[0]
    assert other.document.units == "mm"
    window.actions_by_name["units_in"].trigger()
    assert {each.document.units for each in desk.windows} == {"in"}
    assert other.actions_by_name["units_in"].isChecked()
    assert not other.document.session.is_modified
    assert desk.new(other).document.units == "in"


def test_zoom_actions_change_the_scale(window: Window) -> None:
    axis, act = window.axis, window.actions_by_name
    act["fit"].trigger()
    fitted = axis.scale
    act["zoom_in"].trigger()
    assert axis.scale > fitted
    act["fit"].trigger()
    assert axis.scale == pytest.approx(fitted)
    act["zoom_out"].trigger()
    assert axis.scale < fitted


@pytest.mark.parametrize("name", [place.name for place in PLACES])
def test_help_is_on_the_part_with_the_focus(window: Window, name: str) -> None:
    inner = window.docks[name].widget()
    child = QLabel("deep inside", inner)
    assert topic_of(child) == name
    assert name in TOPICS


@pytest.mark.parametrize("number", range(1, 2 + len(PLACES)))
def test_every_part_is_reached_by_the_keyboard(window: Window, qtbot: QtBot, number: int) -> None:
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.keyClick(window, Qt.Key.Key_0 + number, Qt.KeyboardModifier.ControlModifier)
    name = ("bench", *window.docks)[number - 1]
    assert topic_of(QApplication.focusWidget()) == name
    if name in window.docks:
        assert window.docks[name].isAncestorOf(QApplication.focusWidget())
        assert window.docks[name].isVisible()


def test_help_stays_beside_the_window(window: Window) -> None:
    window.bench.setFocus()
    window.actions_by_name["help"].trigger()
    assert isinstance(window.help, HelpDialog)
    assert window.help.topic == "bench"
    assert not window.help.isModal()
    window.help.close()


def test_about_names_the_licences_and_copies_a_report(window: Window, qtbot: QtBot) -> None:
    dialog = AboutDialog(window)
    qtbot.addWidget(dialog)
    words = " ".join(label.text() for label in dialog.findChildren(QLabel))
    assert "PySide6" in words
    assert "LGPL" in words
    dialog.copy_button.click()
    copied = QGuiApplication.clipboard().text()
    assert "PySide6 " in copied
    assert str(Path.home()) not in copied


def test_tooltips_of_all_rows_name_their_shortcut() -> None:
    for row in ROWS:
        if row.shortcuts:
            shown = row.shortcuts[0].toString(QKeySequence.SequenceFormat.NativeText)
            assert f"({shown})" in told(row, "")


def test_a_closed_window_leaves_nothing_behind(desk: Desk, qapp: QApplication) -> None:
    desk.new()  # another one stays
    window = weakref.ref(desk.open_example())
    before = len(qapp.topLevelWidgets())
    QApplication.processEvents()
    opened = window()
    assert opened is not None
    opened.close()
    del opened
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    gc.collect()
    assert window() is None
    assert len(qapp.topLevelWidgets()) < before
    assert [thread for thread in threading.enumerate() if thread.name == "profilestack-job"] == []


def test_nothing_drops_references_to_none(window: Window) -> None:
    """Some versions of the binding drop one with each call of a method that returns None."""
    data = QMimeData()
    before = sys.getrefcount(None)
    for _ in range(1000):
        window.update()
        window.statusBar().clearMessage()
        data.setText("x")
        window.axis.changed.emit()
        window.bench.mapTo(window, QPoint(0, 0))
        window.setWindowModified(False)
    lost = before - sys.getrefcount(None)
    assert lost < 500

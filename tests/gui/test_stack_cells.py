"""Passes are edited in the cells of the table: lengths, bits, setups, notes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.desktop.stack_panel.cells import Column, changed_columns
from profilestack.desktop.stack_panel.panel import StackPanel
from profilestack.session.pass_rows import pass_rows
from tests.gui.stack_panel_hands import Key, crown, opened_editor, shown


@pytest.fixture
def document(own_places: None) -> Document:
    return crown()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> StackPanel:
    return shown(qtbot, document)


@pytest.mark.parametrize(("column", "key"), [(Column.OFFSET, "offset"), (Column.DEPTH, "depth")])
def test_lengths_are_edited_in_the_cell_with_units(
    qtbot: QtBot, panel: StackPanel, document: Document, column: Column, key: str
) -> None:
    editor = opened_editor(panel, 5, column)
    assert isinstance(editor, LengthField)
    assert "pass 6" in editor.accessibleName()
    editor.selectAll()
    qtbot.keyClicks(editor, "1/4 in")
    qtbot.keyClick(editor, Key.Key_Return)
    assert getattr(document.stack.passes[5], key) == 6.35
    assert document.session.undo_label == f"Change the {key} of pass 6"
    qtbot.waitUntil(lambda: not panel.table.viewport().findChildren(LengthField))
    document.undo()
    assert getattr(document.stack.passes[5], key) != 6.35


@pytest.mark.parametrize(("typed", "reason"), [("deep", "no meaning|number"), ("-3", "impossible")])
def test_a_length_that_is_not_taken_stays_with_the_reason(
    qtbot: QtBot, panel: StackPanel, document: Document, typed: str, reason: str
) -> None:
    before = document.stack
    said: list[str] = []
    document.said.connect(said.append)
    editor = opened_editor(panel, 5, Column.DEPTH)
    assert isinstance(editor, LengthField)
    editor.selectAll()
    qtbot.keyClicks(editor, typed)
    for key in (Key.Key_Return, Key.Key_Tab):
        qtbot.keyClick(editor, key)
        QApplication.processEvents()
        assert editor.text() == typed
        assert any(word in editor.trouble for word in reason.split("|"))
    assert set(said) == {f"Not taken: {editor.trouble}"}
    assert document.stack == before
    qtbot.keyClick(editor, Key.Key_Escape)
    qtbot.waitUntil(lambda: not panel.table.viewport().findChildren(LengthField))
    assert document.stack == before


def test_escape_leaves_a_cell_as_it_was(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    before = document.stack
    editor = opened_editor(panel, 5, Column.DEPTH)
    qtbot.keyClicks(editor, "5")
    qtbot.keyClick(editor, Key.Key_Escape)
    qtbot.waitUntil(lambda: not panel.table.viewport().findChildren(LengthField))
    assert document.stack == before


def test_steps_in_a_cell_are_one_undo_step(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    before = document.stack
    editor = opened_editor(panel, 5, Column.DEPTH)
    for _ in range(5):
        qtbot.keyClick(editor, Key.Key_Up)
    assert document.stack.passes[5].depth == pytest.approx(before.passes[5].depth + 0.5)
    document.undo()
    assert document.stack == before


# a screen that is none has no keyboard that a popup could take
@pytest.mark.qt_log_ignore("grabbing the keyboard", extend=True)
def test_another_bit_and_another_setup_are_chosen(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    chooser = opened_editor(panel, 4, Column.BIT)
    assert isinstance(chooser, QComboBox)
    assert chooser.currentData() == "core-box-2in"
    qtbot.waitUntil(chooser.view().isVisible)
    place = chooser.findData("core-box-1in")
    chooser.setCurrentIndex(place)
    chooser.activated.emit(place)
    assert document.stack.passes[4].bit == "core-box-1in"
    assert document.session.undo_label == "Change the bit of pass 5"
    setups = opened_editor(panel, 4, Column.SETUP)
    assert isinstance(setups, QComboBox)
    words = [setups.itemText(k) for k in range(setups.count())]
    assert words == ["face", "back, turned over", "tipped, tipped by -45°"]
    place = setups.findData("back")
    setups.setCurrentIndex(place)
    setups.activated.emit(place)
    assert document.stack.passes[4].setup == "back"


def test_a_note_is_written(qtbot: QtBot, panel: StackPanel, document: Document) -> None:
    editor = opened_editor(panel, 4, Column.NOTE)
    assert isinstance(editor, QLineEdit)
    editor.selectAll()
    qtbot.keyClicks(editor, "the hollow")
    qtbot.keyClick(editor, Key.Key_Return)
    qtbot.waitUntil(lambda: document.stack.passes[4].note == "the hollow")
    assert document.session.undo_label == "Change the note of pass 5"


@pytest.mark.parametrize("units", ["mm", "in"])
def test_what_looks_the_same_is_not_painted_again(document: Document, units: str) -> None:
    """And what looks different is: the least bar stands for anything that is more than nothing."""
    rows = pass_rows(document.stack, document.session.bits, document.report)
    row = replace(rows[0], area=0.0, volume=0.0, share=0.0)
    crumb = replace(row, area=1e-6, volume=1e-3, share=1e-5)
    assert changed_columns(row, crumb, units) == (Column.REMOVES,)
    assert changed_columns(crumb, replace(crumb, area=2e-6, share=2e-5), units) == ()
    assert changed_columns(crumb, replace(crumb, area=1.0), units) == (Column.REMOVES,)
    assert changed_columns(crumb, replace(crumb, share=0.1), units) == (Column.REMOVES,)

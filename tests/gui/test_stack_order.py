"""The order of cutting is changed by keys and by dragging, and looked at moment by moment."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QModelIndex, QPointF, Qt
from PySide6.QtGui import QDropEvent
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.stack_panel.cells import Column
from profilestack.desktop.stack_panel.panel import StackPanel
from profilestack.files.shipped import shipped_examples_dir
from profilestack.session import pass_edits
from profilestack.session.session import Session
from tests.gui.stack_panel_hands import ALT, Key, crown, notes, press, shown


@pytest.fixture
def document(own_places: None) -> Document:
    return crown()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> StackPanel:
    return shown(qtbot, document)


def test_the_order_changes_by_keys(qtbot: QtBot, panel: StackPanel, document: Document) -> None:
    before = notes(document)
    document.choose([4])
    press(qtbot, panel, Key.Key_Up, ALT)
    assert notes(document)[3:5] == [before[4], before[3]]
    assert document.chosen == (3,)
    press(qtbot, panel, Key.Key_Down, ALT)
    press(qtbot, panel, Key.Key_Down, ALT)
    assert notes(document)[4:6] == [before[5], before[4]]
    assert document.chosen == (5,)
    assert document.session.undo_label == "Cut pass 5 later"
    for _ in range(3):
        document.undo()
    assert notes(document) == before


def test_the_order_changes_by_dragging(qtbot: QtBot, panel: StackPanel, document: Document) -> None:
    model, before = panel.table.passes, notes(document)
    data = model.mimeData([model.index(7, 0), model.index(1, 0)])
    assert model.dropMimeData(data, Qt.DropAction.MoveAction, 4, 0, QModelIndex())
    moved = [before[0], before[2], before[3], before[1], before[7]]
    assert notes(document)[:5] == moved
    assert document.chosen == (3, 4)
    document.undo()
    assert notes(document) == before
    onto = model.index(4, 0)
    assert not model.dropMimeData(data, Qt.DropAction.MoveAction, -1, -1, onto)


def test_a_drop_falls_between_the_rows_that_it_is_nearest_to(
    panel: StackPanel, document: Document
) -> None:
    model, before = panel.table.passes, notes(document)
    data = model.mimeData([model.index(0, 0)])
    cell = panel.table.visualRect(model.index(3, Column.DEPTH))
    low = QPointF(cell.center().x(), cell.bottom() - 2)
    left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    drop = QDropEvent(low, model.supportedDropActions(), data, left, none)
    drop.setDropAction(Qt.DropAction.MoveAction)
    panel.table.dropEvent(drop)
    assert notes(document)[:5] == [*before[1:4], before[0], before[4]]


def test_passes_of_another_document_are_put_in_where_they_fall(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    rail = Document(Session.open(shipped_examples_dir() / "shelf-rail" / "rail.stack.toml"))
    other = shown(qtbot, rail)
    model = other.table.passes
    data = model.mimeData([model.index(0, 0)])
    assert panel.table.passes.dropMimeData(data, Qt.DropAction.MoveAction, 2, 0, QModelIndex())
    assert document.stack.passes[2] == rail.stack.passes[0]
    assert len(rail.stack.passes) == model.rowCount()
    assert document.chosen == (2,)


def test_the_slider_and_the_moment_are_one(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    slider = panel.order.slider
    assert (slider.value(), panel.order.words.text()) == (11, "When all are cut")
    slider.setFocus()
    qtbot.keyClick(slider, Key.Key_Left)
    assert document.moment == 10
    assert panel.order.words.text() == "After pass 10 of 11: straight 19.05 mm"
    document.look_at_moment(0)
    assert (slider.value(), panel.order.words.text()) == (0, "The blank, before the first pass")
    qtbot.keyClick(slider, Key.Key_End)
    assert document.moment is None
    document.edit(*pass_edits.duplicated(document.stack, [0]))
    assert (slider.value(), slider.maximum(), document.moment) == (12, 12, None)

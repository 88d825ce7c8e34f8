"""The table of the passes mirrors the document: words, cautions, what is chosen and pointed at."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QItemSelectionModel, QPoint, Qt
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.desktop.stack_panel.cells import HEADS, LIE_ROLE, SECOND_ROLE, Column
from profilestack.desktop.stack_panel.panel import StackPanel
from profilestack.session import pass_edits
from profilestack.stack.edits import with_passes_added
from tests.gui.stack_panel_hands import Key, Role, crown, notes, shown, text


@pytest.fixture
def document(own_places: None) -> Document:
    return crown()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> StackPanel:
    return shown(qtbot, document)


def test_the_model_keeps_its_promises_through_every_kind_of_change(
    qtbot: QtBot, document: Document, qtmodeltester: ModelTester
) -> None:
    panel = shown(qtbot, document)
    model = panel.table.passes
    qtmodeltester.check(model)
    stack = document.stack
    document.edit(*pass_edits.duplicated(stack, [0, 4]))
    assert model.rowCount() == 13
    document.edit(*pass_edits.deleted(document.stack, range(3, 13)))
    assert model.rowCount() == 3
    document.edit(replace(document.stack, passes=()), "Delete all")
    assert model.rowCount() == 0
    document.undo()
    document.undo()
    document.undo()
    document.edit(*pass_edits.moved_to_place(document.stack, [9], 0))
    document.preview(pass_edits.nudged(document.stack, [3], 1.0, 0.5)[0])
    document.abandon()
    document.set_units("in")
    assert [text(panel, row, Column.NOTE) for row in range(11)] == notes(document)


def test_the_table_says_what_the_document_says(panel: StackPanel, document: Document) -> None:
    assert document.report is not None
    for row, done in enumerate(document.report.cut.passes):
        assert text(panel, row, Column.NUMBER) == str(done.number)
        assert text(panel, row, Column.SETUP) == done.cut.setup
        area = text(panel, row, Column.REMOVES)
        assert float(area) == pytest.approx(done.removed_area, abs=0.051)
        volume = text(panel, row, Column.REMOVES, SECOND_ROLE).partition(" ")[0]
        assert float(volume) == pytest.approx(done.removed_volume / 1000.0, abs=0.51)
    assert text(panel, 4, Column.OFFSET) == "52.04"
    assert text(panel, 4, Column.BIT) == "50.8 mm"
    assert text(panel, 2, Column.BIT, SECOND_ROLE) == "rough out; straight"
    assert text(panel, 2, Column.BIT, LIE_ROLE) == "rough out; face, straight"
    assert "core-box-2in" in text(panel, 4, Column.BIT, Role.ToolTipRole)
    assert "52.04 mm = 2.049 in" in text(panel, 4, Column.OFFSET, Role.ToolTipRole)
    heads = panel.table.passes.headerData(Column.OFFSET, Qt.Orientation.Horizontal)
    assert heads == "Edge to\ncentre\nmm"
    heads = panel.table.passes.headerData(Column.REMOVES, Qt.Orientation.Horizontal)
    assert heads == "Removes\nmm²"
    document.set_units("in")
    assert text(panel, 4, Column.BIT) == "2 in"
    assert text(panel, 4, Column.OFFSET) == "2.049"


def test_cautions_stand_on_their_pass_with_a_word(panel: StackPanel, document: Document) -> None:
    assert text(panel, 4, Column.CAUTION) == "note"
    assert text(panel, 3, Column.CAUTION) == ""
    document.edit(*pass_edits.with_depth(document.stack, [5], 25.0))
    assert text(panel, 5, Column.CAUTION) == "STOP"
    assert "STOP, pass 6: " in text(panel, 5, Column.CAUTION, Role.ToolTipRole)


def test_a_change_is_told_once_and_only_for_what_changed(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    told: list[tuple[int, int, int, int]] = []
    resets: list[object] = []
    model = panel.table.passes
    model.dataChanged.connect(lambda a, b: told.append((a.row(), a.column(), b.row(), b.column())))
    model.modelReset.connect(lambda: resets.append(None))
    document.preview(pass_edits.with_offset(document.stack, [10], 31.9)[0])
    assert len(told) == 1
    assert told[0] == (10, Column.OFFSET, 10, Column.REMOVES)
    document.abandon()
    document.edit(replace(document.stack, title="another"), "Change the title")
    assert len(told) == 2
    document.edit(*pass_edits.duplicated(document.stack, [0]))
    assert resets == []


def test_chosen_passes_are_mirrored_both_ways(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.choose([2, 5])
    rows = {index.row() for index in panel.table.selectionModel().selectedRows()}
    assert rows == {2, 5}
    index = panel.table.passes.index(7, Column.DEPTH)
    place = panel.table.visualRect(index).center()
    qtbot.mouseClick(panel.table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert document.chosen == (7,)
    above = panel.table.visualRect(panel.table.passes.index(4, Column.DEPTH)).center()
    shift = Qt.KeyboardModifier.ShiftModifier
    qtbot.mouseClick(panel.table.viewport(), Qt.MouseButton.LeftButton, shift, above)
    assert document.chosen == (4, 5, 6, 7)


def test_pointing_is_mirrored_both_ways(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    index = panel.table.passes.index(3, Column.DEPTH)
    view = panel.table.viewport()
    qtbot.mouseMove(view, panel.table.visualRect(index).center() + QPoint(1, 0))
    qtbot.mouseMove(view, panel.table.visualRect(index).center())
    qtbot.waitUntil(lambda: document.pointed == 3)
    row = panel.table.visualRect(panel.table.passes.index(6, Column.NOTE))
    document.point_at(None)
    before = view.grab(row).toImage()
    document.point_at(6)
    assert view.grab(row).toImage() != before


def test_keys_alone_reach_everything(qtbot: QtBot, panel: StackPanel, document: Document) -> None:
    document.choose([4])
    panel.table.setFocus()
    met = []
    for _ in range(12):
        focused = QApplication.focusWidget()
        assert focused is not None
        met.append(focused.accessibleName())
        qtbot.keyClick(focused, Key.Key_Tab)
    for name in (
        "Passes in cutting order", "Earlier", "Delete", "Moment in the order of cutting",
        "Cautions, the gravest first",
    ):  # fmt: skip
        assert name in met
    panel.table.setFocus()
    panel.table.selectionModel().setCurrentIndex(
        panel.table.passes.index(4, Column.DEPTH), QItemSelectionModel.SelectionFlag.NoUpdate
    )
    qtbot.keyClick(panel.table, Key.Key_F2)
    (editor,) = panel.table.viewport().findChildren(LengthField)
    assert editor.hasFocus()


def test_cells_are_spoken_whole(panel: StackPanel) -> None:
    spoken = [text(panel, 2, column, Role.AccessibleTextRole) for column in Column]
    assert spoken[Column.NUMBER] == "Pass 3"
    assert spoken[Column.BIT] == "Bit: 19.05 mm, rough out; straight"
    assert spoken[Column.OFFSET] == "Edge to bit centre: 23.5 mm"
    assert spoken[Column.REMOVES] == "Removes: 21.0 mm², 50.3 cm³"
    assert len(HEADS) == len(Column)


def test_two_hundred_passes_are_shown(qtbot: QtBot, document: Document) -> None:
    many = [replace(single, offset=single.offset + 0.05 * k)
            for k in range(19) for single in document.stack.passes]  # fmt: skip
    document.edit(with_passes_added(document.stack, many), "Add")
    panel = shown(qtbot, document)
    assert panel.table.passes.rowCount() == 220
    document.choose([199])
    assert panel.table.visualRect(panel.table.passes.index(199, 0)).isValid()
    labels = panel.findChildren(QLabel)
    assert all(label.text() == label.text().strip() for label in labels)


def test_the_panel_may_go_while_the_document_stays(qtbot: QtBot, document: Document) -> None:
    panel = shown(qtbot, document)
    panel.close()
    panel.deleteLater()
    del panel
    QApplication.processEvents()
    document.edit(*pass_edits.duplicated(document.stack, [0]))
    document.set_units("in")
    document.look_at_moment(2)
    assert len(document.stack.passes) == 12

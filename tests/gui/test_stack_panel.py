"""The stack's panel: the table mirrors the document, edits it, and says what it comes to."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QItemSelectionModel, QModelIndex, QPoint, QPointF, QRect, Qt
from PySide6.QtGui import QDropEvent, QFont, QGuiApplication
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QLabel,
    QLineEdit,
    QMenu,
    QScrollArea,
    QWidget,
)
from pytestqt.modeltest import ModelTester
from pytestqt.qtbot import QtBot

from profilestack.bits.words import short_size
from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.desktop.stack_panel.cells import HEADS, LIE_ROLE, SECOND_ROLE, Column
from profilestack.desktop.stack_panel.painting import PAD, extra_width
from profilestack.desktop.stack_panel.panel import StackPanel
from profilestack.desktop.theme import DARK, LIGHT, palette_of
from profilestack.drawing.safety import USUAL_CAUTIONS
from profilestack.files.shipped import shipped_examples_dir
from profilestack.session import pass_edits
from profilestack.session.session import Session
from profilestack.stack.edits import with_passes_added

Role = Qt.ItemDataRole
Key = Qt.Key
ALT, CTRL = Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def document(own_places: None) -> Document:
    return Document(Session.open(shipped_examples_dir() / "cornice" / "crown.stack.toml"))


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> StackPanel:
    return shown(qtbot, document)


def shown(qtbot: QtBot, document: Document) -> StackPanel:
    panel = StackPanel(document)
    qtbot.addWidget(panel)
    panel.resize(900, 760)
    panel.show()
    panel.activateWindow()
    qtbot.waitUntil(panel.isActiveWindow)
    panel.table.setFocus()
    return panel


def text(panel: StackPanel, row: int, column: Column, role: int = Role.DisplayRole) -> str:
    said = panel.table.passes.index(row, column).data(role)
    assert isinstance(said, str)
    return said


def press(qtbot: QtBot, panel: StackPanel, key: Key, modifiers: object = None) -> None:
    held = modifiers or Qt.KeyboardModifier.NoModifier
    qtbot.keyClick(panel.table, key, held)  # type: ignore[call-overload]


def notes(document: Document) -> list[str]:
    return [single.note for single in document.stack.passes]


def opened_editor(panel: StackPanel, row: int, column: Column) -> QWidget:
    index = panel.table.passes.index(row, column)
    panel.table.setCurrentIndex(index)
    panel.table.edit(index)
    editor = panel.table.indexWidget(index)
    if editor is None:
        kinds = (LengthField, QComboBox, QLineEdit)
        editors = [w for kind in kinds for w in panel.table.viewport().findChildren(kind)]
        assert editors, "no editor was opened"
        return editors[0]
    return editor


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


def test_an_empty_stack_says_what_to_do(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.edit(replace(document.stack, passes=()), "Delete all")
    seen = panel.table.viewport().grab().toImage()
    ink = {seen.pixelColor(x, y).name() for x in range(seen.width()) for y in range(seen.height())}
    assert LIGHT.quiet.lower() in ink
    assert panel.verdict.words.text() == "Nothing is cut yet."
    assert panel.order.words.text() == "The blank; there are no passes"


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


def test_the_numbers_that_matter(qtbot: QtBot, panel: StackPanel, document: Document) -> None:
    report = document.report
    assert report is not None
    assert report.comparison is not None
    said = [box.figure.text for box in panel.verdict.figures.boxes]
    assert panel.verdict.words.text() == "It fits."
    assert said[0] == f"+{report.comparison.leftover_worst:.2f} mm"
    assert said[2:4] == ["5", "11"]
    assert said[4] == "≈ 281 min"
    about = panel.verdict.figures.boxes[4].toolTip()
    assert "Assumed" in about
    assert "a bit change 3 min" in about
    assert "holds" in panel.verdict.figures.boxes[0].accessibleName()


@pytest.mark.parametrize("width", [320, 420, 900])
def test_numbers_are_never_cut_short(
    qtbot: QtBot, panel: StackPanel, document: Document, width: int
) -> None:
    panel.resize(width, 760)
    document.edit(*pass_edits.nudged(document.stack, [4], 0.0, 9.5))
    row = panel.verdict.figures

    def are_whole() -> bool:
        return all(
            box.width() >= box.sizeHint().width() and row.rect().contains(box.geometry())
            for box in row.boxes
        )

    qtbot.waitUntil(are_whole, timeout=2000)
    rects = [box.geometry() for box in row.boxes]
    assert not any(a.intersects(b) for k, a in enumerate(rects) for b in rects[:k])


def test_what_does_not_fit_is_said_with_sign_and_limit(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.edit(*pass_edits.nudged(document.stack, [4], 0.0, 0.5))
    words = panel.verdict.words.text()
    assert words.startswith("It does not fit: overcut (gouge) 0.50 mm, 0.10 mm allowed.")
    box = panel.verdict.figures.boxes[1]
    assert box.figure.text == "−0.50 mm"
    assert box.sign == "bad"
    assert "broken" in box.accessibleName()


def test_minutes_wait_while_the_hand_moves(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    minutes = panel.verdict.figures.boxes[4]
    document.preview(pass_edits.deleted(document.stack, range(1, 11))[0])
    assert minutes.figure.text == "≈ 281 min"
    qtbot.waitUntil(lambda: minutes.figure.text != "≈ 281 min", timeout=2000)
    assert panel.verdict.figures.boxes[3].figure.text == "1"


def test_trouble_is_told_in_words(qtbot: QtBot, panel: StackPanel, document: Document) -> None:
    document.edit(
        with_passes_added(document.stack, [replace(document.stack.passes[0], bit="vv90")]), "Add"
    )
    assert document.report is None
    words = panel.verdict.words.text()
    assert words.startswith("It cannot be cut.\nPass 12, bit: no bit is called 'vv90'")
    assert not panel.verdict.figures.isVisible()
    assert text(panel, 11, Column.BIT, SECOND_ROLE) == "unknown bit"
    document.undo()
    assert panel.verdict.words.text() == "It fits."
    assert panel.verdict.figures.isVisible()


def test_a_caution_chooses_its_pass_and_the_gravest_is_first(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.edit(*pass_edits.with_depth(document.stack, [5], 25.0))
    rows = panel.cautions.list
    assert rows.item(0).text().startswith("STOP, pass 6: ")
    assert "caution" in panel.verdict.words.text()
    item = next(
        rows.item(k) for k in range(rows.count()) if rows.item(k).text().startswith("STOP, pass 6")
    )
    place = rows.visualItemRect(item).center()
    qtbot.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert document.chosen == (5,)
    assert panel.cautions.usual.text() == " ".join(USUAL_CAUTIONS)
    document.choose([])
    rows.setFocus()
    rows.setCurrentItem(item)
    qtbot.keyClick(rows, Key.Key_Return)
    assert document.chosen == (5,)
    qtbot.mouseMove(rows.viewport(), place + QPoint(3, 0))
    qtbot.mouseMove(rows.viewport(), place)
    qtbot.waitUntil(lambda: document.pointed == 5)


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


def test_large_type_and_another_theme_change_sizes_and_colours(
    qtbot: QtBot, panel: StackPanel
) -> None:
    high = panel.table.rowHeight(0)
    font = QFont(panel.font())
    font.setPointSizeF(font.pointSizeF() * 1.5)
    panel.setFont(font)
    panel.table.setFont(font)
    assert panel.table.rowHeight(0) > 1.3 * high
    corner = panel.table.viewport()
    light = corner.grab().toImage().pixelColor(corner.width() - 4, 20).name()
    old = QApplication.palette()
    try:
        QApplication.setPalette(palette_of(DARK))
        dark = corner.grab().toImage().pixelColor(corner.width() - 4, 20).name()
    finally:
        QApplication.setPalette(old)
    assert light != dark


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


def test_in_its_usual_width_the_table_shows_all_that_matters_without_scrolling(
    qtbot: QtBot, panel: StackPanel
) -> None:
    table = panel.table
    panel.resize(panel.sizeHint().width(), 740)
    assert panel.width() < 63 * panel.fontMetrics().averageCharWidth()
    qtbot.waitUntil(lambda: table.isColumnHidden(Column.SETUP))
    assert table.isColumnHidden(Column.NOTE)
    qtbot.waitUntil(lambda: table.horizontalScrollBar().maximum() == 0)
    for row in range(8):
        size = text(panel, row, Column.BIT)
        room = table.columnWidth(Column.BIT) - extra_width(table.font(), Column.BIT) - 2 * PAD
        assert table.fontMetrics().horizontalAdvance(size) <= room
    area = panel.splitter.widget(1)
    assert isinstance(area, QScrollArea)
    sight = area.viewport()
    first = panel.cautions.list.visualItemRect(panel.cautions.list.item(0))
    assert panel.cautions.list.viewport().rect().contains(first)
    for part in (*panel.verdict.figures.boxes, panel.cautions.list):
        place = QRect(part.mapTo(sight, QPoint(0, 0)), part.size())
        assert sight.rect().contains(place)


def test_a_wide_table_has_columns_for_setups_and_notes(panel: StackPanel) -> None:
    assert not any(panel.table.isColumnHidden(column) for column in Column)
    last = panel.table.columnViewportPosition(Column.NOTE) + panel.table.columnWidth(Column.NOTE)
    assert last == panel.table.viewport().width()


def test_the_table_measures_anew_for_other_bits(panel: StackPanel, document: Document) -> None:
    panel.resize(panel.sizeHint().width(), 740)
    before = panel.table.sizeHint().width()
    bits = document.session.bits_at_hand.shipped
    long = max(bits.values(), key=lambda bit: len(short_size(bit, "mm")))
    document.edit(*pass_edits.with_bit(document.stack, [0], long, True))
    assert len(text(panel, 0, Column.BIT)) > len("90°, 31.75 mm")
    assert panel.table.sizeHint().width() > before


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


def test_the_line_between_the_halves_stays_where_it_was_put(
    qtbot: QtBot, panel: StackPanel
) -> None:
    upper, lower = panel.splitter.sizes()
    panel.splitter.moveSplitter(upper - 60, 1)
    put = panel.splitter.sizes()
    assert put != [upper, lower]
    panel.resize(panel.width() + 10, panel.height())
    assert panel.splitter.sizes() == put


def test_the_table_is_as_wide_without_passes_as_with_usual_ones(
    panel: StackPanel, document: Document
) -> None:
    wide = panel.table.sizeHint().width()
    document.edit(replace(document.stack, passes=()), "Delete all")
    assert panel.table.sizeHint().width() == wide

"""Changes of the marks are taken back and done again where they were made; the document stays."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as FilePath

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.target.marks_form import MarksForm
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.window import Window
from profilestack.files.targets.picture_view import view_of
from profilestack.geometry.path import Point
from profilestack.session.picture_marks import Marks
from profilestack.stack import Blank, Rectangle
from tests.gui.target_hands import document_with, shown
from tests.unit.files.targets.pictures import encoded, picture
from tests.unit.targets.profiles import SECTION

BUTTON = Qt.MouseButton.LeftButton
CTRL = Qt.KeyboardModifier.ControlModifier
CTRL_SHIFT = CTRL | Qt.KeyboardModifier.ShiftModifier
A, B = (100.0, 300.0), (500.0, 300.0)


@pytest.fixture
def document(qapp: QApplication) -> Document:
    document = document_with()
    document.edit(replace(document.stack, blank=Blank(Rectangle(35.0, 40.0))), "Resize the blank")
    return document


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


@pytest.fixture
def marks(qtbot: QtBot, panel: TargetPanel, tmp_path: FilePath) -> MarksForm:
    """The marks of a picture, before one is put."""
    file = tmp_path / "scan.png"
    file.write_bytes(encoded(picture(SECTION, 300)))
    choice = panel.importing.form.choices["way"]
    choice.setCurrentIndex(choice.findData("points"))
    panel.import_file(file)
    marks = panel.importing.marks
    qtbot.waitUntil(lambda: marks.picture.has_picture, timeout=20_000)
    return marks


def pixel(marks: MarksForm, place: Point) -> QPoint:
    return marks.picture.pixel_of(place).toPoint()


def put_both(qtbot: QtBot, marks: MarksForm) -> Marks:
    for place in (A, B):
        qtbot.mouseClick(marks.picture, BUTTON, pos=pixel(marks, place))
    return marks.marks


def test_a_drag_is_one_step_and_the_document_stays(
    qtbot: QtBot, marks: MarksForm, document: Document
) -> None:
    both, before = put_both(qtbot, marks), document.session.settled
    paper, start = marks.picture, pixel(marks, B)
    qtbot.mousePress(paper, BUTTON, pos=start)
    for k in range(1, 6):
        qtbot.mouseMove(paper, start - QPoint(8 * k, 3 * k))
    qtbot.mouseRelease(paper, BUTTON, pos=start - QPoint(40, 15))
    dragged = marks.marks
    assert dragged != both
    qtbot.keyClick(paper, Qt.Key.Key_Z, CTRL)
    assert marks.marks == both
    assert paper.marks == both
    qtbot.keyClick(paper, Qt.Key.Key_Z, CTRL_SHIFT)
    assert marks.marks == dragged
    for _ in range(3):
        qtbot.keyClick(paper, Qt.Key.Key_Z, CTRL)
    assert marks.marks == Marks()
    qtbot.keyClick(paper, Qt.Key.Key_Y, CTRL)
    assert marks.marks == Marks(both.a)
    assert document.session.settled is before


def test_a_run_of_arrows_is_one_step(qtbot: QtBot, marks: MarksForm) -> None:
    both, paper = put_both(qtbot, marks), marks.picture
    for _ in range(7):
        qtbot.keyClick(paper, Qt.Key.Key_Left)
    qtbot.keyClick(paper, Qt.Key.Key_PageUp)
    at_b = marks.marks
    for _ in range(3):
        qtbot.keyClick(paper, Qt.Key.Key_Up)
    qtbot.keyClick(paper, Qt.Key.Key_Z, CTRL)
    assert marks.marks == at_b != both
    qtbot.keyClick(paper, Qt.Key.Key_Z, CTRL)
    assert marks.marks == both


def test_with_nothing_left_it_is_said_and_the_document_stays(
    qtbot: QtBot, marks: MarksForm, document: Document
) -> None:
    before = document.session.settled
    with qtbot.waitSignal(document.said) as said:
        qtbot.keyClick(marks.picture, Qt.Key.Key_Z, CTRL)
    assert "No change of the marks is left" in said.args[0]
    for key, modifiers in ((Qt.Key.Key_Z, CTRL), (Qt.Key.Key_Z, CTRL_SHIFT), (Qt.Key.Key_Y, CTRL)):
        for part in (marks.picture, marks.places[0][0], marks.distance):
            event = QKeyEvent(QEvent.Type.ShortcutOverride, key, modifiers)
            event.ignore()
            QApplication.sendEvent(part, event)
            assert event.isAccepted(), "no shortcut of the window comes before it"
    assert document.session.settled is before


def test_in_the_fields_typing_is_taken_back_first(qtbot: QtBot, marks: MarksForm) -> None:
    both, field = put_both(qtbot, marks), marks.places[0][0]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "77")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert marks.marks.a is not None
    assert marks.marks.a[0] == 77.0
    field.selectAll()
    qtbot.keyClicks(field, "9")
    qtbot.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert marks.marks.a[0] == 77.0
    field.restore()
    qtbot.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert marks.marks == both
    for _ in range(4):
        qtbot.keyClick(field, Qt.Key.Key_Up)
    assert marks.marks != both
    qtbot.keyClick(field, Qt.Key.Key_Z, CTRL)
    assert marks.marks == both


def test_the_distance_is_a_step_too(qtbot: QtBot, marks: MarksForm) -> None:
    put_both(qtbot, marks)
    marks.distance.setFocus()
    qtbot.keyClicks(marks.distance, "70 mm")
    qtbot.keyClick(marks.distance, Qt.Key.Key_Return)
    assert marks.picture.label == "70 mm"
    qtbot.keyClick(marks.distance, Qt.Key.Key_Z, CTRL)
    assert marks.distance.value is None
    assert marks.picture.label.endswith("pixels")


def test_while_a_mark_is_held_it_is_let_go(qtbot: QtBot, marks: MarksForm) -> None:
    both, paper = put_both(qtbot, marks), marks.picture
    qtbot.mousePress(paper, BUTTON, pos=pixel(marks, B))
    qtbot.mouseMove(paper, pixel(marks, B) - QPoint(30, 30))
    qtbot.keyClick(paper, Qt.Key.Key_Z, CTRL)
    assert marks.marks == both
    qtbot.mouseRelease(paper, BUTTON, pos=pixel(marks, B))
    qtbot.keyClick(paper, Qt.Key.Key_Z, CTRL)
    assert marks.marks == Marks(both.a)


def test_another_picture_begins_with_no_steps(qtbot: QtBot, marks: MarksForm) -> None:
    put_both(qtbot, marks)
    marks.forget()
    marks.show_picture(view_of(encoded(picture(SECTION, 100))))
    qtbot.keyClick(marks.picture, Qt.Key.Key_Z, CTRL)
    assert marks.marks == Marks()


def test_in_the_whole_window_undo_stays_with_the_picture(
    qtbot: QtBot, window: Window, tmp_path: FilePath
) -> None:
    document = window.document
    document.edit(replace(document.stack, blank=Blank(Rectangle(35.0, 40.0))), "Resize the blank")
    before = document.session.settled
    file = tmp_path / "scan.png"
    file.write_bytes(encoded(picture(SECTION, 300)))
    window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    panel = window.show_panel("target")
    assert isinstance(panel, TargetPanel)
    marks = panel.importing.marks
    choice = panel.importing.form.choices["way"]
    choice.setCurrentIndex(choice.findData("points"))
    window.import_drawing(file)
    qtbot.waitUntil(lambda: marks.picture.has_picture, timeout=20_000)
    qtbot.waitUntil(marks.picture.isVisible)
    put_both(qtbot, marks)
    assert marks.picture.hasFocus()
    for _ in range(4):
        qtbot.keyClick(marks.picture, Qt.Key.Key_Z, CTRL)
    assert marks.marks == Marks()
    assert document.session.settled is before
    window.bench.section.setFocus()
    qtbot.keyClick(window.bench.section, Qt.Key.Key_Z, CTRL)
    assert document.session.settled is not before

"""A picture's scale by two points: put and dragged by mouse, put and moved by keys, typed."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path as FilePath

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.target.import_view import ImportView
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.target.path_drawing import HANDLE
from profilestack.geometry.path import Point
from profilestack.session.picture_marks import Marks
from profilestack.stack import Rectangle
from tests.gui.target_hands import Keys, document_with, read, shown
from tests.unit.files.targets.drawings import dxf_of_pieces
from tests.unit.files.targets.pictures import EDGE, SIZE, encoded, picture
from tests.unit.targets.profiles import SECTION, STEPPED

DOTS = 300
MM = DOTS / 25.4
"""Pixels in a mm."""

LEFT, RIGHT = ((EDGE + x) * MM for x in (0.0, 70.0))
FOOT = (SIZE[1] - EDGE) * MM
"""Where the section's lower corners lie in the picture [pixels]."""

WAY = "two points on the picture"
BUTTON = Qt.MouseButton.LeftButton
SHIFT, CTRL = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return document_with()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


@pytest.fixture
def importing(qtbot: QtBot, panel: TargetPanel, tmp_path: FilePath) -> ImportView:
    """A scan that does not say its scale; two points are to give it."""
    file = tmp_path / "scan.png"
    file.write_bytes(encoded(picture(SECTION, DOTS)))
    read(qtbot, panel, file)
    importing = panel.importing
    assert "does not say its scale" in importing.form.rows["dpi"].trouble.text()
    assert "two points" in importing.form.rows["dpi"].trouble.text()
    Keys(qtbot, panel).choose(importing.form.choices["way"], WAY)
    qtbot.waitUntil(lambda: importing.marks.picture.has_picture, timeout=20_000)
    qtbot.waitUntil(importing.form.rows["dpi"].trouble.isHidden)
    return importing


def pixel(importing: ImportView, place: Point) -> QPoint:
    return importing.marks.picture.pixel_of(place).toPoint()


def click(qtbot: QtBot, importing: ImportView, place: Point) -> None:
    qtbot.mouseClick(importing.marks.picture, BUTTON, pos=pixel(importing, place))


def one_pixel(importing: ImportView) -> float:
    """What a pixel of the screen is in pixels of the picture."""
    paper = importing.marks.picture
    return paper.place_at(QPointF(1.0, 0.0))[0] - paper.place_at(QPointF(0.0, 0.0))[0]


def width_of(importing: ImportView) -> float:
    assert importing.report is not None
    stock = importing.report.stack.blank.stock
    assert isinstance(stock, Rectangle)
    return stock.width


def panel_of(importing: ImportView) -> TargetPanel:
    found = importing.parent()
    while found is not None and not isinstance(found, TargetPanel):
        found = found.parent()
    assert found is not None
    return found


def give(qtbot: QtBot, importing: ImportView, length: str) -> None:
    """Type the distance, and wait for what is read with it."""
    field = importing.marks.distance
    field.setFocus()
    field.selectAll()
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        qtbot.keyClicks(field, length)
        qtbot.keyClick(field, Qt.Key.Key_Return)


def test_two_clicks_and_a_length_give_the_scale(
    qtbot: QtBot, importing: ImportView, document: Document
) -> None:
    marks = importing.marks
    assert "Click on one end" in marks.words.text()
    assert not importing.drawing.isVisible()
    click(qtbot, importing, (LEFT, FOOT))
    assert "other end" in marks.words.text()
    click(qtbot, importing, (RIGHT, FOOT))
    close = one_pixel(importing)
    assert marks.marks.a == pytest.approx((LEFT, FOOT), abs=close)
    assert marks.marks.b == pytest.approx((RIGHT, FOOT), abs=close)
    assert "Give the true distance" in marks.words.text()
    assert not importing.take_it.isEnabled()
    give(qtbot, importing, "70")
    points = marks.marks.points
    assert points is not None
    assert width_of(importing) == pytest.approx(70.0 * 70.0 * MM / (points[2] - points[0]), abs=0.1)
    assert marks.picture.label == "70 mm"
    assert "dots per inch" in marks.words.text()
    assert importing.drawing.isVisible()
    qtbot.mouseClick(importing.take_it, BUTTON)
    assert document.session.undo_label == "Import scan.png"


def test_a_dragged_mark_changes_the_scale_at_once(qtbot: QtBot, importing: ImportView) -> None:
    for place in ((LEFT, FOOT), (RIGHT, FOOT)):
        click(qtbot, importing, place)
    give(qtbot, importing, "70 mm")
    before, paper = width_of(importing), importing.marks.picture
    start = pixel(importing, (RIGHT, FOOT)) + QPoint(round(HANDLE / 2) - 3, 0)  # at its rim
    end = start - QPoint(round(35.0 * MM / one_pixel(importing)), 0)
    qtbot.mousePress(paper, BUTTON, pos=start)
    words = importing.marks.words.text()
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        qtbot.mouseMove(paper, (start + end) / 2)
        assert importing.marks.words.text() != words
        qtbot.mouseMove(paper, end)
        qtbot.mouseRelease(paper, BUTTON, pos=end)
    # half as many pixels for the same length: everything is twice as large
    assert width_of(importing) == pytest.approx(2.0 * before, rel=0.02)
    (a, b) = importing.marks.marks.places
    assert a == pytest.approx((LEFT, FOOT), abs=2.0 * one_pixel(importing))
    assert b == pytest.approx(((LEFT + RIGHT) / 2.0, FOOT), abs=4.0 * one_pixel(importing))
    # what the mouse does beside the marks moves the picture, not them
    qtbot.mousePress(paper, BUTTON, pos=QPoint(150, 40))
    qtbot.mouseMove(paper, QPoint(170, 60))
    qtbot.mouseRelease(paper, BUTTON, pos=QPoint(170, 60))
    assert importing.marks.marks == Marks(a, b)


def test_escape_lets_a_dragged_mark_go_back(qtbot: QtBot, importing: ImportView) -> None:
    click(qtbot, importing, (LEFT, FOOT))
    paper, before = importing.marks.picture, importing.marks.marks
    qtbot.mousePress(paper, BUTTON, pos=pixel(importing, (LEFT, FOOT)))
    qtbot.mouseMove(paper, pixel(importing, (LEFT + 200.0, 100.0)))
    assert importing.marks.marks != before
    qtbot.keyClick(paper, Qt.Key.Key_Escape)
    assert importing.marks.marks == before
    qtbot.mouseMove(paper, pixel(importing, (300.0, 300.0)))
    assert importing.marks.marks == before


def test_marks_outlive_what_else_is_changed(qtbot: QtBot, importing: ImportView) -> None:
    for place in ((LEFT, FOOT), (RIGHT, FOOT)):
        click(qtbot, importing, place)
    give(qtbot, importing, "70")
    before, width = importing.marks.marks, width_of(importing)
    keys = Keys(qtbot, panel_of(importing))
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.enter(importing.form.numbers["smooth"], "1")
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.choose(importing.form.choices["way"], "dots per inch")
        keys.enter(importing.form.numbers["dpi"], "150")
    assert width_of(importing) == pytest.approx(2.0 * 70.0, abs=0.3)
    assert not importing.marks.isVisible()
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.choose(importing.form.choices["way"], WAY)
    assert importing.marks.marks == before
    assert importing.marks.picture.marks == before
    assert width_of(importing) == pytest.approx(width, abs=0.05)


def test_by_keys_alone(qtbot: QtBot, importing: ImportView, document: Document) -> None:
    keys, marks = Keys(qtbot, panel_of(importing)), importing.marks
    keys.go_to(marks.picture)
    keys.press(Qt.Key.Key_Return)
    middle = (SIZE[0] * MM / 2.0, SIZE[1] * MM / 2.0)
    assert marks.marks.a == pytest.approx(middle, abs=one_pixel(importing))
    a = marks.marks.a
    assert a is not None
    keys.press(Qt.Key.Key_Right)
    keys.press(Qt.Key.Key_Up, SHIFT)
    keys.press(Qt.Key.Key_Down, CTRL)
    assert marks.marks.a == pytest.approx((a[0] + 1.0, a[1] - 10.0 + 0.1))
    keys.press(Qt.Key.Key_Return)
    assert marks.picture.chosen == 1
    for _ in range(30):
        keys.press(Qt.Key.Key_Left, SHIFT)
    b = marks.marks.b
    assert b == pytest.approx((middle[0] - 300.0, middle[1]), abs=one_pixel(importing))
    keys.press(Qt.Key.Key_PageUp)
    keys.press(Qt.Key.Key_Down)
    assert marks.marks.a == pytest.approx((a[0] + 1.0, a[1] - 8.9))
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.enter(marks.distance, "1 in")
    assert width_of(importing) == pytest.approx(70.0 * MM / 301.0 * 25.4, rel=0.01)
    keys.go_to(marks.picture)
    keys.press(Qt.Key.Key_Delete)
    assert marks.marks == Marks(None, b)
    qtbot.waitUntil(lambda: importing.report is None)
    assert not importing.take_it.isEnabled()


def test_marks_are_typed_as_numbers(qtbot: QtBot, importing: ImportView) -> None:
    keys, marks = Keys(qtbot, panel_of(importing)), importing.marks
    (ax, ay), (bx, by) = marks.places
    for field, text in ((ax, f"{LEFT:.1f}"), (ay, f"{FOOT:.1f} px"), (bx, f"{RIGHT:.1f}")):
        keys.enter(field, text)
    assert marks.picture.marks.b is None
    keys.enter(by, f"{FOOT:.1f}")
    assert marks.picture.marks.b == pytest.approx((RIGHT, FOOT), abs=0.06)
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.enter(marks.distance, "70")
    assert width_of(importing) == pytest.approx(70.0, abs=0.05)
    keys.enter(bx, "5000")
    assert "5000 px is impossible" in bx.trouble
    assert "at most 960 px" in bx.trouble


def test_both_marks_in_one_place_are_told(qtbot: QtBot, importing: ImportView) -> None:
    keys, marks = Keys(qtbot, panel_of(importing)), importing.marks
    for field in (*marks.places[0], *marks.places[1]):
        keys.enter(field, "200")
    keys.enter(marks.distance, "70")
    qtbot.waitUntil(marks.trouble.isVisible)
    told = marks.trouble.text()
    assert "Marks A and B both lie at 200, 200 pixels; expected two places far apart" in told
    assert "whose length you know" in told
    assert not importing.take_it.isEnabled()
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.enter(marks.places[1][0], "600")
    assert marks.trouble.isHidden()
    assert importing.take_it.isEnabled()


@pytest.mark.parametrize("length", ["0", "-5 mm", "wide"])
def test_a_length_that_is_none_is_told_in_its_field(
    qtbot: QtBot, importing: ImportView, length: str
) -> None:
    for place in ((LEFT, FOOT), (RIGHT, FOOT)):
        click(qtbot, importing, place)
    field = importing.marks.distance
    Keys(qtbot, panel_of(importing)).enter(field, length)
    assert field.trouble
    assert field.text() == length
    assert importing.form.request(FilePath("scan.png")) is None


def test_the_length_is_followed_while_it_is_typed(qtbot: QtBot, importing: ImportView) -> None:
    for place in ((LEFT, FOOT), (RIGHT, FOOT)):
        click(qtbot, importing, place)
    field = importing.marks.distance
    field.setFocus()
    qtbot.keyClicks(field, "35 mm")
    assert importing.marks.picture.label == "35 mm"
    assert importing.marks.distance.value is None
    qtbot.keyClick(field, Qt.Key.Key_Escape)


def test_the_wheel_makes_it_larger_for_finer_marks(qtbot: QtBot, importing: ImportView) -> None:
    paper = importing.marks.picture

    def turn(at: QPointF) -> bool:
        event = QWheelEvent(
            at, paper.mapToGlobal(at), QPoint(), QPoint(0, 120), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        paper.wheelEvent(event)
        return event.isAccepted()

    importing.form.choices["way"].setFocus()
    whole = one_pixel(importing)
    assert not turn(QPointF(50.0, 60.0)), "the form scrolls by"
    assert one_pixel(importing) == whole
    paper.setFocus()
    before = paper.place_at(QPointF(50.0, 60.0))
    for _ in range(10):
        assert turn(QPointF(50.0, 60.0))
    assert paper.place_at(QPointF(50.0, 60.0)) == pytest.approx(before)
    assert one_pixel(importing) < whole / 5.0
    qtbot.keyClick(paper, Qt.Key.Key_0)
    assert one_pixel(importing) == pytest.approx(whole)
    qtbot.keyClick(paper, Qt.Key.Key_Plus)
    assert one_pixel(importing) < whole
    # an arrow brings the mark that it moves into sight
    qtbot.keyClick(paper, Qt.Key.Key_Return)
    for _ in range(80):
        qtbot.keyClick(paper, Qt.Key.Key_Left, SHIFT)
    a = importing.marks.marks.a
    assert a is not None
    assert a[0] == 0.0, "it stays on the picture"
    assert paper.rect().contains(paper.pixel_of(a).toPoint())


def test_keys_of_the_window_do_not_reach_over_the_marks(importing: ImportView) -> None:
    for key in (Qt.Key.Key_Delete, Qt.Key.Key_0, Qt.Key.Key_Left):
        event = QKeyEvent(QEvent.Type.ShortcutOverride, key, Qt.KeyboardModifier.NoModifier)
        event.ignore()
        assert importing.marks.picture.event(event)
        assert event.isAccepted()


def test_another_file_begins_without_marks(
    qtbot: QtBot, importing: ImportView, panel: TargetPanel, tmp_path: FilePath
) -> None:
    for place in ((LEFT, FOOT), (RIGHT, FOOT)):
        click(qtbot, importing, place)
    give(qtbot, importing, "70")
    drawing = tmp_path / "step.dxf"
    drawing.write_bytes(dxf_of_pieces(STEPPED, "R2010"))
    read(qtbot, panel, drawing)
    assert not importing.marks.isVisible()
    assert importing.report is not None
    other = tmp_path / "other.png"
    other.write_bytes(encoded(picture(SECTION, 100)))
    panel.import_file(other)
    qtbot.waitUntil(lambda: importing.marks.picture.has_picture, timeout=20_000)
    assert importing.marks.picture.picture_size == (320, 220)
    assert importing.marks.marks == Marks()
    assert importing.marks.distance.value is None
    assert importing.report is None


def test_the_width_is_asked_for_where_it_gives_the_scale(
    qtbot: QtBot, importing: ImportView
) -> None:
    keys, form = Keys(qtbot, panel_of(importing)), importing.form
    keys.choose(form.choices["way"], "the width of the outline")
    qtbot.waitUntil(form.rows["across"].trouble.isVisible)
    assert (
        "The width of the outline is not given; expected a length"
        in form.rows["across"].trouble.text()
    )
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.enter(form.numbers["across"], "35")
    assert width_of(importing) == pytest.approx(35.0, abs=0.05)

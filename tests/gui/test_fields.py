"""Fields: what may be typed, what is kept, what is said, what steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.fields import AngleField, LengthField, NumberField, WholeField
from profilestack.files.shipped import shipped_examples_dir
from profilestack.session.session import Session

CROWN = shipped_examples_dir() / "cornice" / "crown.stack.toml"


@pytest.fixture
def document(own_places: None) -> Document:
    return Document(Session.open(Path(CROWN)))


@pytest.fixture
def form(qtbot: QtBot) -> Iterator[Callable[..., QWidget]]:
    """Shows fields one below the other, in a window that has the focus."""
    shown: list[QWidget] = []

    def show(*fields: NumberField) -> QWidget:
        window = QWidget()
        box = QVBoxLayout(window)
        for field in fields:
            box.addWidget(field)
        qtbot.addWidget(window)
        shown.append(window)
        window.show()
        window.activateWindow()
        qtbot.waitUntil(window.isActiveWindow)
        return window

    yield show
    shown.clear()


def typed(qtbot: QtBot, field: NumberField, text: str, *, enter: bool = True) -> None:
    field.setFocus()
    field.selectAll()
    for letter in text:  # also those that no key of the test's keyboard has
        press = QKeyEvent(QEvent.Type.KeyPress, 0, Qt.KeyboardModifier.NoModifier, letter)
        QApplication.sendEvent(field, press)
    if enter:
        qtbot.keyClick(field, Qt.Key.Key_Return)


def turned(field: QWidget, notches: int) -> bool:
    """Turn the wheel over a field; whether the field took it."""
    event = QWheelEvent(
        QPointF(5, 5), QPointF(5, 5), QPoint(), QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    event.ignore()
    QApplication.sendEvent(field, event)
    return event.isAccepted()


@pytest.mark.parametrize(
    ("text", "mm", "shown"),
    [
        ("19", 19.0, "19 mm"),
        ("19 mm", 19.0, "19 mm"),
        ("1 3/8 in", 34.925, "34.93 mm"),
        ('½"', 12.7, "12.7 mm"),
        ("12,5", 12.5, "12.5 mm"),
        ("-4", -4.0, "-4 mm"),
        ("2 ft 3 in", 685.8, "685.8 mm"),
    ],
)
def test_a_length_is_taken_in_any_unit_and_shown_in_the_usual_form(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget], text: str, mm: float, shown: str
) -> None:
    field = LengthField(document, "Width")
    form(field)
    field.value = 7.0
    with qtbot.waitSignal(field.committed) as told:
        typed(qtbot, field, text)
    assert told.args == [mm]
    assert (field.value, field.text(), field.trouble) == (mm, shown, "")


def test_bare_numbers_and_the_usual_form_follow_the_units_of_the_document(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field = LengthField(document, "Width")
    form(field)
    field.value = 34.925
    document.set_units("in")
    assert field.text() == "1-3/8 in"
    typed(qtbot, field, "2")
    assert (field.value, field.text()) == (50.8, "2 in")
    assert "50.8 mm = 2 in" in field.toolTip()


def test_what_is_shown_short_is_not_made_short(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field = LengthField(document, "Width")
    form(field)
    field.value = 53.97654
    assert field.text() == "53.98 mm"
    with qtbot.assertNotEmitted(field.committed):
        field.setFocus()
        qtbot.keyClick(field, Qt.Key.Key_Return)
        field.clearFocus()
    assert field.value == 53.97654


def test_wrong_text_is_kept_with_the_reason_and_a_mark(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field, other = LengthField(document, "Width"), LengthField(document, "Height")
    form(field, other)
    field.value = 62.0
    with qtbot.assertNotEmitted(field.committed):
        typed(qtbot, field, "12 cubits")
        other.setFocus()
    assert (field.text(), field.value) == ("12 cubits", 62.0)
    assert "'cubits' is no unit" in field.trouble
    assert "'cubits' is no unit" in field.toolTip()
    assert "'cubits' is no unit" in field.accessibleDescription()
    assert field.textMargins().right() > 0
    field.value = 62.0  # a refresh with the same number
    assert field.text() == "12 cubits"
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert (field.text(), field.trouble) == ("62 mm", "")
    assert field.textMargins().right() == 0


def test_an_emptied_field_says_so_in_few_words(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field = LengthField(document, "Width")
    form(field)
    field.value = 62.0
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.trouble == "is empty; expected a length such as 19 mm or 1 3/8 in"
    assert field.value == 62.0


def test_a_mark_is_painted_beside_wrong_text(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field = LengthField(document, "Width")
    form(field)
    before = field.grab().toImage()
    field.refuse("no")
    field.setText(" ")
    high = field.height()
    marked = field.grab().toImage()
    changed = sum(
        before.pixel(x, y) != marked.pixel(x, y)
        for x in range(field.width() - high, field.width() - 4)
        for y in range(4, high - 4)
    )
    assert changed > 30


def test_a_listener_that_cannot_take_a_number_keeps_the_text(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field = LengthField(document, "Width")
    form(field)
    field.value = 62.0
    field.committed.connect(lambda mm: field.refuse("there is no such wood") if mm > 99 else None)
    typed(qtbot, field, "100")
    assert (field.text(), field.value, field.trouble) == ("100", 62.0, "there is no such wood")
    typed(qtbot, field, "99")
    assert (field.text(), field.value, field.trouble) == ("99 mm", 99.0, "")


def test_a_number_beyond_the_ends_is_refused_with_them(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field = LengthField(document, "Tip", low=0.0, high=25.4)
    form(field)
    typed(qtbot, field, "30 mm")
    assert field.value is None
    assert field.trouble == "30 mm is impossible; expected at least 0 mm and at most 25.4 mm"


@pytest.mark.parametrize(
    ("key", "modifiers", "mm"),
    [
        (Qt.Key.Key_Up, Qt.KeyboardModifier.NoModifier, 10.1),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.NoModifier, 9.9),
        (Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier, 11.0),
        (Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier, 9.99),
    ],
)
def test_up_and_down_step(
    qtbot: QtBot,
    document: Document,
    form: Callable[..., QWidget],
    key: Qt.Key,
    modifiers: Qt.KeyboardModifier,
    mm: float,
) -> None:
    field = LengthField(document, "Depth")
    form(field)
    field.value = 10.0
    field.setFocus()
    stepping: list[bool] = []
    field.committed.connect(lambda _: stepping.append(field.stepping))
    qtbot.keyClick(field, key, modifiers)
    assert (field.value, stepping, field.stepping) == (mm, [True], False)


def test_the_wheel_steps_only_where_the_focus_is(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field, other = LengthField(document, "Depth"), LengthField(document, "Width")
    form(field, other)
    field.value = 10.0
    other.setFocus()
    assert not turned(field, 1)
    assert field.value == 10.0
    field.setFocus()
    assert turned(field, -2)
    assert field.value == 9.8


def test_steps_stop_at_the_ends(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field = LengthField(document, "Tip", low=0.0)
    form(field)
    field.value = 0.05
    field.setFocus()
    qtbot.keyClick(field, Qt.Key.Key_Down)
    assert field.value == 0.0


def test_an_optional_field_may_be_emptied(
    qtbot: QtBot, document: Document, form: Callable[..., QWidget]
) -> None:
    field, needed = LengthField(document, "Pilot", optional=True), LengthField(document, "Shank")
    form(field, needed)
    field.value = needed.value = 8.0
    with qtbot.waitSignal(field.cleared):
        field.setFocus()
        field.selectAll()
        qtbot.keyClick(field, Qt.Key.Key_Delete)
        qtbot.keyClick(field, Qt.Key.Key_Return)
    assert (field.value, field.text()) == (None, "")
    needed.setFocus()
    needed.selectAll()
    qtbot.keyClick(needed, Qt.Key.Key_Delete)
    qtbot.keyClick(needed, Qt.Key.Key_Return)
    assert needed.value == 8.0
    assert needed.trouble


@pytest.mark.parametrize(
    ("text", "value"), [("45", 45.0), ("22.5°", 22.5), ("-7 deg", -7.0), ("−7,5", -7.5)]
)
def test_angles(qtbot: QtBot, form: Callable[..., QWidget], text: str, value: float) -> None:
    field = AngleField("Angle")
    form(field)
    typed(qtbot, field, text)
    assert (field.value, field.text()) == (value, f"{value:g}°")


@pytest.mark.parametrize("text", ["", "4e5", "nan", "inf", "1 2", "٤", "9" * 40, "45 mm"])
def test_what_is_no_angle(qtbot: QtBot, form: Callable[..., QWidget], text: str) -> None:
    field = AngleField("Angle")
    form(field)
    field.value = 1.0
    field.setText(text)
    field.setModified(True)
    field.commit()
    assert (field.value, field.text()) == (1.0, text)
    assert "expected an angle" in field.trouble


def test_whole_numbers(qtbot: QtBot, form: Callable[..., QWidget]) -> None:
    field = WholeField("Pieces", low=1)
    form(field)
    typed(qtbot, field, "12")
    assert (field.value, field.text()) == (12.0, "12")
    typed(qtbot, field, "2.5")
    assert (field.value, field.trouble) == (12.0, "'2.5' is not whole; expected a whole number")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    qtbot.keyClick(field, Qt.Key.Key_Up, Qt.KeyboardModifier.ControlModifier)
    assert field.value == 13.0
    typed(qtbot, field, "0")
    assert field.trouble == "0 is impossible; expected at least 1"


def test_every_field_has_a_name_and_says_how_to_type(document: Document, qtbot: QtBot) -> None:
    for field in (LengthField(document, "Width"), AngleField("Angle"), WholeField("Pieces")):
        qtbot.addWidget(field)
        assert field.accessibleName() in field.toolTip()
    length = LengthField(document, "Width", about="Across the board.")
    qtbot.addWidget(length)
    for words in ("Across the board.", "1 3/8 in", "Up and Down", "Shift"):
        assert words in length.toolTip()

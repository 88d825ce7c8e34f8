"""The piece's forms: each field one named step, each refusal beside its field."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QFont
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Choice, Trouble
from profilestack.desktop.number_field import NumberField
from profilestack.desktop.piece.panel import PiecePanel
from profilestack.desktop.piece.text_field import TextField
from profilestack.desktop.theme import DARK, LIGHT, palette_of
from profilestack.files.shipped import shipped_examples_dir
from profilestack.geometry.path import Path
from profilestack.session.session import Session
from profilestack.stack import (
    Blank,
    CurvedRun,
    OutlineStock,
    Rectangle,
    Round,
    Setup,
    StraightRun,
    TurnedRun,
)

Key = Qt.Key


@pytest.fixture
def document(own_places: None) -> Document:
    return Document(Session.open(shipped_examples_dir() / "cornice" / "crown.stack.toml"))


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> PiecePanel:
    return shown(qtbot, document)


def shown(qtbot: QtBot, document: Document) -> PiecePanel:
    panel = PiecePanel(document)
    qtbot.addWidget(panel)
    panel.resize(440, 760)
    panel.show()
    panel.activateWindow()
    qtbot.waitUntil(panel.isActiveWindow)
    return panel


def entered(qtbot: QtBot, field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Key.Key_Return)


def picked(choice: Choice, key: str) -> None:
    place = choice.findData(key)
    assert place >= 0
    choice.setCurrentIndex(place)
    choice.activated.emit(place)


def reasons(panel: PiecePanel) -> list[str]:
    return [reason.text() for reason in panel.findChildren(Trouble) if reason.isVisible()]


def test_the_forms_show_the_document(panel: PiecePanel, document: Document) -> None:
    assert panel.head.heading.text() == "Reading-room bookcase: cornice, sprung 45"
    assert panel.head.species.text() == "yellow-poplar"
    assert panel.blank.fields["width"].text() == "84 mm"
    assert not panel.blank.fields["diameter"].isVisible()
    assert panel.run.fields["pieces"].text() == "4"
    assert [row.name.text() for row in panel.setups.rows] == ["back", "tipped"]
    assert panel.tolerance.fields["overcut"].text() == "0.1 mm"
    assert reasons(panel) == []


@pytest.mark.parametrize(
    ("form", "key", "text", "mm", "label"),
    [
        ("blank", "width", "3 1/2 in", 88.9, "Change the blank's width"),
        ("blank", "thickness", "21", 21.0, "Change the blank's thickness"),
        ("run", "length", "8 ft", 2438.4, "Change the run's length"),
        ("run", "pieces", "12", 12.0, "Change the number of pieces"),
        ("tolerance", "leftover", "0.2", 0.2, "Change the tolerance of the leftover"),
    ],
)
def test_a_number_is_one_step_with_a_name(
    qtbot: QtBot, panel: PiecePanel, document: Document,
    form: str, key: str, text: str, mm: float, label: str,
) -> None:  # fmt: skip
    before = document.stack
    field: NumberField = getattr(panel, form).fields[key]
    entered(qtbot, field, text)
    part = {"blank": before.blank.stock, "run": before.run, "tolerance": before.tolerance}[form]
    now = {
        "blank": document.stack.blank.stock,
        "run": document.stack.run,
        "tolerance": document.stack.tolerance,
    }[form]
    assert now == replace(part, **{key: mm})  # type: ignore[type-var]
    assert document.session.undo_label == label
    document.undo()
    assert document.stack == before
    assert field.value == getattr(part, key)


def test_steps_of_a_number_are_one_undo_step(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    before = document.stack
    field = panel.blank.fields["width"]
    entered(qtbot, field, "90")
    for _ in range(4):
        qtbot.keyClick(field, Key.Key_Up)
    assert document.stack.blank.stock == Rectangle(90.4, 20.0)
    document.undo()
    assert document.stack.blank.stock == Rectangle(90.0, 20.0)
    document.undo()
    assert document.stack == before


def test_what_the_engine_refuses_stays_in_its_field_with_the_reason(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    before = document.stack
    field = panel.blank.fields["width"]
    entered(qtbot, field, "-5")
    assert (field.text(), document.stack) == ("-5", before)
    (reason,) = reasons(panel)
    assert reason.startswith("\N{WARNING SIGN}")
    assert "-5.0 is impossible; expected a length above 0" in reason
    document.edit(replace(before, title="another"), "Change the title")
    assert field.text() == "-5"
    qtbot.keyClick(field, Key.Key_Escape)
    assert (field.text(), reasons(panel)) == ("84 mm", [])


def test_words_are_one_step_each(qtbot: QtBot, panel: PiecePanel, document: Document) -> None:
    entered(qtbot, panel.head.heading, "Crown for the hall")
    assert document.stack.title == "Crown for the hall"
    assert document.session.undo_label == "Change the title"
    entered(qtbot, panel.head.species, "")
    qtbot.keyClick(panel.head.species, Key.Key_Delete)
    qtbot.keyClick(panel.head.species, Key.Key_Return)
    assert document.stack.blank.species is None
    document.undo()
    assert panel.head.species.text() == "yellow-poplar"
    panel.head.heading.setFocus()
    qtbot.keyClicks(panel.head.heading, " and more")
    qtbot.keyClick(panel.head.heading, Key.Key_Escape)
    assert panel.head.heading.text() == "Crown for the hall"


def test_units_of_the_document_are_shown_at_once(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    picked(panel.head.units, "in")
    assert (document.stack.units, document.units) == ("in", "in")
    assert panel.blank.fields["width"].text() == "3.307 in"
    document.undo()
    assert (document.stack.units, document.units) == ("mm", "mm")
    assert panel.blank.fields["width"].text() == "84 mm"
    assert panel.head.units.key == "mm"


def test_a_round_blank_has_a_diameter(qtbot: QtBot, panel: PiecePanel, document: Document) -> None:
    picked(panel.blank.kind, "round")
    assert document.stack.blank.stock == Round(84.0)
    assert panel.blank.fields["diameter"].isVisible()
    assert not panel.blank.fields["width"].isVisible()
    document.undo()
    assert panel.blank.kind.key == "rectangle"


def test_an_outline_is_shown_with_its_size(qtbot: QtBot, document: Document) -> None:
    corners = Path((0.0, 0.0)).line((40.0, 0.0)).line((0.0, 25.0)).line((0.0, 0.0))
    stack = replace(document.stack, blank=Blank(OutlineStock(corners)), target=None)
    document.edit(stack, "Change the blank")
    panel = shown(qtbot, document)
    assert panel.blank.kind.key == "outline"
    assert "40 × 25 mm" in panel.blank.outline.text()
    assert not any(field.isVisible() for field in panel.blank.fields.values())
    picked(panel.blank.kind, "rectangle")
    assert document.stack.blank.stock == Rectangle(40.0, 25.0)
    assert panel.blank.kind.findData("outline") < 0


def test_a_run_that_the_setups_contradict_is_refused_beside_the_choice(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    before = document.stack
    picked(panel.run.kind, "curved")
    assert document.stack == before
    assert panel.run.kind.key == "straight"
    (reason,) = reasons(panel)
    assert "neither on edge nor on a wedge" in reason


def test_each_run_shows_its_own_numbers_and_its_plan(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    face = replace(document.stack, setups=(), passes=document.stack.passes[2:9])
    document.edit(face, "Leave the face alone")
    straight = panel.run.plan.grab().toImage()
    for kind, made, keys in (
        ("curved", CurvedRun(900.0, 60.0, 4), {"radius", "angle", "pieces"}),
        ("turned", TurnedRun(4), {"pieces"}),
        ("straight", StraightRun(2400.0, 4), {"length", "pieces"}),
    ):
        picked(panel.run.kind, kind)
        assert document.stack.run == made
        assert {k for k, field in panel.run.fields.items() if field.isVisible()} == keys
        drawn = panel.run.plan.grab().toImage()
        assert (drawn == straight) == (kind == "straight")
    assert panel.run.plan.accessibleDescription() == "straight, 2400 mm long, 4 pieces"


def wooden(panel: PiecePanel) -> set[tuple[int, int]]:
    """The pixels of the plan that are filled as wood."""
    image = panel.run.plan.grab().toImage()
    wood = QColor(LIGHT.wood)
    return {
        (x, y)
        for x in range(image.width())
        for y in range(image.height())
        if image.pixelColor(x, y) == wood
    }


def test_the_plan_is_to_scale(qtbot: QtBot, panel: PiecePanel, document: Document) -> None:
    document.edit(replace(document.stack, run=StraightRun(336.0)), "Shorten")
    filled = wooden(panel)
    wide = max(x for x, _ in filled) - min(x for x, _ in filled)
    high = max(y for _, y in filled) - min(y for _, y in filled)
    # 336 long and 84 wide, less a line at either side
    assert (wide + 2.0) / (high + 2.0) == pytest.approx(4.0, rel=0.06)


def test_setups_are_added_named_turned_and_removed(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    before = document.stack
    panel.setups.add.click()
    row = panel.setups.rows[-1]
    assert document.stack.setups[-1] == Setup("edge", 90.0)
    assert QApplication.focusWidget() is row.name
    entered(qtbot, row.name, "left edge")
    entered(qtbot, row.angle, "270")
    entered(qtbot, row.copies, "2")
    assert document.stack.setups[-1] == Setup("left edge", 270.0, 2)
    assert document.session.undo_label == "Change the copies of the setup left edge"
    assert row.used.text() == "Not used by any pass."
    row.remove.click()
    assert document.stack.setups == before.setups
    assert len(panel.setups.rows) == 2
    for _ in range(5):
        document.undo()
    assert document.stack == before
    assert len(panel.setups.rows) == 2


def test_a_setup_in_use_says_so_and_takes_its_passes_along(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    back = panel.setups.rows[0]
    assert back.used.text() == "Used by passes 1 and 2."
    assert not back.remove.isEnabled()
    assert "it is used by passes 1 and 2" in back.remove.toolTip()
    entered(qtbot, back.name, "bed side up")
    assert [single.setup for single in document.stack.passes[:2]] == ["bed side up"] * 2


def test_a_setup_s_refusal_stands_below_it(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    before = document.stack
    back = panel.setups.rows[0]
    entered(qtbot, back.name, "face")
    assert (back.name.text(), document.stack) == ("face", before)
    assert back.reason.isVisible()
    assert "'face' always exists" in back.reason.text()
    entered(qtbot, back.name, "over")
    assert document.stack.setups[0].name == "over"
    assert not back.reason.isVisible()
    entered(qtbot, back.angle, "400")
    assert "-360" in back.reason.text()


def test_a_turned_part_says_why_no_setup_can_be_added(qtbot: QtBot, own_places: None) -> None:
    rings = shipped_examples_dir() / "half-column" / "rings.stack.toml"
    panel = shown(qtbot, Document(Session.open(rings)))
    assert not panel.setups.add.isEnabled()
    assert panel.setups.add.toolTip() == "A turned part is cut from its face alone."


def test_everything_has_a_name_and_is_reached_by_keys(qtbot: QtBot, panel: PiecePanel) -> None:
    wanted = {
        widget
        for kind in (TextField, NumberField, Choice, QPushButton)
        for widget in panel.findChildren(kind)
        if widget.isVisible() and widget.isEnabled()
    }
    panel.head.heading.setFocus()
    met = set()
    for _ in range(2 * len(wanted)):
        focused = QApplication.focusWidget()
        assert focused is not None
        met.add(focused)
        qtbot.keyClick(focused, Key.Key_Tab)
    assert met >= wanted
    for widget in wanted:
        name = widget.accessibleName() or getattr(widget, "text", str)()
        assert name
        assert widget.toolTip()


def test_choices_ignore_the_wheel_of_a_form_that_scrolls_by(panel: PiecePanel) -> None:
    for choice in panel.findChildren(QComboBox):
        assert choice.focusPolicy() == Qt.FocusPolicy.StrongFocus


def test_what_is_typed_survives_changes_elsewhere(
    qtbot: QtBot, panel: PiecePanel, document: Document
) -> None:
    field = panel.blank.fields["thickness"]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "22")
    document.edit(replace(document.stack, title="x"), "Change the title")
    assert field.text() == "22"
    qtbot.keyClick(field, Key.Key_Return)
    assert document.stack.blank.stock == Rectangle(84.0, 22.0)


def test_large_type_and_another_theme(qtbot: QtBot, panel: PiecePanel) -> None:
    entered(qtbot, panel.blank.fields["width"], "wide")
    font = QFont(panel.font())
    font.setPointSizeF(font.pointSizeF() * 1.5)
    before = panel.blank.fields["width"].sizeHint().height()
    panel.setFont(font)
    assert panel.blank.fields["width"].sizeHint().height() > before
    old = QApplication.palette()
    try:
        QApplication.setPalette(palette_of(DARK))
        QApplication.processEvents()
        (reason,) = [one for one in panel.findChildren(Trouble) if one.isVisible()]
        assert reason.palette().windowText().color() == QColor(DARK.leftover)
    finally:
        QApplication.setPalette(old)

"""The form of a bit: made, changed, refused, kept."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from profilestack.bits.edge import largest_radius
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.files.library_file import read_library
from profilestack.files.shipped import drawer_path, read_drawer
from profilestack.session.bit_sources import OWN
from profilestack.session.session import Session
from tests.gui.drawer_hands import GROOVE, document_of, fill, shown
from tests.shop import core_box, stack_of


@pytest.fixture
def panel(qtbot: QtBot) -> DrawerPanel:
    return shown(qtbot, document_of(target=GROOVE))


def test_a_new_bit_is_drawn_while_it_is_typed_and_kept_in_the_drawer(
    qtbot: QtBot, panel: DrawerPanel
) -> None:
    panel.at_hand.choose("core-box-2in")
    panel.at_hand.foot.new.click()
    form = panel.form
    assert form.shape.currentData() == "core-box"
    assert form.drawing.bit is not None
    fill(panel, "diameter", "22")
    assert largest_radius(form.drawing.bit) == 11.0
    assert form.lines.rows["id"].value == "core-box-22-mm"
    fill(panel, "id", "box 22")
    fill(panel, "note", "ground twice")
    form.keep.click()
    assert drawer_path().exists()
    kept = read_drawer().bit("box 22")
    assert kept.note == "ground twice"
    assert len(read_drawer()) == len(read_library(drawer_path())) == 41
    assert panel.chosen == kept
    assert panel.document.session.bit_called("box 22") == kept
    assert panel.document.session.undo_label is None
    assert panel.at_hand.foot.put_back.isVisible()
    panel.at_hand.foot.put_back.click()
    assert "box 22" not in read_drawer()
    assert panel.at_hand.model.index_of("box 22").isValid() is False


def test_problems_stand_at_their_keys_and_nothing_is_kept(panel: DrawerPanel) -> None:
    panel.begin_form()
    form = panel.form
    form.shape.setCurrentIndex(form.shape.findData("v-groove"))
    form.shape.activated.emit(form.shape.currentIndex())
    fill(panel, "tip", "20 mm")
    assert "as wide as the bit" in form.lines.rows["tip"].problem.text()
    assert form.lines.rows["diameter"].problem.isHidden()
    fill(panel, "shank", "nonsense")
    assert "not a length" in form.lines.rows["shank"].problem.text()
    form.keep.click()
    assert not drawer_path().exists()
    assert form.isVisible()
    fill(panel, "tip", "1/64 in")
    fill(panel, "shank", "8")
    assert form.lines.rows["tip"].problem.isHidden()
    assert form.lines.rows["shank"].problem.isHidden()


def test_what_is_missing_is_told_when_it_is_wanted(panel: DrawerPanel) -> None:
    panel.begin_form()
    form = panel.form
    form.shape.setCurrentIndex(form.shape.findData("outline"))
    form.shape.activated.emit(form.shape.currentIndex())
    assert form.lines.rows["outline"].problem.isHidden()
    form.keep.click()
    assert "is missing" in form.lines.rows["outline"].problem.text()


def test_a_name_that_is_taken_is_refused_at_its_key(panel: DrawerPanel) -> None:
    panel.begin_form()
    fill(panel, "id", "core-box-2in")
    panel.form.keep.click()
    assert "is there already" in panel.form.lines.rows["id"].problem.text()
    assert not drawer_path().exists()


def test_changing_a_bit_that_the_document_uses_is_one_step(qtbot: QtBot) -> None:
    one = core_box(20.0)
    document = Document(Session(stack_of((one, 30.0, 5.0), bits=(one,), target=GROOVE)[0]))
    panel = shown(qtbot, document)
    panel.at_hand.choose_source(OWN)
    panel.focus_bits()
    assert panel.chosen == one
    before = document.report
    qtbot.keyClick(panel.at_hand.view, Qt.Key.Key_F2)
    assert panel.form.keep_in.currentData() == OWN
    fill(panel, "measured", "19.6")
    panel.form.keep.click()
    assert document.stack.bits == (replace(one, measured=19.6),)
    assert document.session.undo_label == "Change bit core-box 20"
    assert document.report is not before
    document.undo()
    assert document.stack.bits == (one,)
    assert document.session.undo_label is None
    assert panel.at_hand.model.bits == (one,)


def test_a_changed_drawer_is_seen_by_the_section(qtbot: QtBot) -> None:
    used = read_drawer().bit("core-box-2in")
    document = Document(Session(stack_of((used, 30.0, 5.0))[0]))
    panel = shown(qtbot, document)
    area = document.report.cut.passes[0].removed_area
    panel.at_hand.choose("core-box-2in")
    panel.at_hand.foot.change.click()
    fill(panel, "measured", "50 mm")
    panel.form.keep.click()
    assert document.report.cut.passes[0].removed_area < area
    panel.at_hand.foot.put_back.click()
    assert document.report.cut.passes[0].removed_area == area


def test_a_bit_is_kept_in_another_file(panel: DrawerPanel, tmp_path: Path) -> None:
    file = tmp_path / "new.bits.toml"
    panel.ask_new_library = lambda: str(file)
    panel.begin_form()
    fill(panel, "diameter", "7")
    panel.form.keep_in.setCurrentIndex(panel.form.keep_in.count() - 1)
    panel.form.keep.click()
    assert [largest_radius(bit) for bit in read_library(file)] == [3.5]
    assert panel.at_hand.source.currentText() == "new.bits.toml"
    assert len(panel.at_hand.model.bits) == 1


def test_a_drawer_that_cannot_be_written_is_told(
    panel: DrawerPanel, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("no folder")
    panel.begin_form()
    monkeypatch.setenv("PROFILESTACK_DRAWER", str(tmp_path / "file" / "drawer.bits.toml"))
    panel.form.keep.click()
    assert panel.form.isVisible()
    assert "file" in panel.form.message.text()


def test_the_outline_of_a_drawing_becomes_a_bit(
    qtbot: QtBot, panel: DrawerPanel, tmp_path: Path
) -> None:
    file = tmp_path / "nose.svg"
    file.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="40mm" viewBox="0 0 40 40">'
        '<path fill="none" d="M 14 15 L 14 24 A 6 6 0 0 0 26 24 L 26 15"/></svg>'
    )
    panel.begin_form()
    form = panel.form
    form.shape.setCurrentIndex(form.shape.findData("outline"))
    form.shape.activated.emit(form.shape.currentIndex())
    form.ask_drawing = lambda: str(file)
    form.lines.rows["outline"].field.click()
    qtbot.waitUntil(lambda: form.lines.rows["outline"].value is not None, timeout=20_000)
    assert largest_radius(form.drawing.bit) == pytest.approx(6.0, abs=0.01)
    assert form.lines.rows["cutting_length"].value == pytest.approx(15.0, abs=0.01)
    form.keep.click()
    assert panel.chosen is not None
    assert panel.chosen.shape.word == "outline"


def test_a_drawing_that_cannot_be_read_is_told(
    qtbot: QtBot, panel: DrawerPanel, tmp_path: Path
) -> None:
    panel.begin_form()
    form = panel.form
    form.shape.setCurrentIndex(form.shape.findData("outline"))
    form.shape.activated.emit(form.shape.currentIndex())
    form.ask_drawing = lambda: str(tmp_path / "none.svg")
    form.lines.rows["outline"].field.click()
    qtbot.waitUntil(lambda: "none.svg" in form.message.text(), timeout=20_000)


def test_escape_leaves_the_form(qtbot: QtBot, panel: DrawerPanel) -> None:
    panel.begin_form()
    assert panel.form.isVisible()
    qtbot.keyClick(panel.form.shape, Qt.Key.Key_Escape)
    assert not panel.form.isVisible()
    assert panel.at_hand.view.isVisible()

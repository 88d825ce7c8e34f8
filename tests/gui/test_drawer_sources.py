"""Where bits come from, and where they go: files, documents, other windows."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.document import Document
from profilestack.desktop.drawer.at_hand import OPEN
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.desktop.window import Window
from profilestack.files.library_file import write_library
from profilestack.files.shipped import ALL, read_bits, read_drawer
from profilestack.session.bit_sources import DRAWER, OWN, SHIPPED
from profilestack.session.session import Session
from profilestack.stack import Pass
from tests.gui.drawer_hands import GROOVE, document_of, fill, shown
from tests.shop import core_box, stack_of


@pytest.fixture
def panel(qtbot: QtBot) -> DrawerPanel:
    return shown(qtbot, document_of(target=GROOVE))


def test_sources_and_opened_files(qtbot: QtBot, panel: DrawerPanel, tmp_path: Path) -> None:
    panel.at_hand.choose_source(SHIPPED)
    assert len(panel.at_hand.model.bits) == len(read_bits(ALL))
    panel.at_hand.choose_source(OWN)
    assert panel.at_hand.model.bits == ()
    assert "carries no bits" in panel.at_hand.foot.words.text()
    file = tmp_path / "shed.bits.toml"
    write_library([core_box(22.0)], file)
    panel.at_hand.ask_library = lambda: str(file)
    panel.at_hand.source.setCurrentIndex(panel.at_hand.source.findData(OPEN))
    panel.at_hand.source.activated.emit(panel.at_hand.source.currentIndex())
    assert [bit.id for bit in panel.at_hand.model.bits] == ["core-box 22"]
    assert panel.at_hand.source.currentText() == "shed.bits.toml"
    assert panel.document.session.bit_called("core-box 22") == core_box(22.0)


def test_a_file_that_is_no_library_is_told(panel: DrawerPanel, tmp_path: Path) -> None:
    file = tmp_path / "wrong.bits.toml"
    file.write_text("format = 'profilestack-bits/1'\nunits = 'ells'\n")
    panel.at_hand.ask_library = lambda: str(file)
    panel.at_hand.source.setCurrentIndex(panel.at_hand.source.findData(OPEN))
    panel.at_hand.source.activated.emit(panel.at_hand.source.currentIndex())
    assert "units" in panel.at_hand.foot.words.text()
    assert panel.at_hand.source.currentData() == DRAWER


def test_a_bit_is_taken_out_of_the_drawer_and_put_back(panel: DrawerPanel) -> None:
    panel.at_hand.choose("core-box-2in")
    panel.at_hand.foot.take_out.click()
    assert "core-box-2in" not in read_drawer()
    panel.at_hand.foot.put_back.click()
    assert "core-box-2in" in read_drawer()
    panel.at_hand.choose_source(SHIPPED)
    panel.at_hand.choose("core-box-2in")
    assert not panel.at_hand.foot.take_out.isEnabled()
    assert "alone" in panel.at_hand.foot.take_out.toolTip()


def test_a_bit_that_only_the_document_has_and_cuts_with_stays(qtbot: QtBot) -> None:
    one = core_box(20.0)
    panel = shown(qtbot, Document(Session(stack_of((one, 30.0, 5.0), bits=(one,))[0])))
    panel.at_hand.choose_source(OWN)
    panel.focus_bits()
    assert not panel.at_hand.foot.take_out.isEnabled()
    assert "A pass cuts with it" in panel.at_hand.foot.take_out.toolTip()


def test_placed_from_an_opened_file_a_bit_goes_with_the_document(
    window: Window, tmp_path: Path
) -> None:
    file = tmp_path / "shed.bits.toml"
    write_library([core_box(22.0)], file)
    panel = window.show_panel("drawer")
    assert isinstance(panel, DrawerPanel)
    document = window.document
    panel.at_hand.open_library(str(file))
    panel.focus_bits()
    panel.at_hand.foot.place.click()
    assert [single.bit for single in document.stack.passes] == ["core-box 22"]
    assert document.stack.bits == (core_box(22.0),)
    assert document.session.undo_label == "Place core-box 22"
    # the shipped ones are known everywhere
    panel.at_hand.choose_source(DRAWER)
    panel.at_hand.choose("core-box-2in")
    panel.at_hand.foot.place.click()
    assert [single.bit for single in document.stack.passes] == ["core-box 22", "core-box-2in"]
    assert document.stack.bits == (core_box(22.0),)
    document.undo()
    document.undo()
    assert document.stack.passes == ()
    assert document.stack.bits == ()


def test_a_bit_kept_in_one_window_is_seen_in_the_others(desk: Desk) -> None:
    first, second = desk.new(), desk.new()
    used = read_drawer().bit("core-box-2in")
    stack = second.document.stack
    second.document.edit(replace(stack, passes=(Pass(used.id, 20.0, 3.0),)), "Add a pass")
    area = second.document.report.cut.passes[0].removed_area
    panel, other = first.show_panel("drawer"), second.show_panel("drawer")
    assert isinstance(panel, DrawerPanel)
    assert isinstance(other, DrawerPanel)
    panel.at_hand.choose(used.id)
    panel.at_hand.foot.change.click()
    fill(panel, "measured", "50 mm")
    panel.form.keep.click()
    assert second.document.report.cut.passes[0].removed_area < area
    assert {bit.id: bit for bit in other.at_hand.model.bits}[used.id].measured == 50.0

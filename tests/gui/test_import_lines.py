"""Drawings that fall into several lines: our own are known, of others one is chosen by number."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path as FilePath

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.target.import_view import ImportView
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.theme import DARK, LIGHT, palette_of
from profilestack.files.shipped import shipped_examples_dir
from profilestack.jobs.export import export
from profilestack.jobs.exports.order import ExportOrder
from profilestack.jobs.opening import open_stack
from profilestack.session.target_import import MOST_SHOWN
from profilestack.stack import Blank, Rectangle, Stack
from tests.gui.target_hands import Keys, document_with, read, shown
from tests.unit.files.targets.drawings import dxf_bytes, new_dxf
from tests.unit.targets.profiles import farthest

NEAR = 0.005
BUTTON = Qt.MouseButton.LeftButton


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return document_with()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


@pytest.fixture
def crown(tmp_path: FilePath) -> tuple[Stack, FilePath]:
    """The shipped example, and what is written of it for other programs."""
    opened = open_stack(shipped_examples_dir() / "cornice" / "crown.stack.toml", ())
    file = tmp_path / "crown.dxf"
    export(ExportOrder(opened.stack, opened.bits, file, "mm"))
    return opened.stack, file


@pytest.fixture
def three(tmp_path: FilePath) -> FilePath:
    """A drawing of three level lines: 60, 50 and 40 long."""
    drawing = new_dxf()
    for k, layer in enumerate(("high", "middle", "low")):
        line = ((0.0, 30.0 - 10.0 * k), (60.0 - 10.0 * k, 30.0 - 10.0 * k))
        drawing.modelspace().add_line(*line, dxfattribs={"layer": layer})
    file = tmp_path / "three.dxf"
    file.write_bytes(dxf_bytes(drawing))
    return file


def length_of(importing: ImportView) -> float:
    assert importing.report is not None
    return importing.report.fitted.length


def click_on(qtbot: QtBot, importing: ImportView, number: int) -> None:
    sheet = importing.sheet
    item = sheet.item(number - 1)
    sheet.scrollToItem(item)
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        qtbot.mouseClick(sheet.viewport(), BUTTON, pos=sheet.visualItemRect(item).center())


def test_an_exported_drawing_comes_back_without_a_question(
    qtbot: QtBot, panel: TargetPanel, document: Document, crown: tuple[Stack, FilePath]
) -> None:
    stack, file = crown
    read(qtbot, panel, file)
    importing = panel.importing
    assert importing.trouble.isHidden()
    assert all(row.trouble.isHidden() for row in importing.form.rows.values())
    assert not importing.sheet.isVisible()
    told = importing.told.text()
    assert "Layer TARGET was taken as the profile" in told
    assert "Its blank is that of layer BLANK" in told
    assert "--" not in told
    qtbot.mouseClick(importing.take_it, BUTTON)
    settled = document.session.settled
    assert settled.target is not None
    assert stack.target is not None
    back, meant = settled.target.path(), stack.target.path()
    assert farthest(back.flatten(0.01), meant) < NEAR
    assert farthest(meant.flatten(0.01), back) < NEAR
    assert np.abs(np.array([*back.start, *back.end]) - [*meant.start, *meant.end]).max() < NEAR
    assert settled.blank == Blank(Rectangle(84.0, 20.0))
    assert panel.trouble.isHidden()
    document.undo()
    assert document.session.settled.target is None


def test_the_blank_of_the_drawing_may_be_left(
    qtbot: QtBot, panel: TargetPanel, crown: tuple[Stack, FilePath]
) -> None:
    read(qtbot, panel, crown[1])
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        Keys(qtbot, panel).choose(panel.importing.form.choices["blank"], "as large as the profile")
    report = panel.importing.report
    assert report is not None
    stock = report.stack.blank.stock
    assert isinstance(stock, Rectangle)
    assert stock.thickness == pytest.approx(28.0, abs=1e-3)


def test_another_line_of_it_is_taken_by_its_number(
    qtbot: QtBot, panel: TargetPanel, crown: tuple[Stack, FilePath]
) -> None:
    read(qtbot, panel, crown[1])
    importing = panel.importing
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        Keys(qtbot, panel).enter(importing.form.numbers["pick"], "99")
    assert importing.sheet.isVisible()
    assert importing.sheet.count() == 17
    assert (
        "Number 99 is none of its lines; expected 1 to 17."
        in importing.form.rows["pick"].trouble.text()
    )
    words = [importing.sheet.item(k).text() for k in range(17)]
    section = next(k for k, text in enumerate(words, 1) if "SECTION" in text)
    click_on(qtbot, importing, section)
    assert importing.form.numbers["pick"].value == section
    assert importing.report is not None
    assert importing.report.fitted.is_closed
    assert importing.sheet.isVisible(), "another one may be meant after all"
    assert importing.sheet.currentRow() == section - 1


def test_one_of_several_lines_is_clicked_on(
    qtbot: QtBot, panel: TargetPanel, three: FilePath
) -> None:
    read(qtbot, panel, three)
    importing = panel.importing
    assert importing.trouble.text().endswith(
        "The drawing falls into 3 lines; expected one profile. "
        "Click on the one that is meant, or give its number or its layer."
    )
    assert not importing.drawing.isVisible()
    sheet = importing.sheet
    assert sheet.isVisible()
    assert [sheet.item(k).text() for k in range(sheet.count())] == [
        "1: high, 60 mm, open", "2: middle, 50 mm, open", "3: low, 40 mm, open",
    ]  # fmt: skip
    assert sheet.selectedItems() == []
    click_on(qtbot, importing, 2)
    assert length_of(importing) == pytest.approx(50.0)
    assert importing.form.numbers["pick"].text() == "2"
    assert importing.trouble.isHidden()
    click_on(qtbot, importing, 3)
    assert length_of(importing) == pytest.approx(40.0)


def test_one_of_several_lines_is_chosen_by_keys(
    qtbot: QtBot, panel: TargetPanel, three: FilePath
) -> None:
    read(qtbot, panel, three)
    keys, importing = Keys(qtbot, panel), panel.importing
    keys.go_to(importing.sheet)
    keys.press(Qt.Key.Key_Home)
    keys.press(Qt.Key.Key_Right)
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.press(Qt.Key.Key_Return)
    assert length_of(importing) == pytest.approx(50.0)
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.enter(importing.form.numbers["pick"], "1")
    assert length_of(importing) == pytest.approx(60.0)
    assert importing.sheet.currentRow() == 0
    # without a number it is asked again
    keys.go_to(importing.form.numbers["pick"])
    importing.form.numbers["pick"].selectAll()
    keys.press(Qt.Key.Key_Delete)
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        keys.press(Qt.Key.Key_Return)
    assert importing.report is None
    assert importing.sheet.selectedItems() == []


def test_another_file_is_not_asked_for_the_number_of_the_one_before(
    qtbot: QtBot, panel: TargetPanel, three: FilePath, crown: tuple[Stack, FilePath]
) -> None:
    read(qtbot, panel, three)
    click_on(qtbot, panel.importing, 3)
    read(qtbot, panel, crown[1])
    assert panel.importing.form.numbers["pick"].value is None
    assert not panel.importing.sheet.isVisible()
    assert panel.importing.report is not None


def test_of_very_many_lines_the_longest_are_shown(
    qtbot: QtBot, panel: TargetPanel, tmp_path: FilePath
) -> None:
    drawing = new_dxf()
    for k in range(MOST_SHOWN + 40):
        drawing.modelspace().add_line((0, 5 * k), (10 + k, 5 * k))
    file = tmp_path / "many.dxf"
    file.write_bytes(dxf_bytes(drawing))
    read(qtbot, panel, file)
    sheet = panel.importing.sheet
    assert sheet.count() == MOST_SHOWN
    assert "1: 0, 109 mm" in sheet.item(0).text()
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        Keys(qtbot, panel).enter(panel.importing.form.numbers["pick"], str(MOST_SHOWN + 1))
    assert length_of(panel.importing) == pytest.approx(109.0 - MOST_SHOWN)
    assert sheet.selectedItems() == []


def test_lines_are_drawn_in_the_colours_of_the_theme(
    qtbot: QtBot, panel: TargetPanel, three: FilePath
) -> None:
    read(qtbot, panel, three)
    sheet = panel.importing.sheet
    former = QApplication.palette()
    try:
        for theme in (LIGHT, DARK):
            QApplication.setPalette(palette_of(theme))
            QApplication.processEvents()
            cell = sheet.visualItemRect(sheet.item(2))
            image = sheet.viewport().grab(cell).toImage()
            colors = {
                image.pixelColor(image.width() * x // 40, y).name()
                for x in range(15, 36)
                for y in range(image.height())
            }
            assert QColor(theme.target).name() in colors
    finally:
        QApplication.setPalette(former)

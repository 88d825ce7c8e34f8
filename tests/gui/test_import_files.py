"""The wanted profile is imported from a drawing or picture: previewed, asked about, taken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as FilePath

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.target.panel import TargetPanel
from profilestack.jobs.target import Laying, TargetRequest, make_target
from profilestack.stack import Blank, Rectangle
from tests.gui.target_hands import Keys, document_with, path_of, read, shown
from tests.unit.files.targets.drawings import dxf_bytes, dxf_of_pieces, new_dxf, svg, svg_path_of
from tests.unit.files.targets.pictures import encoded, picture
from tests.unit.targets.profiles import SECTION, STEPPED


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return document_with()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


def test_svg_is_previewed_then_taken(
    qtbot: QtBot, panel: TargetPanel, document: Document, tmp_path: FilePath
) -> None:
    file = tmp_path / "step.svg"
    file.write_bytes(svg(f'<path d="{svg_path_of(STEPPED)}" fill="none" stroke="black"/>'))
    before = document.session.settled
    read(qtbot, panel, file)
    importing = panel.importing
    assert "Largest deviation" in importing.told.text()
    assert document.stack is before
    assert not panel.members.isVisible()
    qtbot.mouseClick(importing.take_it, Qt.MouseButton.LeftButton)
    report = make_target(TargetRequest(file))
    assert document.session.settled.target == report.stack.target
    assert document.session.settled.blank == report.stack.blank
    assert document.session.undo_label == "Import step.svg"
    assert panel.path.isVisible()
    document.undo()
    assert document.session.settled is before


def test_dxf_without_units_asks_for_them(
    qtbot: QtBot, panel: TargetPanel, document: Document, tmp_path: FilePath
) -> None:
    file = tmp_path / "step.dxf"
    file.write_bytes(dxf_of_pieces(STEPPED, "R2010", units=0, scale=1 / 25.4))
    read(qtbot, panel, file)
    importing = panel.importing
    trouble = importing.form.rows["units"].trouble
    assert trouble.text().endswith(
        "The drawing does not say its units; expected mm or inches. "
        'Choose mm or inches under "Its numbers are".'
    )
    assert "--" not in trouble.text()
    assert not importing.take_it.isEnabled()
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        Keys(qtbot, panel).choose(importing.form.choices["units"], "inches")
    assert trouble.isHidden()
    importing.take()
    assert path_of(document).length == pytest.approx(STEPPED.length, abs=0.01)


def test_side_mirror_scale_and_board_of_an_import(
    qtbot: QtBot, panel: TargetPanel, document: Document, tmp_path: FilePath
) -> None:
    file = tmp_path / "step.dxf"
    file.write_bytes(dxf_of_pieces(STEPPED, "R2010"))
    document.edit(replace(document.stack, blank=Blank(Rectangle(35.0, 40.0))), "Resize")
    read(qtbot, panel, file)
    form = panel.importing.form
    form.mirror.setChecked(True)
    form.numbers["scale"].value = 0.5
    form.choices["blank"].setCurrentIndex(form.choices["blank"].findData("own"))
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        panel.importing.read()
    panel.importing.take()
    laying = Laying(mirror=True, scale=0.5, width=35.0, thickness=40.0)
    assert (
        document.session.settled.target
        == make_target(TargetRequest(file, laying=laying)).stack.target
    )
    assert document.session.settled.blank == Blank(Rectangle(35.0, 40.0))


def test_layer_is_chosen(qtbot: QtBot, panel: TargetPanel, tmp_path: FilePath) -> None:
    drawing = new_dxf()
    space = drawing.modelspace()
    space.add_line((0, 10), (50, 10), dxfattribs={"layer": "profile"})
    space.add_line((0, 0), (9, 0), dxfattribs={"layer": "frame"})
    file = tmp_path / "two.dxf"
    file.write_bytes(dxf_bytes(drawing))
    read(qtbot, panel, file)
    assert "falls into 2 lines" in panel.importing.trouble.text()
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        keys = Keys(qtbot, panel)
        keys.enter(panel.importing.form.layer, "profile")
    assert panel.importing.report is not None
    assert panel.importing.report.stack.target is not None


def test_picture_asks_for_its_scale(qtbot: QtBot, panel: TargetPanel, tmp_path: FilePath) -> None:
    file = tmp_path / "scan.png"
    file.write_bytes(encoded(picture(SECTION), "PNG"))
    read(qtbot, panel, file)
    form = panel.importing.form
    assert "does not say its scale" in form.rows["dpi"].trouble.text()
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        Keys(qtbot, panel).enter(form.numbers["dpi"], "300")
    report = panel.importing.report
    assert report is not None
    assert report.stack.target is not None
    assert report.stack.target.closed


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("cut.dxf", b"0\nSECTION\n", "cut off"),
        ("empty.svg", b"", "is empty"),
        ("words.csv", b"x_mm,z_mm\na,b\n", "words.csv"),
        ("notes.doc", b"notes", "are not read"),
    ],
)
def test_bad_file_shows_its_message(
    qtbot: QtBot, panel: TargetPanel, document: Document, tmp_path: FilePath,
    name: str, data: bytes, said: str,
) -> None:  # fmt: skip
    file = tmp_path / name
    file.write_bytes(data)
    before = document.stack
    read(qtbot, panel, file)
    told = panel.importing.trouble.text()
    assert said in told or said in panel.importing.title.text()
    assert told
    assert not panel.importing.take_it.isEnabled()
    qtbot.mouseClick(panel.importing.leave, Qt.MouseButton.LeftButton)
    assert not panel.importing.isVisible()
    assert document.stack is before

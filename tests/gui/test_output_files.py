"""What leaves the window is what the command line writes, and replaces nothing unasked."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from profilestack.cli.main import main
from profilestack.desktop.desk import Desk
from profilestack.desktop.output.exporting import ABOUT
from profilestack.desktop.window import Window
from profilestack.drawing.picture import picture_bytes
from profilestack.drawing.section_picture import section_picture
from profilestack.stack.edits import without_passes
from tests.gui.output_hands import CROWN, idle, report_of, shown_sheets


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Window:
    return desk.open(CROWN)


def answer(window: Window, path: Path | None) -> list[str]:
    """Let the next questions for a file be answered so; what they suggest is kept."""
    suggested: list[str] = []

    def ask(parent: QWidget, title: str, name: str, kinds: str) -> str:
        suggested.append(name)
        return str(path) if path else ""

    window.outputs.ask_file = ask
    return suggested


def test_template_is_what_the_command_line_writes(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    sheets = shown_sheets(qtbot, window)
    suggested = answer(window, tmp_path / "app.pdf")
    sheets.save.click()
    idle(qtbot, lambda: sheets.exporting.is_busy)
    assert Path(suggested[0]).name == "crown.pdf"
    main(["template", str(CROWN), "-o", str(tmp_path / "cli.pdf")])
    assert (tmp_path / "app.pdf").read_bytes() == (tmp_path / "cli.pdf").read_bytes()
    assert "210 mm x 297 mm, 8.268 in x 11.693 in" in sheets.words.text()


def test_template_with_every_option_is_what_the_command_line_writes(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    sheets = shown_sheets(qtbot, window)
    form = sheets.form
    form.paper.setCurrentIndex(form.paper.findData("Tabloid"))
    form.orientation.setCurrentIndex(form.orientation.findData("portrait"))
    form.reverse.setChecked(True)
    typed = ("1/2 in", "0.3", "99.5", "100.2")
    fields = (form.margin, form.clearance, form.bar_x, form.bar_z)
    for field, text in zip(fields, typed, strict=True):
        field.setFocus()
        field.selectAll()
        qtbot.keyClicks(field, text)
        qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: form.options.printed_z == 100.2)
    idle(qtbot, lambda: sheets.is_busy)
    answer(window, tmp_path / "app.pdf")
    sheets.save.click()
    idle(qtbot, lambda: sheets.exporting.is_busy)
    main(["template", str(CROWN), "-o", str(tmp_path / "cli.pdf"), "--paper", "Tabloid",
          "--orientation", "portrait", "--margin", "1/2 in", "--reverse", "0.3",
          "--bar-x", "99.5", "--bar-z", "100.2"])  # fmt: skip
    assert (tmp_path / "app.pdf").read_bytes() == (tmp_path / "cli.pdf").read_bytes()


@pytest.mark.parametrize("ending", ["png", "svg", "pdf"])
def test_picture_is_what_the_command_line_writes(
    qtbot: QtBot, window: Window, tmp_path: Path, ending: str
) -> None:
    answer(window, tmp_path / f"app.{ending}")
    with qtbot.waitSignal(window.outputs.exporting.written, timeout=30_000) as said:
        window.actions_by_name["save_picture"].trigger()
    main(["cut", str(CROWN), "--plot", str(tmp_path / f"cli.{ending}"),
          "-o", str(tmp_path / "cli.txt")])  # fmt: skip
    assert (tmp_path / f"app.{ending}").read_bytes() == (tmp_path / f"cli.{ending}").read_bytes()
    assert " mm x " in said.args[0]
    assert " in x " in said.args[0]


@pytest.mark.parametrize("ending", ["txt", "json"])
def test_report_is_what_the_command_line_writes(
    qtbot: QtBot, window: Window, tmp_path: Path, ending: str
) -> None:
    window.actions_by_name["report"].trigger()
    shown = window.outputs.report
    assert shown is not None
    answer(window, tmp_path / f"app.{ending}")
    shown.save.click()
    idle(qtbot, lambda: shown.exporting.is_busy)
    call = ["cut", str(CROWN), "-o", str(tmp_path / f"cli.{ending}")]
    main([*call, "--json"] if ending == "json" else call)
    data = (tmp_path / f"app.{ending}").read_bytes()
    assert data == (tmp_path / f"cli.{ending}").read_bytes()
    shown.kind.setCurrentIndex(shown.kind.findData("JSON" if ending == "json" else "text"))
    assert shown.text.toPlainText() + "\n" == data.decode()


def test_saved_stack_is_what_the_command_line_reads(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    stack = without_passes(window.document.stack, [9])
    window.document.edit(stack, "Delete pass 10")
    window.document.save(tmp_path / "edited.stack.toml")
    answer(window, tmp_path / "app.json")
    window.actions_by_name["report"].trigger()
    shown = window.outputs.report
    assert shown is not None
    shown.save.click()
    idle(qtbot, lambda: shown.exporting.is_busy)
    main(["cut", str(tmp_path / "edited.stack.toml"), "--json", "-o", str(tmp_path / "cli.json")])
    assert (tmp_path / "app.json").read_bytes() == (tmp_path / "cli.json").read_bytes()
    assert len(json.loads((tmp_path / "app.json").read_text())["passes"]) == 10


def test_a_name_that_gets_its_ending_replaces_nothing_unasked(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    there = tmp_path / "crown.png"
    there.write_bytes(b"mine")
    answer(window, tmp_path / "crown")
    window.actions_by_name["save_picture"].trigger()
    row = window.notices.row(ABOUT)
    assert row is not None
    assert "is there already" in row.notice.text
    assert there.read_bytes() == b"mine"
    with qtbot.waitSignal(window.outputs.exporting.written, timeout=30_000):
        row.buttons["Replace it"].click()
    assert there.read_bytes().startswith(b"\x89PNG")
    assert window.notices.row(ABOUT) is None


def test_a_file_that_cannot_be_written_is_told_and_tried_again(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    folder = tmp_path / "later"
    answer(window, folder / "crown.svg")
    window.actions_by_name["save_picture"].trigger()
    idle(qtbot, lambda: window.outputs.is_busy)
    row = window.notices.row(ABOUT)
    assert row is not None
    assert "The picture is not written" in row.notice.text
    folder.mkdir()
    with qtbot.waitSignal(window.outputs.exporting.written, timeout=30_000):
        row.buttons["Try again"].click()
    assert (folder / "crown.svg").exists()


def test_nothing_is_written_where_the_question_is_closed(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    answer(window, None)
    window.actions_by_name["save_picture"].trigger()
    assert not window.outputs.is_busy
    assert list(tmp_path.glob("*.png")) == []


def test_the_picture_is_copied(qtbot: QtBot, window: Window) -> None:
    window.actions_by_name["copy_picture"].trigger()
    idle(qtbot, lambda: window.outputs.is_busy)
    report = report_of(window)
    drawing = section_picture(report.cut, report.comparison, report.cautions, "mm")
    data = QGuiApplication.clipboard().mimeData()
    assert bytes(data.data("image/png").data()) == picture_bytes(drawing, "png")
    width = QGuiApplication.clipboard().image().width()
    assert width == pytest.approx(drawing.width / 25.4 * 200, abs=1.0)


def test_what_cannot_be_cut_has_no_output_and_says_why(qtbot: QtBot, window: Window) -> None:
    sheets = shown_sheets(qtbot, window)
    stack = window.document.stack
    lost = replace(stack.passes[0], bit="no-such-bit")
    window.document.edit(replace(stack, passes=(lost, *stack.passes[1:])), "Lose a bit")
    idle(qtbot, lambda: sheets.is_busy)
    assert sheets.view.sheets == ()
    assert "no-such-bit" in sheets.words.text()
    assert not sheets.save.isEnabled()
    for name in ("print", "save_picture", "copy_picture", "report"):
        assert not window.actions_by_name[name].isEnabled()
        assert "cannot be cut" in window.actions_by_name[name].toolTip()
    window.document.undo()
    idle(qtbot, lambda: sheets.is_busy)
    assert len(sheets.view.sheets) == 3
    assert sheets.save.isEnabled()

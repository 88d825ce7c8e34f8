"""What leaves the window is what the command line writes, and true to size on paper."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication, QImage, QPainter, QWheelEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from profilestack.cli.main import main
from profilestack.desktop.desk import Desk
from profilestack.desktop.output.exporting import ABOUT
from profilestack.desktop.output.painting import paint_drawing
from profilestack.desktop.output.template_window import TemplateWindow
from profilestack.desktop.window import Window
from profilestack.drawing.drawing import Drawing
from profilestack.drawing.picture import picture_bytes
from profilestack.drawing.section_picture import section_picture
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.template import template_sheets
from profilestack.files.shipped import shipped_examples_dir
from profilestack.jobs.cut import CutReport
from profilestack.stack.edits import without_passes
from tests.unit.drawing.pdf_reading import drawn_on, pages_of

CROWN = shipped_examples_dir() / "cornice" / "crown.stack.toml"
POINT = 25.4 / 72.0
"""A point [mm], by its definition."""


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Window:
    return desk.open(CROWN)


def report_of(window: Window) -> CutReport:
    report = window.document.report
    assert report is not None
    return report


def answer(window: Window, path: Path | None) -> list[str]:
    """Let the next questions for a file be answered so; what they suggest is kept."""
    suggested: list[str] = []

    def ask(parent: QWidget, title: str, name: str, kinds: str) -> str:
        suggested.append(name)
        return str(path) if path else ""

    window.outputs.ask_file = ask
    return suggested


def idle(qtbot: QtBot, is_busy: Callable[[], bool]) -> None:
    qtbot.waitUntil(lambda: not is_busy(), timeout=30_000)


def shown_sheets(qtbot: QtBot, window: Window) -> TemplateWindow:
    window.actions_by_name["print"].trigger()
    sheets = window.outputs.template
    assert sheets is not None
    idle(qtbot, lambda: sheets.is_busy)
    return sheets


def painted(drawing: Drawing, per_inch: int) -> np.ndarray:
    """The drawing by a painter, as shades of grey from 0 to 1."""
    per_mm = per_inch / 25.4
    image = QImage(
        round(drawing.width * per_mm),
        round(drawing.height * per_mm),
        QImage.Format.Format_Grayscale8,
    )
    image.fill(Qt.GlobalColor.white)
    painter = QPainter(image)
    paint_drawing(painter, drawing, per_mm)
    painter.end()
    return greys(image)


def greys(image: QImage) -> np.ndarray:
    grey = image.convertToFormat(QImage.Format.Format_Grayscale8)
    rows = np.frombuffer(grey.constBits(), np.uint8).reshape(grey.height(), grey.bytesPerLine())
    return rows[:, : grey.width()] / 255.0


def far_apart(one: np.ndarray, other: np.ndarray) -> float:
    """How far two pictures differ on average, where either of them is not white."""
    height, width = (min(a, b) for a, b in zip(one.shape, other.shape, strict=True))
    one, other = one[:height, :width], other[:height, :width]
    # a hair's shift of a line is no difference: looked at in squares of 4 pixels
    height, width = height // 4 * 4, width // 4 * 4
    coarse = [
        each[:height, :width].reshape(height // 4, 4, width // 4, 4).mean(axis=(1, 3))
        for each in (one, other)
    ]
    inked = np.minimum(*coarse) < 0.98
    return float(np.abs(coarse[0] - coarse[1])[inked].mean())


# -- painting ------------------------------------------------------------------------------------


@pytest.mark.parametrize("what", ["picture", "sheet"])
def test_a_painter_draws_what_the_picture_shows(window: Window, what: str) -> None:
    report = report_of(window)
    if what == "picture":
        drawing = section_picture(report.cut, report.comparison, report.cautions, "mm")
    else:
        drawing = template_sheets(report.cut, report.comparison, report.cautions,
                                  TemplateOptions())[0]  # fmt: skip
    written = greys(QImage.fromData(picture_bytes(drawing, "png", 100)))
    own = painted(drawing, 100)
    assert abs(own.shape[0] - written.shape[0]) <= 1
    assert abs(own.shape[1] - written.shape[1]) <= 1
    apart = far_apart(own, written)
    assert apart < 0.05
    # and the measure would see it: upside down it is nothing like it
    assert far_apart(own[::-1], written) > 3.0 * apart


def printed(sheets: TemplateWindow, qtbot: QtBot, path: Path) -> bytes:
    def ask(printer: QPrinter) -> bool:
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(path))
        return True

    sheets.ask_printer = ask
    sheets.print.click()
    idle(qtbot, lambda: sheets.is_busy)
    return path.read_bytes()


def bars(data: bytes, axis: int, length: float) -> list[float]:
    """Lengths [mm] of the straight strokes along an axis that are about so long, on all pages."""
    return [
        float(np.ptp(bar[:, axis])) * POINT
        for page in pages_of(data)
        for bar in drawn_on(page).bars(axis, length / POINT, 2.0 / POINT)
    ]


@pytest.mark.parametrize("paper", ["A4", "Letter", "A3"])
def test_printed_bars_are_true(qtbot: QtBot, window: Window, tmp_path: Path, paper: str) -> None:
    sheets = shown_sheets(qtbot, window)
    sheets.form.paper.setCurrentIndex(sheets.form.paper.findData(paper))
    idle(qtbot, lambda: sheets.is_busy)
    data = printed(sheets, qtbot, tmp_path / "print.pdf")
    pages = pages_of(data)
    assert len(pages) == len(sheets.view.sheets)
    for axis in (0, 1):
        metric, imperial = bars(data, axis, 100.0), bars(data, axis, 101.6)
        assert len([bar for bar in metric if abs(bar - 100.0) < 0.5]) >= len(pages)
        assert all(min(abs(bar - 100.0), abs(bar - 101.6)) < 0.1 for bar in metric + imperial)
    one = sheets.view.sheets[0]
    box = pages[0].mediabox
    # Qt gives the size of a page in whole points
    assert float(box.width) * POINT == pytest.approx(one.width, abs=0.5 * POINT)
    assert float(box.height) * POINT == pytest.approx(one.height, abs=0.5 * POINT)


def test_the_printer_s_own_error_is_corrected(qtbot: QtBot, window: Window, tmp_path: Path) -> None:
    sheets = shown_sheets(qtbot, window)
    field = sheets.form.bar_x
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "98")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: sheets.form.options.printed_x == 98.0)
    # printed at once: what was typed holds all the same
    data = printed(sheets, qtbot, tmp_path / "print.pdf")
    # such a printer makes 98 of 100: what it is sent is longer, so that 100 come out
    across = [bar for bar in bars(data, 0, 100.0 / 0.98) if abs(bar - 100.0 / 0.98) < 0.1]
    assert len(across) >= len(sheets.view.sheets)
    assert any(abs(bar - 100.0) < 0.1 for bar in bars(data, 1, 100.0))


def test_a_printer_that_cannot_be_started_is_told(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    sheets = shown_sheets(qtbot, window)

    def ask(printer: QPrinter) -> bool:
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(tmp_path / "no such folder" / "print.pdf"))
        return True

    sheets.ask_printer = ask
    with qtbot.captureExceptions() as caught, pytest.MonkeyPatch.context() as patch:
        patch.setattr(QPainter, "begin", lambda *_: False)
        sheets.print.click()
        idle(qtbot, lambda: sheets.is_busy)
    assert caught == []
    row = sheets.notices.row(ABOUT)
    assert row is not None
    assert "not printed" in row.notice.text
    assert sheets.print.isEnabled()


# -- the same bytes as the command line ------------------------------------------------------------


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


# -- asking and telling ----------------------------------------------------------------------------


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


# -- the windows -----------------------------------------------------------------------------------


def test_sheets_follow_the_document_and_the_form(qtbot: QtBot, window: Window) -> None:
    sheets = shown_sheets(qtbot, window)
    before = sheets.view.sheets
    assert len(before) == 3
    window.document.edit(without_passes(window.document.stack, [0]), "Delete pass 1")
    idle(qtbot, lambda: sheets.is_busy)
    assert sheets.view.sheets is not before
    sheets.form.reverse.setChecked(True)
    assert sheets.form.clearance.isEnabled()
    idle(qtbot, lambda: sheets.is_busy)
    report = report_of(window)
    wanted = template_sheets(report.cut, report.comparison, report.cautions,
                             TemplateOptions(reverse=True))  # fmt: skip
    assert len(sheets.view.sheets) == len(wanted)
    assert [len(sheet.marks) for sheet in sheets.view.sheets] == [len(s.marks) for s in wanted]


def test_a_preview_shows_paper_with_ink_on_it(qtbot: QtBot, window: Window) -> None:
    sheets = shown_sheets(qtbot, window)
    seen = greys(sheets.view.viewport().grab().toImage())
    assert (seen > 0.99).mean() > 0.3
    assert (seen < 0.3).mean() > 0.001
    one = sheets.view.sheets[0]
    assert one.height * sheets.view.per_mm <= sheets.view.viewport().height()
    before = sheets.view.per_mm
    qtbot.keyClick(sheets.view, Qt.Key.Key_Plus)
    assert sheets.view.per_mm == pytest.approx(1.25 * before)
    qtbot.keyClick(sheets.view, Qt.Key.Key_Minus)
    assert sheets.view.per_mm == pytest.approx(before)
    middle = QPointF(sheets.view.viewport().rect().center())
    QApplication.sendEvent(
        sheets.view.viewport(),
        QWheelEvent(
            middle, middle, QPoint(), QPoint(0, 120), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.ControlModifier, Qt.ScrollPhase.NoScrollPhase, False,
        ),
    )  # fmt: skip
    assert sheets.view.per_mm == pytest.approx(1.25 * before)
    qtbot.keyClick(sheets.view, Qt.Key.Key_0)
    assert sheets.view.per_mm == pytest.approx(before)
    idle(qtbot, lambda: sheets.is_busy)


def test_an_impossible_margin_is_refused_in_its_field(qtbot: QtBot, window: Window) -> None:
    sheets = shown_sheets(qtbot, window)
    field = sheets.form.margin
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "50")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert "at most 30 mm" in field.trouble
    assert sheets.form.options.margin == 10.0


def test_the_report_follows_edits_and_units_and_is_copied(qtbot: QtBot, window: Window) -> None:
    window.actions_by_name["report"].trigger()
    shown = window.outputs.report
    assert shown is not None
    assert "It fits." in shown.text.toPlainText()
    window.document.edit(without_passes(window.document.stack, [4]), "Delete pass 5")
    assert "It does not fit" in shown.text.toPlainText()
    window.document.set_units("in")
    assert "in2" in shown.text.toPlainText()
    shown.copy.click()
    assert QGuiApplication.clipboard().text() == shown.text.toPlainText()
    # columns stand as they are meant to
    widest = max(len(line) for line in shown.text.toPlainText().splitlines())
    room = shown.text.viewport().width() / shown.text.fontMetrics().horizontalAdvance("0")
    assert 60 < widest <= 80 < room


def test_the_windows_can_be_used_by_keyboard_and_close_with_escape(
    qtbot: QtBot, window: Window
) -> None:
    sheets = shown_sheets(qtbot, window)
    window.actions_by_name["report"].trigger()
    shown = window.outputs.report
    assert shown is not None
    for own in (sheets, shown):
        named = [
            widget
            for widget in own.findChildren(QWidget)
            if widget.focusPolicy() & Qt.FocusPolicy.TabFocus
            and not widget.objectName().startswith("qt_")
            and widget.isVisibleTo(own)
        ]
        assert len(named) >= 3
        for widget in named:
            text = getattr(widget, "text", lambda: "")()
            assert widget.accessibleName() or text, widget
            assert widget.toolTip(), widget
        qtbot.keyClick(own, Qt.Key.Key_Escape)
        assert not own.isVisible()

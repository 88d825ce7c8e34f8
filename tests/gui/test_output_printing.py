"""What is printed is true to size."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter
from PySide6.QtPrintSupport import QPrinter
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.output.exporting import ABOUT
from profilestack.desktop.output.template_window import TemplateWindow
from profilestack.desktop.window import Window
from tests.gui.output_hands import CROWN, idle, shown_sheets
from tests.unit.drawing.pdf_reading import drawn_on, pages_of

POINT = 25.4 / 72.0
"""A point [mm], by its definition."""


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Window:
    return desk.open(CROWN)


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

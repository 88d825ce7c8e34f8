"""The windows of the full-size section and the report."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QGuiApplication, QWheelEvent
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.window import Window
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.template import template_sheets
from profilestack.stack.edits import without_passes
from tests.gui.output_hands import CROWN, greys, idle, report_of, shown_sheets


@pytest.fixture
def window(desk: Desk, qtbot: QtBot) -> Window:
    return desk.open(CROWN)


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

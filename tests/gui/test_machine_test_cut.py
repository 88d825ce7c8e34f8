"""The page "Test": what a measured test cut tells."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.window import Window
from profilestack.files.stack_file import write_stack
from profilestack.jobs.measure import MeasureWishes, measure_readings
from profilestack.planning.check_dimensions import check_dimensions
from tests.gui.machine_hands import CROWN, page, rest


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Window:
    window = desk.open(CROWN)
    window.resize(1280, 800)
    return window


def typed(field: QLineEdit, text: str) -> None:
    field.setText(text)
    field.setModified(True)
    field.editingFinished.emit()


def test_readings_are_explained_and_taken_as_one_step(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Test").test_cut
    document = window.document
    checks = rest(qtbot, panel.work)
    assert checks == check_dimensions(document.stack, document.session.bits)
    assert not panel.explain.isEnabled()
    readings = {check.number: round(check.nominal + 0.15, 2) for check in checks}
    for number, reading in readings.items():
        typed(panel.form.fields[number], f"{reading} mm")
    qtbot.waitUntil(panel.explain.isEnabled)
    qtbot.mouseClick(panel.explain, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: panel.found is not None, timeout=30_000)
    bits = document.session.bits
    told = measure_readings(document.stack, bits, readings, MeasureWishes())
    before = document.stack
    assert f"{len(checks)} check dimensions" in panel.summary.text()
    qtbot.mouseClick(panel.take, Qt.MouseButton.LeftButton)
    assert document.stack == told.corrected
    assert document.stack != before
    assert not panel.take.isEnabled()
    assert panel.summary.text().startswith("Before the last edit")
    document.undo()
    assert document.stack == before
    assert panel.take.isEnabled()


def test_the_same_readings_by_hand_and_by_file_and_command(
    qtbot: QtBot, window: Window, tmp_path: Path
) -> None:
    from profilestack.cli.main import main

    panel = page(window, "Test").test_cut
    checks = rest(qtbot, panel.work)
    table = tmp_path / "read.csv"
    lines = [f"{check.number},{check.nominal - 0.1:.2f}" for check in checks[:6]]
    table.write_text("check,measured_mm\n" + "\n".join(lines) + "\n")
    panel.ask_file = lambda parent: str(table)
    qtbot.mouseClick(panel.from_file, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: panel.found is not None, timeout=30_000)
    panel.take.click()
    write_stack(window.document.stack, tmp_path / "app.stack.toml")
    main(["measure", str(CROWN), str(table), "-o", str(tmp_path / "cli.stack.toml")])
    written = [(tmp_path / f"{who}.stack.toml").read_bytes() for who in ("app", "cli")]
    assert written[0] == written[1]


def test_a_reading_that_cannot_be_is_said(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Test").test_cut
    checks = rest(qtbot, panel.work)
    for check, off in zip(checks[:2], (0.1, 30.0), strict=True):
        typed(panel.form.fields[check.number], f"{check.nominal + off:.2f} mm")
    qtbot.waitUntil(panel.explain.isEnabled)
    qtbot.mouseClick(panel.explain, Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: panel.trouble.text() != "", timeout=30_000)
    assert f"check {checks[1].number}" in panel.trouble.text()
    assert panel.found is None


def test_the_field_with_the_focus_points_at_the_place(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Test").test_cut
    checks = rest(qtbot, panel.work)
    panel.form.fields[checks[4].number].setFocus()
    qtbot.waitUntil(lambda: window.document.cursor == checks[4].at)

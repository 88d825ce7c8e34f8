"""What the call of the app asks for: bits at hand, units for this time."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QApplication

from profilestack.cli.main import main
from profilestack.desktop.desk import Desk
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.session.bits_at_hand import BitsAtHand
from profilestack.session.places import Places
from tests.gui.conftest import clear

LIBRARY = """format = "profilestack-bits/1"
units = "mm"

[[bit]]
id = "own-core-box"
shape = "core-box"
diameter = 33
cutting_length = 22
shank = 12
length = 70
"""


def test_libraries_of_the_call_are_at_hand_in_every_window(
    qapp: QApplication, places: Places, tmp_path: Path
) -> None:
    file = tmp_path / "own.bits.toml"
    file.write_text(LIBRARY, encoding="utf-8")
    desk = Desk(qapp, "light", places, bits=BitsAtHand([str(file)]))
    try:
        desk.new()
        for window in (desk.windows[0], desk.new(desk.windows[0])):
            assert window.document.session.bit_called("own-core-box") is not None
            drawer = window.docks["drawer"].widget()
            assert isinstance(drawer, DrawerPanel)
            assert drawer.at_hand.source.findData(str(file)) >= 0
    finally:
        clear(desk)
        desk.deleteLater()


def test_units_of_the_call_hold_for_this_time_until_others_are_chosen(
    qapp: QApplication, places: Places
) -> None:
    desk = Desk(qapp, "light", places, units="in")
    try:
        window = desk.open_example()
        assert (window.document.units, desk.settings.units) == ("in", None)
        assert desk.new(window).document.units == "in"
        desk.set_units("mm")
        assert desk.new(window).document.units == "mm"
        assert desk.settings.units == "mm"
    finally:
        clear(desk)
        desk.deleteLater()


def test_the_call_reaches_the_desk(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "own.bits.toml"
    file.write_text(LIBRARY, encoding="utf-8")
    seen: list[tuple[str, bool]] = []

    def look_and_close() -> None:
        for window in QApplication.topLevelWidgets():
            document = getattr(window, "document", None)
            if document is not None and window.isVisible():
                is_there = document.session.bit_called("own-core-box") is not None
                seen.append((document.units, is_there))
                window.close()

    QTimer.singleShot(0, look_and_close)
    assert main(["app", "--bits", str(file), "--units", "in", "--theme", "dark"]) == 0
    assert seen == [("in", True)]
    assert capsys.readouterr().err == ""


def test_a_library_that_cannot_be_read_ends_the_call(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["app", "--bits", str(tmp_path / "none.bits.toml")]) == 2
    assert "none.bits.toml" in capsys.readouterr().err
    file = tmp_path / "bad.bits.toml"
    file.write_text(LIBRARY.replace("33", "-33"), encoding="utf-8")
    assert main(["app", "--bits", str(file)]) == 2
    assert "-33" in capsys.readouterr().err

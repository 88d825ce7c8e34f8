"""The page "Shop": whose figures plans are made with."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.window import Window
from profilestack.files.shop_file import write_shop
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS
from tests.gui.machine_hands import CROWN, page


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Window:
    window = desk.open(CROWN)
    window.resize(1280, 800)
    return window


def test_a_shop_is_taken_from_a_file_kept_and_told_to_all(
    qtbot: QtBot, window: Window, desk: Desk, tmp_path: Path
) -> None:
    other = desk.new()
    panel = page(window, "Shop")
    path = tmp_path / "slow.shop.toml"
    slow = replace(USUAL_SHOP, name="slow hands", change=30.0)
    write_shop(slow, path)
    panel.shop.ask_file = lambda parent: str(path)
    qtbot.mouseClick(panel.shop.from_file, Qt.MouseButton.LeftButton)
    assert window.document.shop == slow
    assert other.document.shop == slow
    assert desk.settings.shop == str(path)
    assert Desk(desk.parent(), "light", desk.places).shop == slow
    rows = {row.head: row.words for row in panel.shop.figures.rows.rows}
    assert rows["bit change with touch-off: 30 min"] == "your shop file"
    assert "from memory" in rows["putting a piece back: 1.5 min"]
    assert panel.shop.choice.currentText() == "slow.shop.toml: slow hands"


def test_the_minutes_among_the_five_numbers_take_the_shop(qtbot: QtBot, window: Window) -> None:
    verdict = window.docks["stack"].widget().verdict
    before = verdict._minutes
    window.document.set_shop("cnc-with-changer", USUAL_SHOPS["cnc-with-changer"])
    after = verdict._minutes
    assert after.changes < before.changes
    assert after.setups == before.setups


def test_a_broken_shop_file_is_said_and_the_former_shop_stays(
    window: Window, tmp_path: Path
) -> None:
    panel = page(window, "Shop")
    path = tmp_path / "broken.shop.toml"
    path.write_text('format = "profilestack-shop/1"\nunits = "mm"\n[machine]\nkind = "lathe"\n')
    panel.shop.take(str(path))
    assert "lathe" in panel.shop.labelled.trouble.text()
    assert window.document.shop == USUAL_SHOP
    assert panel.shop.choice.currentData() == "cnc"


def test_a_shop_file_that_is_gone_is_told_at_the_start(
    qtbot: QtBot, desk: Desk, tmp_path: Path
) -> None:
    desk.keep_shop(str(tmp_path / "gone.shop.toml"), USUAL_SHOP)
    later = Desk(desk.parent(), "light", desk.places)
    assert later.shop == USUAL_SHOP
    window = later.new()
    notice = window.notices.row("settings")
    assert notice is not None
    assert "gone.shop.toml" in notice.notice.text
    window.close()

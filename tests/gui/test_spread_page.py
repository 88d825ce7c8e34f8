"""The page "Spread": how far it is, and how it is stopped."""

from __future__ import annotations

import time
from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.machine.panel import MachinePanel
from profilestack.desktop.machine.spread_page import NOTHING, STOPPED, WORDS, WORKING, SpreadPage
from profilestack.desktop.waiting import STOP
from profilestack.desktop.window import Window
from profilestack.errors import Cancelled
from profilestack.jobs.spread import Spread
from profilestack.progress import Progress

SPREAD_OF = "profilestack.desktop.machine.spread_page.spread_of"


@pytest.fixture
def window(desk: Desk) -> Window:
    window = desk.open_example()
    window.resize(1280, 800)
    return window


def page_of(window: Window) -> SpreadPage:
    window.go_to("machine")
    panel = window.docks["machine"].widget()
    assert isinstance(panel, MachinePanel)
    panel.pages.setCurrentWidget(panel.spread)
    return panel.spread


def endless(*_: Any, progress: Progress, **__: Any) -> Spread | None:
    while progress.left > 0.0:
        progress.report(0.4, "trial cut 401 of 1,000")
        time.sleep(0.005)
    raise Cancelled


@pytest.mark.parametrize("way", ["button", "key"])
def test_a_spread_is_told_and_cancelled(
    qtbot: QtBot, window: Window, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    monkeypatch.setattr(SPREAD_OF, endless)
    page = page_of(window)
    waiting = page.waiting
    assert waiting.button.isHidden()
    assert page.summary.text() == WORKING
    qtbot.waitUntil(waiting.bar.isVisible)
    assert waiting.bar.value() == 40
    assert waiting.doing.text() == "Trial cut 401 of 1,000"
    assert waiting.button.text() == STOP
    if way == "button":
        qtbot.mouseClick(waiting.button, Qt.MouseButton.LeftButton)
    else:
        qtbot.keyClick(page.list, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: page.work.is_stopped)
    qtbot.waitUntil(waiting.bar.isHidden)
    assert page.summary.text() == STOPPED
    assert waiting.button.text() == WORDS.start
    assert waiting.button.toolTip() == WORDS.about_start
    assert page.work.answer is None
    assert not page.work.is_busy


def test_what_was_cancelled_stays_so_until_it_is_asked_for_again(
    qtbot: QtBot, window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as slow:
        slow.setattr(SPREAD_OF, endless)
        page = page_of(window)
        qtbot.waitUntil(lambda: page.waiting.button.text() == STOP)
        page.waiting.button.click()
        qtbot.waitUntil(lambda: page.work.is_stopped)
    document, stack = window.document, window.document.stack
    document.preview(replace(stack, title="While the hand moves"))
    document.abandon()
    qtbot.wait(400)
    assert page.work.is_stopped
    qtbot.mouseClick(page.waiting.button, Qt.MouseButton.LeftButton)
    assert not page.work.is_stopped
    assert not page.waiting.button.isVisible()
    qtbot.waitUntil(lambda: page.work.is_fresh, timeout=30_000)
    assert "overcut" in page.summary.text()
    assert page.waiting.button.isHidden()


def test_another_edit_begins_anew(
    qtbot: QtBot, window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(SPREAD_OF, endless)
    page = page_of(window)
    qtbot.waitUntil(lambda: page.waiting.button.text() == STOP)
    page.waiting.button.click()
    qtbot.waitUntil(lambda: page.work.is_stopped)
    document = window.document
    document.edit(replace(document.stack, title="Another"), "Name it")
    assert not page.work.is_stopped
    qtbot.waitUntil(lambda: page.waiting.button.text() == STOP)
    document.edit(replace(document.stack, target=None), "Clear the wanted profile")
    assert page.summary.text() == NOTHING
    assert page.waiting.button.isHidden()


def test_the_real_cuts_are_stopped_between_two_of_them(qtbot: QtBot, window: Window) -> None:
    page = page_of(window)
    page.work.background.progress.connect(lambda share, _: share > 0.0 and page.work.cancel())
    with qtbot.waitSignal(page.work.background.stopped, timeout=10_000):
        pass
    assert page.work.is_stopped
    assert page.work.answer is None

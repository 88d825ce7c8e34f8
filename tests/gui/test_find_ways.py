"""The ways found: compared, previewed, taken, undone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as FilePath

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QLineEdit, QScrollArea
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.find.looking import FIND
from profilestack.desktop.find.panel import STALE, FindPanel
from profilestack.desktop.theme import DARK, LIGHT, palette_of
from profilestack.files.stack_file import read_stack, write_stack
from profilestack.jobs.cut import cut_and_judge
from profilestack.jobs.find import FindWishes, find, request_for, stack_of
from profilestack.jobs.find_words import way_name
from profilestack.session.session import Session
from profilestack.stack import Blank, Rectangle
from tests.gui.finder_hands import looked, shown, small_stack


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return Document(Session(small_stack()))


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[FindPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


def test_ways_are_found_and_told(qtbot: QtBot, panel: FindPanel, document: Document) -> None:
    result = looked(qtbot, panel)
    assert panel.looking.button.text() == FIND
    assert len(panel.ways.cards) == len(result.options) >= 1
    direct = find(request_for(small_stack(), FindWishes(bits=small_stack().bits)))
    assert [option.measures for option in result.options] == [
        option.measures for option in direct.options
    ]
    card, option = panel.ways.cards[0], result.options[0]
    assert str(option.assembled.finishing) in card.accessibleDescription()
    assert "proved" in card.accessibleDescription()
    assert "fits" in card.accessibleDescription()
    assert panel.ways.chart.isVisible()
    assert document.session.undo_label is None


def test_way_taken_is_one_step_and_undone(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    result = looked(qtbot, panel)
    before = document.stack
    qtbot.mouseClick(panel.ways.cards[0], Qt.MouseButton.LeftButton)
    assert document.stack == stack_of(result.options[0], result.strange, before)
    assert document.session.undo_label == f"Take {way_name(1, result.options[0])}"
    assert document.session.undo_label == "Take the way of fewest passes"
    shown = document.report
    assert shown is not None
    assert shown.is_good
    assert shown.stack is document.stack
    afresh = cut_and_judge(document.stack, document.session.bits)
    assert shown.comparison is not None
    assert afresh.comparison is not None
    assert shown.comparison.leftover == afresh.comparison.leftover
    assert shown.cautions == afresh.cautions
    document.undo()
    assert document.session.settled == before
    assert document.session.undo_label is None


def test_pointing_previews_and_leaving_lets_go(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    looked(qtbot, panel)
    before, changes = document.stack, []
    document.changed.connect(lambda: changes.append(document.stack))
    panel.ways.cards[0].pointed.emit(True)
    assert document.stack.passes
    assert document.session.settled == before
    panel.ways.cards[0].pointed.emit(False)
    assert document.stack == before
    chart = panel.ways.chart
    qtbot.mouseMove(chart, chart.place_of(0).toPoint())
    assert document.stack.passes
    qtbot.mouseMove(chart, QPoint(1, 1))
    assert document.stack == before
    panel.ways.cards[0].pointed.emit(True)
    panel.hide()
    assert document.stack == before
    assert len(changes) == 6
    assert document.session.undo_label is None


def test_key_for_another_part_lets_go_of_the_preview(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    looked(qtbot, panel)
    other = QLineEdit(panel.parentWidget())
    other.show()
    seen: list[int] = []
    other.textEdited.connect(lambda _: seen.append(len(document.stack.passes)))
    panel.ways.cards[0].pointed.emit(True)
    assert document.stack.passes
    other.setFocus()
    qtbot.keyClick(other, Qt.Key.Key_A)
    assert seen == [0]
    assert document.stack is document.session.settled
    panel.ways.cards[0].pointed.emit(True)
    assert document.stack.passes


def test_same_bytes_as_the_command_line_asks_for(
    qtbot: QtBot, panel: FindPanel, document: Document, tmp_path: FilePath
) -> None:
    looked(qtbot, panel)
    panel.take(0)
    document.save(tmp_path / "app.stack.toml")
    asked = tmp_path / "asked.stack.toml"
    write_stack(small_stack(), asked)
    stack = read_stack(asked)
    found = find(request_for(stack, FindWishes(bits=stack.bits)))
    write_stack(stack_of(found.options[0], found.strange, stack), tmp_path / "other.stack.toml")
    assert (tmp_path / "app.stack.toml").read_bytes() == (
        tmp_path / "other.stack.toml"
    ).read_bytes()


def test_ways_for_another_profile_cannot_be_taken(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    looked(qtbot, panel)
    thicker = replace(document.stack, blank=Blank(Rectangle(30.0, 20.0)))
    document.edit(thicker, "Change the blank")
    assert not panel.ways.cards[0].isEnabled()
    assert STALE in panel.trouble.text()
    panel.take(0)
    assert document.session.settled == thicker
    document.undo()
    assert panel.ways.cards[0].isEnabled()
    assert panel.trouble.isHidden()


def test_colours_of_cards_follow_the_theme(qtbot: QtBot, panel: FindPanel) -> None:
    looked(qtbot, panel)
    card = panel.ways.cards[0]
    qtbot.waitUntil(card.isVisible)
    former, role = QApplication.palette(), QPalette.ColorRole.WindowText
    try:
        for theme in (LIGHT, DARK, LIGHT):
            QApplication.setPalette(palette_of(theme))
            qtbot.wait(1)  # the labels hear of it a moment later
            assert card.grab().toImage().pixelColor(card.width() // 2, 5) == QColor(theme.paper)
            assert card._title.palette().color(role) == QColor(theme.ink)
            assert card._verdict.palette().color(role) == QColor(theme.inside)
            assert panel.trouble.palette().color(role) == QColor(theme.leftover)
    finally:
        QApplication.setPalette(former)


def test_the_card_that_the_keys_went_to_is_brought_into_sight(
    qtbot: QtBot, panel: FindPanel
) -> None:
    looked(qtbot, panel)
    host = panel.parentWidget()
    assert host is not None
    panel.resize(280, 420)
    host.activateWindow()
    qtbot.waitUntil(host.isActiveWindow)
    QApplication.processEvents()
    last = panel.ways.cards[-1]
    sight = panel.findChildren(QScrollArea)[0].viewport()

    def is_seen() -> bool:
        return sight.rect().contains(last.mapTo(sight, last.rect().bottomLeft()))

    assert not is_seen()
    panel.ways.cards[0].setFocus()
    for _ in panel.ways.cards[1:]:
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Down)
    assert last.hasFocus()
    assert is_seen()

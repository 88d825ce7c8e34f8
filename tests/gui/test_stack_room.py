"""What the stack's panel shows in the room it has: widths, columns, type and theme."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, QRect
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QApplication, QScrollArea, QSplitter
from pytestqt.qtbot import QtBot

from profilestack.bits.words import short_size
from profilestack.desktop.document import Document
from profilestack.desktop.stack_panel.cells import Column
from profilestack.desktop.stack_panel.painting import PAD, extra_width
from profilestack.desktop.stack_panel.panel import LOWER_MOST, StackPanel
from profilestack.desktop.theme import DARK, palette_of
from profilestack.session import pass_edits
from tests.gui.stack_panel_hands import crown, shown, text


@pytest.fixture
def document(own_places: None) -> Document:
    return crown()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> StackPanel:
    return shown(qtbot, document)


def test_large_type_and_another_theme_change_sizes_and_colours(
    qtbot: QtBot, panel: StackPanel
) -> None:
    high = panel.table.rowHeight(0)
    font = QFont(panel.font())
    font.setPointSizeF(font.pointSizeF() * 1.5)
    panel.setFont(font)
    panel.table.setFont(font)
    assert panel.table.rowHeight(0) > 1.3 * high
    corner = panel.table.viewport()
    light = corner.grab().toImage().pixelColor(corner.width() - 4, 20).name()
    old = QApplication.palette()
    try:
        QApplication.setPalette(palette_of(DARK))
        dark = corner.grab().toImage().pixelColor(corner.width() - 4, 20).name()
    finally:
        QApplication.setPalette(old)
    assert light != dark


def test_in_its_usual_width_the_table_shows_all_that_matters_without_scrolling(
    qtbot: QtBot, panel: StackPanel
) -> None:
    table = panel.table
    panel.resize(panel.sizeHint().width(), 740)
    assert panel.width() < 63 * panel.fontMetrics().averageCharWidth()
    qtbot.waitUntil(lambda: table.isColumnHidden(Column.SETUP))
    assert table.isColumnHidden(Column.NOTE)
    qtbot.waitUntil(lambda: table.horizontalScrollBar().maximum() == 0)
    for row in range(8):
        size = text(panel, row, Column.BIT)
        room = table.columnWidth(Column.BIT) - extra_width(table.font(), Column.BIT) - 2 * PAD
        assert table.fontMetrics().horizontalAdvance(size) <= room
    area = panel.splitter.widget(1)
    assert isinstance(area, QScrollArea)
    sight = area.viewport()
    first = panel.cautions.list.visualItemRect(panel.cautions.list.item(0))
    assert panel.cautions.list.viewport().rect().contains(first)
    for part in (*panel.verdict.figures.boxes, panel.cautions.list):
        place = QRect(part.mapTo(sight, QPoint(0, 0)), part.size())
        assert sight.rect().contains(place)


def test_a_wide_table_has_columns_for_setups_and_notes(panel: StackPanel) -> None:
    assert not any(panel.table.isColumnHidden(column) for column in Column)
    last = panel.table.columnViewportPosition(Column.NOTE) + panel.table.columnWidth(Column.NOTE)
    assert last == panel.table.viewport().width()


def test_the_table_measures_anew_for_other_bits(panel: StackPanel, document: Document) -> None:
    panel.resize(panel.sizeHint().width(), 740)
    before = panel.table.sizeHint().width()
    bits = document.session.bits_at_hand.shipped
    long = max(bits.values(), key=lambda bit: len(short_size(bit, "mm")))
    document.edit(*pass_edits.with_bit(document.stack, [0], long, True))
    assert len(text(panel, 0, Column.BIT)) > len("90°, 31.75 mm")
    assert panel.table.sizeHint().width() > before


def test_the_line_between_the_halves_stays_where_it_was_put(
    qtbot: QtBot, panel: StackPanel
) -> None:
    upper, lower = panel.splitter.sizes()
    panel.splitter.moveSplitter(upper - 60, 1)
    put = panel.splitter.sizes()
    assert put != [upper, lower]
    panel.resize(panel.width() + 10, panel.height())
    assert panel.splitter.sizes() == put


def test_the_table_is_as_wide_without_passes_as_with_usual_ones(
    panel: StackPanel, document: Document
) -> None:
    wide = panel.table.sizeHint().width()
    document.edit(replace(document.stack, passes=()), "Delete all")
    assert panel.table.sizeHint().width() == wide


def test_the_lower_half_has_what_it_asks_for_once_its_words_have_wrapped(
    qtbot: QtBot, panel: StackPanel
) -> None:
    for width, height in ((900, 700), (377, 757)):
        panel.resize(width, height)
        splitter = panel.splitter
        room = splitter.height() - splitter.handleWidth()

        def is_shared(splitter: QSplitter = splitter, room: int = room) -> bool:
            below = splitter.widget(1)
            assert below is not None
            wanted = min(below.sizeHint().height(), round(LOWER_MOST * room))
            return abs(splitter.sizes()[1] - wanted) <= 1

        qtbot.waitUntil(is_shared, timeout=2000)

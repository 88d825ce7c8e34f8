"""What the stack comes to, under the table: the verdict, its numbers, the cautions."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from profilestack.desktop.document import Document
from profilestack.desktop.stack_panel.cells import SECOND_ROLE, Column
from profilestack.desktop.stack_panel.panel import StackPanel
from profilestack.desktop.theme import LIGHT
from profilestack.drawing.safety import USUAL_CAUTIONS
from profilestack.session import pass_edits
from profilestack.stack.edits import with_passes_added
from tests.gui.stack_panel_hands import Key, crown, shown, text


@pytest.fixture
def document(own_places: None) -> Document:
    return crown()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> StackPanel:
    return shown(qtbot, document)


def test_an_empty_stack_says_what_to_do(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.edit(replace(document.stack, passes=()), "Delete all")
    seen = panel.table.viewport().grab().toImage()
    ink = {seen.pixelColor(x, y).name() for x in range(seen.width()) for y in range(seen.height())}
    assert LIGHT.quiet.lower() in ink
    assert panel.verdict.words.text() == "Nothing is cut yet."
    assert panel.order.words.text() == "The blank; there are no passes"


def test_the_numbers_that_matter(qtbot: QtBot, panel: StackPanel, document: Document) -> None:
    report = document.report
    assert report is not None
    assert report.comparison is not None
    said = [box.figure.text for box in panel.verdict.figures.boxes]
    assert panel.verdict.words.text() == "It fits."
    assert said[0] == f"+{report.comparison.leftover_worst:.2f} mm"
    assert said[2:4] == ["5", "11"]
    assert said[4] == "≈ 281 min"
    about = panel.verdict.figures.boxes[4].toolTip()
    assert "Assumed" in about
    assert "a bit change 3 min" in about
    assert "holds" in panel.verdict.figures.boxes[0].accessibleName()


@pytest.mark.parametrize("width", [320, 420, 900])
def test_numbers_are_never_cut_short(
    qtbot: QtBot, panel: StackPanel, document: Document, width: int
) -> None:
    panel.resize(width, 760)
    document.edit(*pass_edits.nudged(document.stack, [4], 0.0, 9.5))
    row = panel.verdict.figures

    def are_whole() -> bool:
        return all(
            box.width() >= box.sizeHint().width() and row.rect().contains(box.geometry())
            for box in row.boxes
        )

    qtbot.waitUntil(are_whole, timeout=2000)
    rects = [box.geometry() for box in row.boxes]
    assert not any(a.intersects(b) for k, a in enumerate(rects) for b in rects[:k])


def test_what_does_not_fit_is_said_with_sign_and_limit(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.edit(*pass_edits.nudged(document.stack, [4], 0.0, 0.5))
    words = panel.verdict.words.text()
    assert words.startswith("It does not fit: overcut (gouge) 0.50 mm, 0.10 mm allowed.")
    box = panel.verdict.figures.boxes[1]
    assert box.figure.text == "−0.50 mm"
    assert box.sign == "bad"
    assert "broken" in box.accessibleName()


def test_minutes_wait_while_the_hand_moves(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    minutes = panel.verdict.figures.boxes[4]
    document.preview(pass_edits.deleted(document.stack, range(1, 11))[0])
    assert minutes.figure.text == "≈ 281 min"
    qtbot.waitUntil(lambda: minutes.figure.text != "≈ 281 min", timeout=2000)
    assert panel.verdict.figures.boxes[3].figure.text == "1"


def test_trouble_is_told_in_words(qtbot: QtBot, panel: StackPanel, document: Document) -> None:
    document.edit(
        with_passes_added(document.stack, [replace(document.stack.passes[0], bit="vv90")]), "Add"
    )
    assert document.report is None
    words = panel.verdict.words.text()
    assert words.startswith("It cannot be cut.\nPass 12, bit: no bit is called 'vv90'")
    assert not panel.verdict.figures.isVisible()
    assert text(panel, 11, Column.BIT, SECOND_ROLE) == "unknown bit"
    document.undo()
    assert panel.verdict.words.text() == "It fits."
    assert panel.verdict.figures.isVisible()


def test_a_caution_chooses_its_pass_and_the_gravest_is_first(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    document.edit(*pass_edits.with_depth(document.stack, [5], 25.0))
    rows = panel.cautions.list
    assert rows.item(0).text().startswith("STOP, pass 6: ")
    assert "caution" in panel.verdict.words.text()
    item = next(
        rows.item(k) for k in range(rows.count()) if rows.item(k).text().startswith("STOP, pass 6")
    )
    place = rows.visualItemRect(item).center()
    qtbot.mouseClick(rows.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert document.chosen == (5,)
    assert panel.cautions.usual.text() == " ".join(USUAL_CAUTIONS)
    document.choose([])
    rows.setFocus()
    rows.setCurrentItem(item)
    qtbot.keyClick(rows, Key.Key_Return)
    assert document.chosen == (5,)
    qtbot.mouseMove(rows.viewport(), place + QPoint(3, 0))
    qtbot.mouseMove(rows.viewport(), place)
    qtbot.waitUntil(lambda: document.pointed == 5)


def test_nothing_jumps_back_while_a_hand_moves(
    qtbot: QtBot, panel: StackPanel, document: Document
) -> None:
    """Room that words asked for is kept until the hand rests."""
    words, overcut = panel.verdict.words, panel.verdict.figures.boxes[1]
    panel.resize(320, 760)
    qtbot.waitUntil(lambda: words.width() < 320)
    low = words.heightForWidth(words.width())
    document.preview(pass_edits.with_depth(document.stack, [4], 20.0)[0])
    high, wide = words.heightForWidth(words.width()), overcut.sizeHint().width()
    assert high > low
    document.preview(pass_edits.with_depth(document.stack, [4], 10.269)[0])
    assert words.text() == "It fits."
    assert words.heightForWidth(words.width()) == high
    assert overcut.sizeHint().width() == wide
    document.abandon()
    assert words.heightForWidth(words.width()) == low
    assert overcut.sizeHint().width() < wide


def test_a_table_with_passes_is_not_called_empty(panel: StackPanel, document: Document) -> None:
    assert panel.table.accessibleDescription() == ""
    document.edit(replace(document.stack, passes=()), "Delete all")
    assert panel.table.accessibleDescription().startswith("No passes yet.")
    document.undo()
    assert panel.table.accessibleDescription() == ""

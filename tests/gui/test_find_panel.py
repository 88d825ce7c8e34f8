"""The panel "Ways to cut it": asked by mouse or keys, compared, previewed, taken, undone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as FilePath

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QLineEdit, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.find.looking import FIND, LOOKING
from profilestack.desktop.find.panel import STALE, FindPanel
from profilestack.desktop.find.told import SETUPS
from profilestack.desktop.find.wishes_form import OWN
from profilestack.desktop.scale import scale_over
from profilestack.desktop.theme import DARK, LIGHT, palette_of
from profilestack.desktop.waiting import STOP
from profilestack.errors import Cancelled
from profilestack.files.stack_file import read_stack, write_stack
from profilestack.geometry.path import Path
from profilestack.jobs.cut import cut_and_judge
from profilestack.jobs.find import FindResult, FindWishes, find, request_for, stack_of
from profilestack.jobs.find_words import way_name
from profilestack.progress import Progress
from profilestack.session.session import Session
from profilestack.stack import (
    Blank,
    PathTarget,
    Rectangle,
    Setup,
    Stack,
    StraightRun,
    Tolerance,
)
from tests.planted import drawer

BITS = ("core-box-3-4in", "straight-1-2in", "straight-3-4in")


def small_stack() -> Stack:
    """A hollow of 3/4 in at the edge of a flat: some bits, few passes."""
    path = Path((0.0, 14.0)).line((6.0, 14.0)).arc((15.525, 4.475), (15.525, 14.0), "ccw")
    return Stack(
        blank=Blank(Rectangle(30.0, 18.0)),
        run=StraightRun(1000.0),
        title="A hollow",
        tolerance=Tolerance(0.3, 0.1),
        target=PathTarget(path.line((30.0, 4.475))),
        bits=tuple(bit for bit in drawer() if bit.id in BITS),
    )


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return Document(Session(small_stack()))


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[FindPanel]:
    # the stand-in for a screen complains about windows whose least size grows; a dock does not
    host = QWidget()
    qtbot.addWidget(host)
    panel = FindPanel(document, host)
    host.resize(340, 1000)
    panel.resize(340, 1000)
    host.show()
    panel.form.bits.setCurrentIndex(panel.form.bits.findData(OWN))
    yield panel
    finish_under(host)


def looked(qtbot: QtBot, panel: FindPanel) -> FindResult:
    with qtbot.waitSignal(panel.background.ended, timeout=20_000):
        qtbot.mouseClick(panel.looking.button, Qt.MouseButton.LeftButton)
        assert panel.looking.button.text() == LOOKING
        assert panel.looking.bar.isHidden()  # nothing but the button's state under two seconds
    assert panel.result is not None
    return panel.result


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


def test_by_keyboard_alone(qtbot: QtBot, panel: FindPanel, document: Document) -> None:
    panel.activateWindow()
    panel.form.bits.setFocus()
    for _ in range(40):
        if panel.looking.button.hasFocus():
            break
        qtbot.keyClick(QApplication.focusWidget() or panel, Qt.Key.Key_Tab)
    assert panel.looking.button.hasFocus()
    with qtbot.waitSignal(panel.background.ended, timeout=20_000):
        qtbot.keyClick(panel.looking.button, Qt.Key.Key_Space)
    chart, card = panel.ways.chart, panel.ways.cards[0]
    qtbot.waitUntil(card.isVisible)
    qtbot.keyClick(panel.looking.button, Qt.Key.Key_Tab)
    assert chart.hasFocus()
    qtbot.keyClick(chart, Qt.Key.Key_Right)
    assert document.stack.passes
    qtbot.keyClick(chart, Qt.Key.Key_Tab)
    assert card.hasFocus()
    assert document.stack.passes
    assert document.session.undo_label is None
    qtbot.keyClick(card, Qt.Key.Key_Return)
    assert document.session.undo_label == "Take the way of fewest passes"


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


def test_progress_is_shown_late_and_cancel_gives_the_best_so_far(
    qtbot: QtBot, panel: FindPanel, monkeypatch: pytest.MonkeyPatch
) -> None:
    looked(qtbot, panel)
    best = panel.result
    assert best is not None

    def slow(asked: object, progress: Progress) -> FindResult:
        progress.report(0.4, "looking for the fewest bits")
        while not progress.is_stopped():
            pass
        return replace(best, stopped=True)

    monkeypatch.setattr("profilestack.desktop.find.looking._find", slow)
    panel.looking.late.setInterval(50)
    qtbot.mouseClick(panel.looking.button, Qt.MouseButton.LeftButton)
    qtbot.mouseClick(panel.looking.button, Qt.MouseButton.LeftButton)  # too early to mean "cancel"
    qtbot.waitUntil(lambda: panel.looking.button.text() == STOP)
    assert panel.looking.bar.value() == 40
    assert panel.looking.doing.text() == "Looking for the fewest bits"
    with qtbot.waitSignal(panel.background.ended):
        qtbot.mouseClick(panel.looking.button, Qt.MouseButton.LeftButton)
    assert "Stopped early" in panel.message.text()
    assert panel.looking.button.text() == FIND
    assert panel.looking.bar.isHidden()


def test_escape_cancels_and_nothing_found_is_said(
    qtbot: QtBot, panel: FindPanel, monkeypatch: pytest.MonkeyPatch
) -> None:
    def endless(asked: object, progress: Progress) -> FindResult:
        while not progress.is_stopped():
            pass
        raise Cancelled

    monkeypatch.setattr("profilestack.desktop.find.looking._find", endless)
    panel.start()
    with qtbot.waitSignal(panel.background.ended):
        qtbot.keyClick(panel.looking.button, Qt.Key.Key_Escape)
    assert panel.message.text() == "Cancelled before anything was found."
    assert panel.ways.cards == []


def test_wrong_number_stays_at_its_field_and_nothing_starts(qtbot: QtBot, panel: FindPanel) -> None:
    panel.form.leftover.setFocus()
    panel.form.leftover.setText("")
    qtbot.keyClicks(panel.form.leftover, "a lot")
    panel.start()
    assert not panel.background.is_busy
    assert panel.form.leftover.text() == "a lot"
    assert "is not a length" in panel.form._rows["leftover"].trouble.text()


def test_limits_that_leave_no_way_say_what_is_needed(qtbot: QtBot, panel: FindPanel) -> None:
    panel.form.passes.value = 1
    looked(qtbot, panel)
    assert panel.ways.cards == []
    assert "it takes at least" in panel.message.text()
    assert panel.ways.chart.isHidden()


def test_unreached_places_are_listed_and_told_to_the_section(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    path = Path((0.0, 14.0)).line((10.0, 14.0)).line((10.0, 4.0)).line((11.5, 4.0))
    narrow = PathTarget(path.line((11.5, 14.0)).line((30.0, 14.0)))
    document.edit(replace(document.stack, target=narrow), "Draw a groove")
    result = looked(qtbot, panel)
    assert result.unreached
    assert document.unreached == result.unreached
    words = panel.told.words()
    assert "No bit reaches" in words
    assert result.unreached[0].why in words
    assert "What would help" in words
    assert result.buy[0].bit.id in words
    told = []
    document.findings_changed.connect(lambda: told.append(document.unreached))
    document.undo()
    assert told == [()]
    document.redo()
    assert told[-1] == result.unreached


def test_what_hangs_over_says_where_setups_are_added(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    assert document.stack.target is not None
    document.edit(replace(document.stack, setups=(), passes=()), "Take setups out")
    undercut = Path((0.0, 8.0)).line((20.0, 8.0)).line((15.0, 3.0)).line((30.0, 3.0))
    document.edit(replace(document.stack, target=PathTarget(undercut)), "Draw an undercut")
    result = looked(qtbot, panel)
    assert any("another setup" in stretch.why for stretch in result.unreached)
    assert SETUPS in panel.told.words()


def test_fitted_profile_lists_each_change_and_is_drawn_with_the_old_one(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    path = Path((0.0, 16.0)).line((6.0, 16.0)).line((6.0, 13.0))
    path = path.arc((15.0, 4.0), (15.0, 13.0), "ccw")
    odd = PathTarget(path.line((30.0, 4.0)))
    document.edit(replace(document.stack, target=odd), "Draw a hollow of radius 9")
    panel.form.adapt.value = 1.0
    result = looked(qtbot, panel)
    assert result.adaptation is not None
    assert result.adaptation.changes
    words = panel.told.words()
    assert "radius 9 mm becomes 9.525 mm" in words
    assert document.drawn_before is None
    panel.take(0)
    assert document.drawn_before == odd.path()
    assert document.stack.target != odd
    assert panel.ways.cards[0].isEnabled()
    document.undo()
    assert document.drawn_before is None
    assert document.stack.target == odd


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


def test_title_typed_while_it_looks_is_kept(
    qtbot: QtBot, panel: FindPanel, document: Document
) -> None:
    looked(qtbot, panel)
    document.edit(replace(document.stack, title="Another name"), "Name it")
    panel.take(0)
    assert document.stack.title == "Another name"
    assert document.stack.passes


def test_setups_of_the_document_are_offered(panel: FindPanel, document: Document) -> None:
    document.edit(replace(document.stack, setups=(Setup("edge", 90.0),)), "Add a setup")
    wishes = panel.form.wishes()
    assert wishes is not None
    assert wishes.setups == ("face", "edge")
    panel.form._setups["edge"].setChecked(False)
    wishes = panel.form.wishes()
    assert wishes is not None
    assert wishes.setups == ("face",)


def test_without_a_profile_the_button_says_why(qtbot: QtBot, panel: FindPanel) -> None:
    document = panel.document
    document.edit(replace(document.stack, target=None), "Remove the wanted profile")
    assert not panel.looking.button.isEnabled()
    assert panel.looking.button.toolTip() == "Draw the wanted profile first"
    document.undo()
    assert panel.looking.button.isEnabled()


def test_units_are_those_of_the_document(qtbot: QtBot, panel: FindPanel) -> None:
    looked(qtbot, panel)
    panel.document.set_units("in")
    assert " in gouged" in panel.ways.cards[0].accessibleDescription()
    assert panel.form.leftover.placeholderText().endswith("in")


def test_library_of_a_file_can_be_used(panel: FindPanel) -> None:
    panel.form.offer_file("/somewhere/mine.bits.toml")
    wishes = panel.form.wishes()
    assert wishes is not None
    assert wishes.libraries == ("/somewhere/mine.bits.toml",)
    assert wishes.bits is None


def test_missing_library_is_told(qtbot: QtBot, panel: FindPanel) -> None:
    panel.form.offer_file("/somewhere/mine.bits.toml")
    with qtbot.waitSignal(panel.background.ended):
        panel.start()
    assert "/somewhere/mine.bits.toml" in panel.trouble.text()
    assert panel.result is None


@pytest.mark.parametrize(
    ("low", "high", "ticks"),
    [
        (0.0, 0.3, (0.0, 0.1, 0.2, 0.3)),
        (0.0, 1.0, (0.0, 0.5, 1.0)),
        (23.0, 41.0, (20.0, 25.0, 30.0, 35.0, 40.0, 45.0)),
        (2690.0, 2720.0, (2690.0, 2700.0, 2710.0, 2720.0)),
    ],
)
def test_scales_have_plain_ticks(low: float, high: float, ticks: tuple[float, ...]) -> None:
    scale = scale_over(low, high)
    assert scale.ticks == pytest.approx(ticks)
    assert scale.share(scale.high) == 1.0


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

"""The page "Plan": worked out when an edit rests."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import qGray
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.window import Window
from profilestack.jobs.plan import plan_for
from profilestack.planning.plan import Plan
from profilestack.planning.shop import USUAL_SHOP
from profilestack.session.plan_words import why_no_plan
from profilestack.session.planned_order import LABEL
from profilestack.stack.edits import with_pass, with_passes_moved, without_passes
from tests.gui.machine_hands import CROWN, heads, page, rest


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Window:
    window = desk.open(CROWN)
    window.resize(1280, 800)
    return window


def test_the_plan_is_that_of_the_command_line(qtbot: QtBot, window: Window) -> None:
    shown: Plan = rest(qtbot, page(window, "Plan").plan.work)
    document = window.document
    told = plan_for(document.stack, document.session.bits, USUAL_SHOP)
    assert shown.steps == told.steps
    panel = page(window, "Plan")
    total, pieces = told.minutes.total, document.stack.run.pieces
    assert panel.plan.minutes.text() == (
        f"{total:.0f} minutes for all {pieces} pieces, {total / pieces:.0f} a piece."
    )
    passes = {step.pass_number for step in told.steps}
    assert len(heads(panel.plan.list, "pass")) == len(passes)
    bits = [head.partition(",")[0] for head in heads(panel.plan.list, "bit")]
    assert bits[0] == told.steps[0].bit.id


def test_choosing_a_cut_chooses_its_pass_and_the_other_way_round(
    qtbot: QtBot, window: Window
) -> None:
    panel = page(window, "Plan")
    plan: Plan = rest(qtbot, panel.plan.work)
    view = panel.plan.list
    last = plan.steps[-1].document_pass
    assert last is not None
    rows = view.rows.rows
    number = max(k for k, row in enumerate(rows) if row.kind == "pass")
    view.setCurrentIndex(view.rows.index(number))
    assert window.document.chosen == (last - 1,)
    window.document.choose((0,))
    chosen = view.row(view.currentIndex())
    assert chosen is not None
    assert chosen.place == 0
    # walking with the keys goes from row to row
    qtbot.keyClick(view, Qt.Key.Key_End)
    assert view.currentIndex().row() == len(rows) - 1


def test_many_edits_are_planned_once_when_they_rest(
    qtbot: QtBot, window: Window, monkeypatch: pytest.MonkeyPatch
) -> None:
    panel = page(window, "Plan")
    rest(qtbot, panel.plan.work)
    planned: list[int] = []

    def counted(stack: Any, *others: Any) -> Plan:
        planned.append(stack.run.pieces)
        return plan_for(stack, *others)

    monkeypatch.setattr("profilestack.desktop.machine.plan_page.plan_for", counted)
    for pieces in (5, 6, 7):
        stack = window.document.stack
        run = replace(stack.run, pieces=pieces)
        window.document.edit(replace(stack, run=run), "Make more")
        assert not panel.plan.work.is_fresh
        assert not panel.plan.list.isEnabled()
        assert not panel.plan.take.isEnabled()
    plan: Plan = rest(qtbot, panel.plan.work)
    assert planned == [7]
    assert plan.document is window.document.stack
    assert "all 7 pieces" in panel.plan.minutes.text()


def test_back_where_it_was_nothing_is_worked_out_anew(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Plan")
    plan = rest(qtbot, panel.plan.work)
    document = window.document
    document.preview(replace(document.stack, title="While the hand moves"))
    assert not panel.plan.work.is_fresh
    document.abandon()
    assert panel.plan.work.is_fresh
    assert not panel.plan.work.is_busy
    assert panel.plan.work.answer is plan


def test_while_a_hand_moves_the_panel_keeps_still(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Plan")
    rest(qtbot, panel.plan.work)
    document, told = window.document, []
    panel.plan.work.changed.connect(lambda: told.append(panel.plan.work.is_fresh))
    for step in range(20):
        single = replace(document.stack.passes[4], offset=52.0 + 0.01 * step)
        document.preview(with_pass(document.stack, 4, single))
    assert told == [False]
    document.abandon()
    assert told == [False, True]


def test_nothing_is_worked_out_that_nobody_sees(qtbot: QtBot, window: Window) -> None:
    panel = window.docks["machine"].widget()
    assert not panel.plan.work.is_busy
    assert panel.plan.work.answer is None
    rest(qtbot, page(window, "Plan").plan.work)
    window.go_to("piece")
    qtbot.waitUntil(panel.visibleRegion().isEmpty)
    window.document.edit(replace(window.document.stack, title="Another"), "Name it")
    assert not panel.plan.work.is_busy
    for other in (panel.methods, panel.spread, panel.test_cut):
        assert other.work.answer is None
        assert not other.work.is_busy


def test_what_cannot_be_planned_is_said(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Plan")
    stack = window.document.stack
    blank = replace(stack.blank, species="wax")
    window.document.edit(replace(stack, blank=blank), "Take wax")
    rest(qtbot, panel.plan.work)
    assert "'wax' is unknown" in panel.plan.trouble.text()
    assert panel.plan.list.rows.rowCount() == 0


def test_the_planned_order_is_one_step_that_can_be_undone(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Plan")
    document = window.document
    rest(qtbot, panel.plan.work)
    before = document.stack
    # the last setup first, and nothing roughed out: the plan mends that
    moved = with_passes_moved(before, (len(before.passes) - 1,), 0)
    relief = [place for place, single in enumerate(moved.passes) if single.relief]
    document.edit(without_passes(moved, relief), "Mix it up")
    mixed = document.stack
    plan: Plan = rest(qtbot, panel.plan.work)
    assert panel.plan.take.isEnabled()
    qtbot.mouseClick(panel.plan.take, Qt.MouseButton.LeftButton)
    assert document.stack.passes == plan.stack.passes
    assert document.session.undo_label == LABEL
    again: Plan = rest(qtbot, panel.plan.work)
    assert again.minutes.total <= plan.minutes.total + 1e-6
    assert not panel.plan.take.isEnabled()
    assert "already" in panel.plan.take.toolTip()
    document.undo()
    assert document.stack == mixed


@pytest.mark.parametrize("title", ["Plan", "Methods"])
def test_a_stack_without_passes_is_told_in_the_words_of_the_app(
    qtbot: QtBot, window: Window, title: str
) -> None:
    stack = window.document.stack
    window.document.edit(replace(stack, passes=()), "Delete all passes")
    panel = page(window, title)
    shown = panel.plan if title == "Plan" else panel.methods
    said = panel.plan.minutes if title == "Plan" else panel.methods.message
    rest(qtbot, shown.work)
    assert said.text() == why_no_plan(window.document.stack)
    assert "place a bit" in said.text()
    assert shown.trouble.isHidden()


@pytest.mark.parametrize("title", ["Plan", "Spread", "Methods"])
def test_figures_that_do_not_hold_any_more_are_pale(
    qtbot: QtBot, window: Window, title: str
) -> None:
    panel = page(window, title)
    shown = {"Plan": panel.plan, "Spread": panel.spread, "Methods": panel.methods}[title]
    rest(qtbot, shown.work)
    others = {"Plan": panel.plan.parts, "Methods": panel.methods.chart}
    parts: list[QWidget] = [shown.list, *([others[title]] if title in others else [])]
    fresh = [contrast(part) for part in parts]
    document = window.document
    document.preview(replace(document.stack, title="While the hand moves"))
    assert shown.list.rows.rowCount(), "the former figures stay to be seen"
    for part, before in zip(parts, fresh, strict=True):
        assert contrast(part) < 0.8 * before
    document.abandon()
    assert [contrast(part) for part in parts] == fresh


def contrast(part: QWidget) -> int:
    """How far the strongest ink lies from the ground, in steps of grey."""
    image = part.grab(part.rect().adjusted(4, 0, -24, 0)).toImage()
    greys = [qGray(image.pixel(x, y)) for x in range(image.width()) for y in range(image.height())]
    return max(greys) - min(greys)

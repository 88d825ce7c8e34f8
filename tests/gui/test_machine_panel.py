"""The panel "Machine": plan, methods, spread, test cut, shop; worked out when an edit rests."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit, QListView, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.machine.after_rest import AfterRest
from profilestack.desktop.machine.page_list import ROW
from profilestack.desktop.machine.panel import MachinePanel
from profilestack.desktop.window import Window
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.shop_file import write_shop
from profilestack.files.stack_file import write_stack
from profilestack.jobs.measure import MeasureWishes, measure_readings
from profilestack.jobs.methods import methods_for
from profilestack.jobs.plan import plan_for
from profilestack.jobs.spread import spread_of
from profilestack.planning.check_dimensions import check_dimensions
from profilestack.planning.plan import Plan
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS
from profilestack.planning.usual_errors import errors_on
from profilestack.planning.work import break_even
from profilestack.session.planned_order import LABEL
from profilestack.stack.edits import with_pass, with_passes_moved, without_passes

CROWN = shipped_examples_dir() / "cornice" / "crown.stack.toml"


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Window:
    window = desk.open(CROWN)
    window.resize(1280, 800)
    return window


def page(window: Window, title: str) -> MachinePanel:
    window.go_to("machine")
    panel = window.docks["machine"].widget()
    assert isinstance(panel, MachinePanel)
    titles = [panel.pages.tabText(place) for place in range(panel.pages.count())]
    panel.pages.setCurrentIndex(titles.index(title))
    return panel


def rest(qtbot: QtBot, work: AfterRest) -> Any:
    qtbot.waitUntil(lambda: work.is_fresh and not work.is_busy, timeout=30_000)
    return work.answer


def heads(view: QListView, kind: str) -> list[str]:
    model = view.model()
    rows = [model.data(model.index(k, 0), ROW) for k in range(model.rowCount())]
    return [row.head for row in rows if row.kind == kind]


# -- the plan --------------------------------------------------------------------------------------


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


# -- the shop --------------------------------------------------------------------------------------


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


# -- methods ---------------------------------------------------------------------------------------


def test_methods_are_drawn_and_told(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Methods")
    rest(qtbot, panel.methods.work)
    document = window.document
    report = methods_for(document.stack, document.session.bits)
    ways = {method.name: method.work for method in report.methods.methods}
    stack = document.stack
    one, batch = (ways["stacked"].cost(stack, USUAL_SHOP, pieces) for pieces in (1, 4))
    said = panel.methods.chart.accessibleDescription()
    assert f"Stacked bits: cost {one:.0f} for one piece, {batch:.0f} for 4" in said
    even = break_even(ways["stacked"], ways["made-to-order"], stack, USUAL_SHOP)
    assert even is not None
    told = {row.head: row.words for row in panel.methods.list.rows.rows}
    metres = f"{even / 1000.0:.1f} m"
    assert f"from {metres} on Made-to-order cutter below Stacked bits" in said
    assert f"costs less than stacked bits from {metres} on." in told["Which costs less"]
    assert "What changes it most" in told["3D beside stacked bits"]
    panel.methods.quantity.setCurrentIndex(1)
    minutes = ways["stacked"].parts(stack, USUAL_SHOP, 1).total
    said = panel.methods.chart.accessibleDescription()
    assert f"Stacked bits: minutes {minutes:.0f} for one piece" in said
    panel.methods.chart.grab()  # paints without a fault


def test_without_a_wanted_profile_there_are_no_methods_and_no_spread(
    qtbot: QtBot, window: Window
) -> None:
    document = window.document
    document.edit(replace(document.stack, target=None), "Take the profile away")
    panel = page(window, "Methods")
    rest(qtbot, panel.methods.work)
    assert "no wanted profile" in panel.methods.message.text()
    panel = page(window, "Spread")
    assert rest(qtbot, panel.spread.work) is None
    assert "no wanted profile" in panel.spread.summary.text()
    window.refresh()
    assert "there is no wanted profile" in window.actions_by_name["spread"].toolTip()


# -- the spread ------------------------------------------------------------------------------------


def test_the_spread_is_a_band_that_goes_with_the_next_edit(qtbot: QtBot, window: Window) -> None:
    strip, panel = window.bench.leftover, window.docks["machine"].widget()
    action = window.actions_by_name["spread"]
    assert not action.isChecked()
    plain = strip.grab().toImage()
    action.trigger()
    assert action.isChecked()
    spread = rest(qtbot, panel.spread.work)
    assert strip.spread is spread
    assert strip.grab().toImage() != plain
    report = window.document.report
    assert report is not None
    told = spread_of(report, window.document.session.bits, errors=errors_on(USUAL_SHOP.machine))
    assert told is not None
    assert spread.overcut == told.overcut
    assert np.array_equal(spread.low, told.low)
    summary = panel.spread.summary.text()
    half, most = told.overcut
    assert f"overcut {half:.3f} mm median, {most:.3f} in 95 of 100" in summary
    (first,) = [head for head in heads(panel.spread.list, "pass") if "matters most" in head]
    assert first.startswith(f"Pass {told.blames[0].number} ")
    document = window.document
    document.edit(replace(document.stack, title="Another"), "Name it")
    assert strip.spread is None
    rest(qtbot, panel.spread.work)
    assert strip.spread is not None
    action.trigger()
    assert not action.isChecked()
    assert strip.spread is None


# -- the test cut ----------------------------------------------------------------------------------


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


# -- for every hand --------------------------------------------------------------------------------


@pytest.mark.parametrize("title", ["Plan", "Methods", "Spread", "Test", "Shop"])
def test_every_page_can_be_reached_and_heard(qtbot: QtBot, window: Window, title: str) -> None:
    panel = page(window, title)
    shown = panel.pages.currentWidget()
    for part in shown.findChildren(QWidget):
        if isinstance(part, QAbstractButton | QComboBox | QLineEdit | QListView):
            if part.window() is not window or part.objectName().startswith("qt_"):
                continue  # what drops down from a choice
            name = part.accessibleName() or getattr(part, "text", str)()
            assert name, part
            assert part.focusPolicy() & Qt.FocusPolicy.TabFocus, name
    assert panel.pages.tabToolTip(panel.pages.currentIndex())


def test_rows_are_spoken_with_their_units(qtbot: QtBot, window: Window) -> None:
    panel = page(window, "Plan")
    rest(qtbot, panel.plan.work)
    model = panel.plan.list.model()
    role = Qt.ItemDataRole.AccessibleTextRole
    spoken = [model.data(model.index(k, 0), role) for k in range(model.rowCount())]
    cuts = [text for text in spoken if "edge to centre" in text]
    assert all(re.search(r"below face [\d.]+ mm, removes [\d.]+ mm²", text) for text in cuts)
    window.document.set_units("in")
    plan = panel.plan.plan
    assert plan is not None
    step = plan.steps[0]
    spoken = [model.data(model.index(k, 0), role) for k in range(model.rowCount())]
    first = next(text for text in spoken if "edge to centre" in text)
    assert f"edge to centre {step.offset / 25.4:.4f} in" in first
    assert f"below face {step.depth / 25.4:.4f} in" in first

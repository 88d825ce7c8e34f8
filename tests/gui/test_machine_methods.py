"""The pages "Methods" and "Spread": what they say, and what is drawn of it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.window import Window
from profilestack.jobs.methods import methods_for
from profilestack.jobs.spread import spread_of
from profilestack.planning.shop import USUAL_SHOP
from profilestack.planning.usual_errors import errors_on
from profilestack.planning.work import break_even
from tests.gui.machine_hands import CROWN, heads, page, rest


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Window:
    window = desk.open(CROWN)
    window.resize(1280, 800)
    return window


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

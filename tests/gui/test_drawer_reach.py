"""The drawer says of each bit whether it reaches anything of the wanted profile."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from profilestack.desktop.drawer.model import REACH
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.stack import Pass
from tests.gui.drawer_hands import GROOVE, document_of, inked, know, shown
from tests.shop import lines

REBATE = lines((0, 30), (30, 30), (30, 20), (60, 20))


@pytest.fixture
def panel(qtbot: QtBot) -> DrawerPanel:
    return shown(qtbot, document_of(target=GROOVE))


def test_what_can_reach_is_inked_and_the_rest_says_why(qtbot: QtBot, panel: DrawerPanel) -> None:
    know(qtbot, panel)
    slim = panel.at_hand.model.index_of("straight-1-4in")
    wide = panel.at_hand.model.index_of("straight-3-4in")
    assert slim.data(REACH).reaches
    assert not wide.data(REACH).reaches
    assert "Reaches nothing here: it is too wide" in wide.data(Qt.ItemDataRole.ToolTipRole)
    assert "within the tolerance" in slim.data(Qt.ItemDataRole.ToolTipRole)
    assert "too wide" in wide.data(Qt.ItemDataRole.AccessibleDescriptionRole)
    # paler on the paper as well
    picture = panel.at_hand.view.viewport().grab().toImage()
    assert inked(picture, panel, "straight-1-4in") > 2 * inked(picture, panel, "straight-3-4in")


def test_judged_anew_only_when_the_target_or_the_blank_changes(
    qtbot: QtBot, panel: DrawerPanel
) -> None:
    know(qtbot, panel)
    stack = panel.document.stack
    panel.document.edit(replace(stack, passes=(Pass("straight-1-4in", 30, 2),)), "Add a pass")
    assert not panel.at_hand.reaching.is_busy
    panel.document.edit(replace(panel.document.stack, target=REBATE), "Change the profile")
    assert panel.at_hand.reaching.is_busy
    know(qtbot, panel)
    assert panel.at_hand.model.index_of("straight-3-4in").data(REACH).reaches
    panel.document.undo()
    know(qtbot, panel)
    assert not panel.at_hand.model.index_of("straight-3-4in").data(REACH).reaches


def test_a_target_that_cannot_be_is_told_and_not_fatal(qtbot: QtBot, panel: DrawerPanel) -> None:
    outside = replace(panel.document.stack, target=lines((0, 10), (90, 10)))
    panel.document.edit(outside, "Change the profile")
    know(qtbot, panel)
    assert "leaves the blank" in panel.at_hand.foot.words.text()
    panel.document.undo()
    know(qtbot, panel)
    assert "leaves the blank" not in panel.at_hand.foot.words.text()


def test_without_a_target_nothing_is_said_of_reach(qtbot: QtBot) -> None:
    panel = shown(qtbot, document_of())
    know(qtbot, panel)
    assert all(
        panel.at_hand.model.index_of(bit.id).data(REACH) is None for bit in panel.at_hand.model.bits
    )

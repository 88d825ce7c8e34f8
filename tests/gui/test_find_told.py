"""What is told beside the ways: unreached places, setups, a fitted profile."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.find.panel import FindPanel
from profilestack.desktop.find.told import SETUPS
from profilestack.geometry.path import Path
from profilestack.session.session import Session
from profilestack.stack import PathTarget
from tests.gui.finder_hands import looked, shown, small_stack


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return Document(Session(small_stack()))


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[FindPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


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

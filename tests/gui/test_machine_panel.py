"""The panel "Machine" for every hand."""

from __future__ import annotations

import re

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLineEdit, QListView, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.window import Window
from tests.gui.machine_hands import CROWN, page, rest


@pytest.fixture
def window(qtbot: QtBot, desk: Desk) -> Window:
    window = desk.open(CROWN)
    window.resize(1280, 800)
    return window


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

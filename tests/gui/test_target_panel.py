"""The wanted profile's panel: what the profile is made of, and how the panel looks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.theme import DARK, LIGHT, palette_of
from profilestack.stack import MemberTarget, Stack
from tests.gui.target_hands import Keys, document_with, path_of, shown, with_path


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return document_with()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


def test_kind_is_changed_and_undone(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    keys = Keys(qtbot, panel)
    assert panel.made_of.text() == "There is no wanted profile yet. Make one of"
    keys.push(panel.build)
    members = document.session.settled.target
    assert isinstance(members, MemberTarget)
    keys.push(panel.draw)
    assert path_of(document).length == pytest.approx(members.path().length)
    assert not panel.draw.isEnabled()
    qtbot.waitUntil(panel.path.isVisible)
    keys.push(panel.remove)
    assert document.session.settled.target is None
    assert not panel.remove.isEnabled()
    keys.push(panel.draw)
    assert len(path_of(document).steps) == 2
    for _ in range(3):
        document.undo()
    assert document.session.settled.target is members
    assert panel.made_of.text() == "Made of classical members"


def test_drag_of_a_pass_leaves_the_panel_alone(
    qtbot: QtBot, panel: TargetPanel, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_path(document)
    looked: list[Stack] = []
    monkeypatch.setattr(panel, "_head_for", lambda kind: looked.append(document.stack))
    for title in ("a", "b", "c"):
        document.preview(replace(document.session.settled, title=title))
    assert looked == []


def test_every_field_has_a_name(panel: TargetPanel, document: Document) -> None:
    with_path(document)
    nameless = [
        widget
        for kind in (QLineEdit, QComboBox)
        for widget in panel.findChildren(kind)
        if not widget.accessibleName()
    ]
    assert nameless == []


def test_colours_follow_the_theme(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    with_path(document)
    qtbot.waitUntil(panel.drawing.isVisible)
    former = QApplication.palette()
    try:
        for theme in (LIGHT, DARK):
            QApplication.setPalette(palette_of(theme))
            corner = panel.drawing.grab().toImage().pixelColor(3, 3)
            assert corner == QColor(theme.paper)
    finally:
        QApplication.setPalette(former)

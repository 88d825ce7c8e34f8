"""What holds for all panels of the window."""

from __future__ import annotations

from collections import Counter

import pytest
from PySide6.QtWidgets import QAbstractButton, QApplication, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.panels import PLACES
from profilestack.desktop.target.panel import TargetPanel


def words_of_buttons(panel: QWidget) -> Counter[str]:
    """What each is called; one of a row of the same says in its name of which row it is."""
    buttons = [each for each in panel.findChildren(QAbstractButton) if each.isVisibleTo(panel)]
    names = (each.accessibleName() or each.text().replace("&", "") for each in buttons)
    return Counter(name for name in names if name)


@pytest.mark.parametrize("name", [place.name for place in PLACES])
def test_no_two_buttons_of_a_panel_say_the_same(qtbot: QtBot, desk: Desk, name: str) -> None:
    window = desk.open_example()
    window.go_to(name)
    words = words_of_buttons(window.docks[name].widget())
    assert [word for word, count in words.items() if count > 1] == []


@pytest.mark.parametrize("larger", [1.0, 1.5])
def test_what_is_removed_of_a_wanted_profile_is_said(
    qtbot: QtBot, qapp: QApplication, desk: Desk, larger: float
) -> None:
    window = desk.new()
    font = window.font()
    font.setPointSizeF(larger * font.pointSizeF())
    panel = window.docks["target"].widget()
    assert isinstance(panel, TargetPanel)
    panel.setFont(font)
    window.resize(1280, 800)
    window.go_to("target")
    panel.build.click()
    words = words_of_buttons(panel)
    assert {"Clear profile": 1, "Remove member": 1}.items() <= words.items()
    assert "Remove" not in words
    qtbot.wait(20)
    for button in panel.members.buttons.values():
        assert button.width() >= button.sizeHint().width(), button.text()
    panel.draw.click()
    words = words_of_buttons(panel)
    assert {"Clear profile": 1, "Remove point": 1}.items() <= words.items()
    panel.remove.click()
    assert window.document.stack.target is None
    assert window.document.session.undo_label == "Clear the wanted profile"

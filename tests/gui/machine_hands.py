"""The panel "Machine" of the shipped example: its pages, and what they work out."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QListView
from pytestqt.qtbot import QtBot

from profilestack.desktop.machine.after_rest import AfterRest
from profilestack.desktop.machine.page_list import ROW
from profilestack.desktop.machine.panel import MachinePanel
from profilestack.desktop.window import Window
from profilestack.files.shipped import shipped_examples_dir

CROWN = shipped_examples_dir() / "cornice" / "crown.stack.toml"


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

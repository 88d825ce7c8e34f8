"""The panels of the window, and where each is docked. One line here puts a panel into it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDockWidget, QMainWindow, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.find.panel import FindPanel
from profilestack.desktop.target.panel import TargetPanel

LEFT, RIGHT = Qt.DockWidgetArea.LeftDockWidgetArea, Qt.DockWidgetArea.RightDockWidgetArea


@dataclass(frozen=True, slots=True)
class Place:
    """A panel: its name in the layout and the help, its title, its side, how it is made."""

    name: str
    title: str
    side: Qt.DockWidgetArea
    make: Callable[[Document], QWidget]


PLACES = (
    Place("target", "Wanted profile", LEFT, TargetPanel),
    Place("find", "Ways to cut it", LEFT, FindPanel),
)


def dock_panels(window: QMainWindow, document: Document) -> dict[str, QDockWidget]:
    """Put all panels into the window; those of one side lie over each other, the first on top."""
    docks: dict[str, QDockWidget] = {}
    first: dict[Qt.DockWidgetArea, QDockWidget] = {}
    for place in PLACES:
        dock = QDockWidget(place.title, window)
        dock.setObjectName(place.name)
        dock.setWidget(place.make(document))
        window.addDockWidget(place.side, dock)
        if place.side in first:
            window.tabifyDockWidget(first[place.side], dock)
        first.setdefault(place.side, dock)
        docks[place.name] = dock
    for dock in first.values():
        dock.raise_()
    return docks

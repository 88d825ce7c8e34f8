"""The panels of the window, and where each is docked. One line here puts a panel into it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDockWidget, QMainWindow, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.desktop.find.panel import FindPanel
from profilestack.desktop.machine.panel import MachinePanel
from profilestack.desktop.piece.panel import PiecePanel
from profilestack.desktop.stack_panel.panel import StackPanel
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
    Place("drawer", "Bits", LEFT, DrawerPanel),
    Place("target", "Wanted profile", LEFT, TargetPanel),
    Place("find", "Ways to cut it", LEFT, FindPanel),
    Place("stack", "Stack", RIGHT, StackPanel),
    Place("piece", "Piece", RIGHT, PiecePanel),
    Place("machine", "Machine", RIGHT, MachinePanel),
)


def dock_panels(window: QMainWindow, document: Document) -> dict[str, QDockWidget]:
    """Make all panels of a window, each in a dock."""
    docks: dict[str, QDockWidget] = {}
    for place in PLACES:
        dock = QDockWidget(place.title, window)
        dock.setObjectName(place.name)
        dock.setWidget(place.make(document))
        docks[place.name] = dock
    return docks


def first_in_order(part: QWidget) -> QWidget:
    """What the Tab key reaches first in a part of the window; the part where there is nothing."""
    proxy = part.focusProxy()
    if proxy is not None:
        return proxy
    widget = part.nextInFocusChain()
    while widget is not None and widget is not part:
        takes_focus = widget.focusPolicy().value & Qt.FocusPolicy.TabFocus.value
        if takes_focus and part.isAncestorOf(widget) and widget.isEnabled() and widget.isVisible():
            return widget
        widget = widget.nextInFocusChain()
    return part


def arrange(window: QMainWindow, docks: dict[str, QDockWidget]) -> None:
    """Put the panels where they are at first: at two sides, over each other, the first on top."""
    first: dict[Qt.DockWidgetArea, QDockWidget] = {}
    for place in PLACES:
        dock = docks[place.name]
        dock.setFloating(False)
        window.addDockWidget(place.side, dock)
        if place.side in first:
            window.tabifyDockWidget(first[place.side], dock)
        first.setdefault(place.side, dock)
        dock.show()
    for dock in first.values():
        dock.raise_()

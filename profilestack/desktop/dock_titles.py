"""Titles over panels: only where no tab says their name already."""

from __future__ import annotations

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QDockWidget, QMainWindow, QWidget


class DockTitles(QObject):
    """Takes the title off a panel that shares its place with others, whose tabs name them all.

    A panel that stands alone or floats keeps its own title, by which it is moved and closed; from
    a shared place it is drawn out by its tab.
    """

    def __init__(self, window: QMainWindow, docks: dict[str, QDockWidget]) -> None:
        super().__init__(window)
        self._window = window
        self._bare = {dock: _no_title(dock) for dock in docks.values()}
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self.look)
        window.setDockOptions(window.dockOptions() | QMainWindow.DockOption.GroupedDragging)
        for dock in docks.values():
            for told in (dock.topLevelChanged, dock.dockLocationChanged, dock.visibilityChanged):
                told.connect(self._soon.start)

    def look(self) -> None:
        """Give and take titles as the panels stand now."""
        for dock, bare in self._bare.items():
            others = [
                other
                for other in self._window.tabifiedDockWidgets(dock)
                if not other.isHidden() and not other.isFloating()
            ]
            wanted = bare if others and not dock.isFloating() else None
            if dock.titleBarWidget() is not wanted:
                dock.setTitleBarWidget(wanted)  # type: ignore[arg-type]  # None: the usual one
                bare.setVisible(wanted is bare)


def _no_title(dock: QDockWidget) -> QWidget:
    bare = QWidget(dock)
    bare.setFixedHeight(0)
    bare.hide()
    return bare

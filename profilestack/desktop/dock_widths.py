"""How wide the sides of the window are until somebody draws them to another width."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, QTimer
from PySide6.QtWidgets import QDockWidget, QMainWindow

from profilestack.desktop.stack_panel.panel import StackPanel

LEFT_LETTERS = 46
"""How wide the left side is, in letters."""

MOST_LEFT, MOST_RIGHT = 0.26, 0.34
"""The sides take no more of the window's width than this, however large the type is."""

MOST_FOR_ALL = 0.4
"""But so much the right side may have where the stack would have to be scrolled sideways."""


class DockWidths(QObject):
    """Gives the sides the room that they need: the right one so that the stack can be read.

    They follow the window's width until somebody draws the line beside one of them.
    """

    def __init__(self, window: QMainWindow, docks: dict[str, QDockWidget]) -> None:
        super().__init__(window)
        self._window, self._docks = window, docks
        self._is_ours = True
        self._pressed_at: tuple[int, int] | None = None
        self._soon, self._let_go = QTimer(self), QTimer(self)
        for timer, then in ((self._soon, self._follow), (self._let_go, self._hand_is_gone)):
            timer.setSingleShot(True)
            timer.setInterval(0)
            timer.timeout.connect(then)
        window.installEventFilter(self)

    def share(self) -> None:
        """Give the sides their width now, and let them follow the window from now on."""
        self._is_ours = True
        self._give()
        # panels that were just put elsewhere find their place only now
        self._soon.start()

    def leave(self) -> None:
        """Leave the widths as they are: somebody has chosen them."""
        self._is_ours = False

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow the window's width; notice a hand that draws a line between the parts."""
        kind = event.type()
        if kind in (QEvent.Type.Resize, QEvent.Type.Show):
            self._soon.start()
        elif kind == QEvent.Type.MouseButtonPress:
            self._pressed_at = self._now()
        elif kind == QEvent.Type.MouseButtonRelease:
            self._let_go.start()
        return super().eventFilter(watched, event)

    def _hand_is_gone(self) -> None:
        if self._pressed_at not in (None, self._now()):
            self.leave()
        self._pressed_at = None

    def _follow(self) -> None:
        if self._is_ours:
            self._give()

    def _give(self) -> None:
        window, shown = self._window, self._shown()
        letters = LEFT_LETTERS * window.fontMetrics().averageCharWidth()
        stack = self._docks["stack"].widget()
        assert isinstance(stack, StackPanel), "the panel of the stack"
        left = min(letters, round(MOST_LEFT * window.width()))
        right = min(stack.sizeHint().width(), round(MOST_RIGHT * window.width()))
        right = max(right, min(stack.least_width, round(MOST_FOR_ALL * window.width())))
        wide = [left if window.dockWidgetArea(dock) == _LEFT else right for dock in shown]
        window.resizeDocks(shown, wide, Qt.Orientation.Horizontal)

    def _now(self) -> tuple[int, int]:
        sides = {self._window.dockWidgetArea(dock): dock.width() for dock in self._shown()}
        return sides.get(_LEFT, 0), sides.get(_RIGHT, 0)

    def _shown(self) -> list[QDockWidget]:
        """One panel of each side that has some."""
        found: dict[Qt.DockWidgetArea, QDockWidget] = {}
        for dock in self._docks.values():
            side = self._window.dockWidgetArea(dock)
            is_there = side in (_LEFT, _RIGHT) and not dock.isHidden() and not dock.isFloating()
            in_front = not dock.visibleRegion().isEmpty()
            if is_there and (side not in found or in_front):
                found[side] = dock
        return list(found.values())


_LEFT, _RIGHT = Qt.DockWidgetArea.LeftDockWidgetArea, Qt.DockWidgetArea.RightDockWidgetArea

"""The theme: as the system says, or as the user chose; switched while the windows are open."""

from __future__ import annotations

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtWidgets import QApplication

from profilestack.desktop.theme import DARK, LIGHT, THEMES, Theme, palette_of

SYSTEM = "system"


class Looks(QObject):
    """Which theme is wanted ("system", "light", "dark"), put on the application."""

    changed = Signal()

    def __init__(self, app: QApplication, parent: QObject, wanted: str = SYSTEM) -> None:
        super().__init__(parent)
        self._app = app
        self.wanted = wanted
        app.styleHints().colorSchemeChanged.connect(self._follow)
        self._put_on()

    def want(self, wanted: str) -> None:
        """Another theme, at once."""
        self.wanted = wanted
        self._put_on()
        self.changed.emit()

    def theme(self) -> Theme:
        """The theme that is wanted now."""
        if self.wanted in THEMES:
            return THEMES[self.wanted]
        dark = self._app.styleHints().colorScheme() == Qt.ColorScheme.Dark
        return DARK if dark else LIGHT

    def _follow(self) -> None:
        if self.wanted == SYSTEM:
            self._put_on()

    def _put_on(self) -> None:
        palette = palette_of(self.theme())
        if palette != self._app.palette():
            self._app.setPalette(palette)

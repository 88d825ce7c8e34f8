"""Words on a page: paragraphs that wrap, can be marked and copied, quiet where they explain."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QLabel, QSizePolicy

from profilestack.desktop.theme import theme_now

STALE = 0.5
"""So much of their ink have words that do not hold any more: they are disabled."""


class Paragraph(QLabel):
    """A paragraph; "" hides it."""

    def __init__(self, name: str, quiet: bool = False, bold: bool = False) -> None:
        super().__init__()
        self._quiet = quiet
        self.setAccessibleName(name)
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        font = self.font()
        font.setBold(bold)
        self.setFont(font)
        self.hide()
        self._recolor()

    def say(self, text: str) -> None:
        """Other words."""
        if text != self.text():
            self.setText(text)
        self.setVisible(bool(text))

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._recolor()

    def _recolor(self) -> None:
        if not self._quiet:
            return
        role, palette, color = (
            QPalette.ColorRole.WindowText,
            self.palette(),
            QColor(theme_now().quiet),
        )
        if palette.color(QPalette.ColorGroup.Active, role) != color:
            palette.setColor(role, color)
            stale = QColor(color)
            stale.setAlphaF(STALE)
            for of in (role, QPalette.ColorRole.Text):  # words to be marked have the latter
                palette.setColor(QPalette.ColorGroup.Disabled, of, stale)
            self.setPalette(palette)

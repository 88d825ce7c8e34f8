"""A line of words that is one edit, and keeps what is not taken with the reason."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from profilestack.desktop.marked_line import MarkedLine

LONGEST = 200
"""Characters that a title or a name may have when it is typed."""


class TextField(MarkedLine):
    """One line of words; a listener that cannot take them calls :meth:`refuse`."""

    committed = Signal(str)

    def __init__(self, name: str, about: str = "", parent: QWidget | None = None) -> None:
        super().__init__(name, about, parent)
        self._value = ""
        self.setMaxLength(LONGEST)
        self.editingFinished.connect(self.commit)
        self._tell()

    @property
    def value(self) -> str:
        """The words as they are in the document."""
        return self._value

    @value.setter
    def value(self, value: str) -> None:
        if value == self._value and (self.trouble or self.isModified()):
            return
        self._value = value
        if value != self.text():
            self.setText(value)
            self.setCursorPosition(0)
        self.setModified(False)
        self._set_trouble("")

    def commit(self) -> None:
        """Tell what was typed, if it is something else."""
        if not self.isModified():
            return
        words = self.text().strip()
        self._set_trouble("")
        if words != self._value:
            self.committed.emit(words)
        if not self.trouble:
            self.setModified(False)
            self.value = words

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape brings the words back."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.setText(self._value)
            self.setModified(False)
            self._set_trouble("")
            return
        super().keyPressEvent(event)

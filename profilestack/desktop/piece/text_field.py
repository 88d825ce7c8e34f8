"""A line of words that is one edit, and keeps what is not taken with the reason."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QPaintEvent
from PySide6.QtWidgets import QLineEdit, QWidget

from profilestack.desktop.number_field import mark_size, paint_mark

LONGEST = 200
"""Characters that a title or a name may have when it is typed."""


class TextField(QLineEdit):
    """One line of words; a listener that cannot take them calls :meth:`refuse`."""

    committed = Signal(str)
    trouble_changed = Signal(str)

    def __init__(self, name: str, about: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.trouble = ""
        self._value = ""
        self._about = about
        self.setMaxLength(LONGEST)
        self.setAccessibleName(name)
        self.editingFinished.connect(self.commit)
        self.textEdited.connect(lambda: self._set_trouble(""))
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

    def refuse(self, reason: str) -> None:
        """Keep the words and say why they are not taken."""
        self.setModified(True)
        self._set_trouble(reason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape brings the words back."""
        if event.key() == Qt.Key.Key_Escape and self.isModified():
            self.setText(self._value)
            self.setModified(False)
            self._set_trouble("")
            return
        super().keyPressEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The line, and the mark of words that are not taken."""
        super().paintEvent(event)
        if self.trouble:
            paint_mark(self)

    def _set_trouble(self, reason: str) -> None:
        if reason == self.trouble:
            return
        self.trouble = reason
        self.setTextMargins(0, 0, mark_size(self) + 4 if reason else 0, 0)
        self._tell()
        self.update()
        self.trouble_changed.emit(reason)

    def _tell(self) -> None:
        first = f"Not taken: {self.trouble}" if self.trouble else ""
        lines = (first, self.accessibleName(), self._about)
        self.setToolTip("\n".join(line for line in lines if line))
        self.setAccessibleDescription(first or self._about)

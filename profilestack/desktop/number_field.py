"""A line that holds a number and steps it by keys and wheel."""

from __future__ import annotations

import math
from abc import abstractmethod
from typing import TypedDict

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from profilestack.desktop.marked_line import MarkedLine
from profilestack.errors import InputError, Problem

WHEEL_NOTCH = 120


class Limits(TypedDict, total=False):
    """What a field may be told of its number: ends, whether it may be empty, what it is."""

    low: float
    high: float
    optional: bool
    about: str


class NumberField(MarkedLine):
    """A line that holds one number.

    A field that is ``optional`` may be left empty; then its value is None.
    """

    committed = Signal(float)
    """Another number was entered. A listener that cannot take it calls :meth:`refuse`."""

    cleared = Signal()
    """An optional field was emptied."""

    def __init__(
        self,
        name: str,
        parent: QWidget | None = None,
        *,
        low: float = -math.inf,
        high: float = math.inf,
        optional: bool = False,
        about: str = "",
    ) -> None:
        super().__init__(name, about, parent)
        self.low, self.high, self.optional = low, high, optional
        self.stepping = False
        """Whether the number comes from the wheel or the keys: such steps may be one undo step."""
        self._value: float | None = None
        self._wheel = 0
        self.editingFinished.connect(self.commit)
        self._tell()

    @property
    def value(self) -> float | None:
        """The number; None where there is none."""
        return self._value

    @value.setter
    def value(self, value: float | None) -> None:
        # a refresh with the same number leaves alone what is being typed
        if value == self._value and (self.trouble or self.isModified()):
            return
        self._put(value)

    def commit(self) -> None:
        """Take what was typed, if it is a number and another one."""
        if not self.isModified():
            return
        text = self.text().strip()
        if not text and self.optional:
            changed = self._value is not None
            self._put(None)
            if changed:
                self.cleared.emit()
            return
        try:
            number = self._checked(self.read(text))
        except InputError as error:
            self.refuse(refusal_words(error))
            return
        self._offer(number)

    def restore(self) -> None:
        """Bring back the number as it was before the typing."""
        self._put(self._value)

    def step_by(self, steps: float) -> None:
        """Change the number by so many steps."""
        try:
            start = self.read(self.text().strip()) if self.isModified() else self._value
        except InputError:
            start = self._value
        number = self._stepped(start or 0.0, steps)
        self.stepping = True
        try:
            self._offer(min(self.high, max(self.low, number)))
        finally:
            self.stepping = False

    @abstractmethod
    def read(self, text: str) -> float:
        """The number that a text means; raises InputError."""

    @abstractmethod
    def say(self, number: float) -> str:
        """The number in its usual form."""

    @abstractmethod
    def step(self) -> float:
        """What one step changes."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Up and Down step; Escape brings the number back."""
        key = event.key()
        if key in (Qt.Key.Key_Up, Qt.Key.Key_Down) and not self.isReadOnly():
            self.step_by((1.0 if key == Qt.Key.Key_Up else -1.0) * _share(event.modifiers()))
            return
        if key == Qt.Key.Key_Escape and self.isModified():
            self.restore()
            return
        super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel steps, but only in a field that has the focus: a form scrolls by."""
        if not self.hasFocus() or self.isReadOnly():
            event.ignore()
            return
        self._wheel += event.angleDelta().y()
        notches = int(self._wheel / WHEEL_NOTCH)
        self._wheel -= notches * WHEEL_NOTCH
        if notches:
            self.step_by(notches * _share(event.modifiers()))
        event.accept()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Start counting the wheel anew."""
        self._wheel = 0
        super().focusInEvent(event)

    def _offer(self, number: float) -> None:
        if number == self._value:
            self._put(number)
            return
        self._set_trouble("")
        self.committed.emit(number)
        if not self.trouble:
            self._put(number)

    def _put(self, value: float | None) -> None:
        self._value = value
        text = "" if value is None else self.say(value)
        if text != self.text():
            self.setText(text)
            self.setCursorPosition(0)
        self.setModified(False)
        self._set_trouble("")
        self._tell()

    def _checked(self, number: float) -> float:
        if self.low <= number <= self.high:
            return number
        ends = [f"{word} {self.say(end)}" for word, end in
                (("at least", self.low), ("at most", self.high)) if math.isfinite(end)]  # fmt: skip
        raise InputError(Problem("", f"{self.say(number)} is impossible", " and ".join(ends)))

    def _stepped(self, start: float, steps: float) -> float:
        return round(start + steps * self.step(), 9)


def refusal_words(error: InputError) -> str:
    """Why something is not taken, without the places: the field shows where."""
    return "; ".join(
        f"{problem.text}; expected {problem.expected}" if problem.expected else problem.text
        for problem in error.problems
    )


def _share(modifiers: Qt.KeyboardModifier) -> float:
    if modifiers & Qt.KeyboardModifier.ShiftModifier:
        return 10.0
    return 0.1 if modifiers & Qt.KeyboardModifier.ControlModifier else 1.0

"""A line that holds a number, keeps what was typed, and says what is wrong with it."""

from __future__ import annotations

import math
from abc import abstractmethod

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
    QWheelEvent,
)
from PySide6.QtWidgets import QLineEdit, QWidget

from profilestack.desktop.theme import theme_now
from profilestack.errors import InputError, Problem

WHEEL_NOTCH = 120


class NumberField(QLineEdit):
    """A line that holds one number.

    What was typed stays until it is understood: :attr:`trouble` says what is wrong, a mark at the
    end of the line shows it, and whoever owns the field may say the reason beside it. A field that
    is ``optional`` may be left empty; then its value is None.
    """

    committed = Signal(float)
    """Another number was entered. A listener that cannot take it calls :meth:`refuse`."""

    cleared = Signal()
    """An optional field was emptied."""

    trouble_changed = Signal(str)
    """What is wrong now; "" when nothing is."""

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
        super().__init__(parent)
        self.low, self.high, self.optional = low, high, optional
        self.trouble = ""
        self.stepping = False
        """Whether the number comes from the wheel or the keys: such steps may be one undo step."""
        self._value: float | None = None
        self._about = about
        self._wheel = 0
        self.setAccessibleName(name)
        self.editingFinished.connect(self.commit)
        self.textEdited.connect(self._forgive)
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

    def refuse(self, reason: str) -> None:
        """Keep the text and say why it is not taken."""
        self.setModified(True)
        self._set_trouble(reason)

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

    def hint(self) -> str:
        """How the number may be typed, and the number in other words."""
        return ""

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

    def paintEvent(self, event: QPaintEvent) -> None:
        """The line, and the mark of a number that is not taken."""
        super().paintEvent(event)
        if self.trouble:
            paint_mark(self)

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

    def _forgive(self) -> None:
        self._set_trouble("")

    def _set_trouble(self, reason: str) -> None:
        if reason == self.trouble:
            return
        self.trouble = reason
        self.setTextMargins(0, 0, mark_size(self) + 4 if reason else 0, 0)
        self._tell()
        self.update()
        self.trouble_changed.emit(reason)

    def _tell(self) -> None:
        lines = [f"Not taken: {self.trouble}"] if self.trouble else []
        lines += [line for line in (self.accessibleName(), self._about, self.hint()) if line]
        self.setToolTip("\n".join(lines))
        self.setAccessibleDescription(lines[0] if self.trouble else self._about)


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


def mark_size(field: QLineEdit) -> int:
    """Width and height of the mark [pixels]."""
    return field.fontMetrics().height()


def paint_mark(field: QLineEdit) -> None:
    """A triangle with an exclamation mark at the end of the line, and a dashed frame."""
    color = QColor(theme_now().leftover)
    size = float(mark_size(field))
    left, top = field.width() - size - 4.0, (field.height() - size) / 2.0
    room = QRectF(left, top, size, size)
    painter = QPainter(field)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(color, 1.5, Qt.PenStyle.DashLine))
    painter.drawRect(QRectF(field.rect()).adjusted(1, 1, -1, -1))
    painter.setPen(QPen(color, 1.5))
    corners = [room.bottomLeft(), room.bottomRight(), QPointF(room.center().x(), room.top())]
    painter.drawPolygon(QPolygonF(corners))
    painter.drawText(room, int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom), "!")
    painter.end()

"""One line of a bit's form: a label, a field for its kind of value, and what is wrong with it."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QCheckBox, QLabel, QLineEdit, QPushButton, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import (
    AngleField,
    LengthField,
    NumberField,
    PlainField,
    WholeField,
)
from profilestack.desktop.theme import theme_now
from profilestack.errors import InputError
from profilestack.session.bit_form import FormKey


class FormRow(QObject):
    """A key of the form. :attr:`value` is as a file has it, lengths in mm; None: left empty."""

    changed = Signal(str)
    """The value is another one; with the key."""

    pressed = Signal()
    """The button of a value that is read from a file."""

    def __init__(self, document: Document, key: FormKey, parent: QWidget) -> None:
        super().__init__(parent)
        self.key = key
        self.value: Any = None
        self.touched = False
        self.said = ""
        self.label = QLabel(key.label, parent)
        self.problem = QLabel(parent)
        self.problem.setWordWrap(True)
        self.problem.hide()
        self.field = self._made(document, parent)
        self.field.setAccessibleName(key.label)
        if not isinstance(self.field, NumberField):
            self.field.setToolTip(key.about)
        if isinstance(self.field, QLineEdit):
            self.field.setPlaceholderText(key.when_empty)
        self.label.setBuddy(self.field)

    def put(self, value: Any) -> None:
        """Show a value; what was typed is gone."""
        self.value = value
        field = self.field
        if isinstance(field, NumberField):
            field.setModified(False)
            field.value = None if value is None else float(value)
        elif isinstance(field, QCheckBox):
            field.setChecked(bool(value))
        elif isinstance(field, QLineEdit):
            field.setText(value or "")
        elif isinstance(field, QPushButton):
            field.setText("Read another drawing" if value else "Read a DXF or SVG drawing")

    def say(self, text: str) -> None:
        """Say what is wrong with the value; "" nothing."""
        self.said = text
        if text:
            palette = QPalette(self.problem.palette())
            palette.setColor(QPalette.ColorRole.WindowText, QColor(theme_now().leftover))
            self.problem.setPalette(palette)
        self.problem.setText(f"! {text}" if text else "")
        self.problem.setVisible(bool(text))
        self.field.setAccessibleDescription(text or self.key.about)

    def _made(self, document: Document, parent: QWidget) -> QWidget:
        key = self.key
        if key.sort == "flag":
            box = QCheckBox("yes", parent)
            box.toggled.connect(self._take)
            return box
        if key.sort == "text":
            line = QLineEdit(parent)
            line.textEdited.connect(lambda text: self._take(text or None))
            return line
        if key.sort == "outline":
            button = QPushButton(parent)
            button.clicked.connect(lambda _: self.pressed.emit())
            return button
        field = _number_field(document, key, parent)
        field.committed.connect(self._take_number)
        field.cleared.connect(lambda: self._take(None))
        field.textEdited.connect(lambda text: self._try(field, text))
        field.trouble_changed.connect(self.say)
        return field

    def _try(self, field: NumberField, text: str) -> None:
        """The drawing follows what is typed as soon as it is a number."""
        try:
            self._take_number(field.read(text.strip()))
        except InputError:
            if not text.strip():
                self._take(None)

    def _take_number(self, number: float) -> None:
        self._take(round(number) if self.key.sort == "whole" else number)

    def _take(self, value: Any) -> None:
        self.touched = True
        if value != self.value:
            self.value = value
            self.changed.emit(self.key.word)


def _number_field(document: Document, key: FormKey, parent: QWidget) -> NumberField:
    name, about = key.label, key.about
    if key.sort == "length":
        return LengthField(document, name, parent, optional=True, about=about)
    if key.sort == "angle":
        return AngleField(name, parent, optional=True, about=about)
    if key.sort == "whole":
        return WholeField(name, parent, optional=True, about=about)
    return PlainField(name, parent, optional=True, about=about, unit=key.unit)

"""A field with its name above and what is wrong with it below."""

from __future__ import annotations

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QColor, QPalette, QWheelEvent
from PySide6.QtWidgets import QComboBox, QLabel, QVBoxLayout, QWidget

from profilestack.desktop.number_field import NumberField
from profilestack.desktop.theme import theme_now


class Trouble(QLabel):
    """What is wrong, in the colour of what is wrong, with a sign; hidden when nothing is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAccessibleName("What is wrong")
        self.hide()
        self._recolor()

    def say(self, text: str) -> None:
        """Show the words; "" hides them."""
        self.setText(f"\N{WARNING SIGN}\N{VARIATION SELECTOR-15} {text}" if text else "")
        self.setVisible(bool(text))

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._recolor()

    def _recolor(self) -> None:
        palette, color = self.palette(), QColor(theme_now().leftover)
        if palette.color(QPalette.ColorRole.WindowText) != color:
            palette.setColor(QPalette.ColorRole.WindowText, color)
            self.setPalette(palette)


class Labelled(QWidget):
    """A field under its name. A number field's own trouble is shown by itself."""

    def __init__(self, name: str, field: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.field = field
        self.label = QLabel(name)
        self.label.setWordWrap(True)
        self.label.setBuddy(field)
        self.trouble = Trouble()
        if not field.accessibleName():
            field.setAccessibleName(name)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(2)
        for widget in (self.label, field, self.trouble):
            box.addWidget(widget)
        if isinstance(field, NumberField):
            field.trouble_changed.connect(self.trouble.say)

    def refuse(self, text: str) -> None:
        """Say what is wrong with what the field holds; "" when nothing is."""
        if isinstance(self.field, NumberField) and text:
            self.field.refuse(text)
        else:
            self.trouble.say(text)


class Choice(QComboBox):
    """A box of choices that lets a form scroll by, and may be narrower than its longest choice."""

    def __init__(self, name: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """The wheel chooses only where the keys would."""
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()

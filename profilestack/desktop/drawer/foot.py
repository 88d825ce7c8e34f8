"""What stands under the bits: words on the chosen one, and what can be done with it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from profilestack.bits.bit import Bit

WORDS = 9
"""Lines of text under the bits."""


class Foot(QWidget):
    """Words and buttons; a button that can do nothing says why."""

    def __init__(self) -> None:
        super().__init__()
        self.words = QLabel()
        self.place = _button("Place")
        self.change = _button("Change …")
        self.new = _button("New …")
        self.take_out = _button("Take out")
        self.put_back = QPushButton("Put back")
        self.words.setWordWrap(True)
        self.words.setAccessibleName("About the chosen bit")
        self.words.setAlignment(Qt.AlignmentFlag.AlignTop)
        # room for what is usually said, so that the bits above do not jump
        self.words.setMinimumHeight(WORDS * self.words.fontMetrics().lineSpacing())
        self.words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.new.setToolTip("A new bit, of the shape of the chosen one at first")
        self.put_back.setToolTip("Let the file hold again what it held before")
        self.put_back.hide()
        buttons = QHBoxLayout()
        buttons.setSpacing(4)
        for button in (self.place, self.change, self.new, self.take_out):
            buttons.addWidget(button)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(8)
        box.addWidget(self.words)
        box.addWidget(self.put_back)
        box.addLayout(buttons)

    def say(self, text: str) -> None:
        """Say something instead."""
        self.words.setText(text)

    def show_choice(self, bit: Bit | None, source: str, why_not_out: str) -> None:
        """Say of each button what it does with the chosen bit of the source, or why it does not."""
        for button, words in (
            (self.place, "Cut a pass with this bit (Enter, or drag it onto the section)"),
            (self.change, "Change this bit, or make another one like it (F2)"),
        ):
            button.setEnabled(bit is not None)
            button.setToolTip("Choose a bit first" if bit is None else words)
        self.take_out.setEnabled(not why_not_out)
        self.take_out.setToolTip(why_not_out or f"Take this bit out of {source}")


def _button(word: str) -> QToolButton:
    """A button as wide as its word, so that all of a row find room in a narrow panel."""
    button = QToolButton()
    button.setText(word)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
    return button

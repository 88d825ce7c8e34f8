"""Rows of a plain form: a name, a field, and below it the reason when something is not taken."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Callable

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Choice, Trouble
from profilestack.desktop.number_field import NumberField, refusal_words
from profilestack.desktop.piece.text_field import TextField
from profilestack.errors import InputError
from profilestack.session.pass_edits import Edited

Field = NumberField | TextField
WIDEST_WORD = "Overcut (gouge)"


class Form(QWidget):
    """A headed group of rows for a document; every field in it is one edit."""

    def __init__(self, document: Document, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName(title)
        self.grid = QGridLayout(self)
        self.grid.setContentsMargins(0, 0, 0, 8)
        self.grid.setHorizontalSpacing(8)
        self.grid.setVerticalSpacing(4)
        self.grid.setColumnStretch(1, 1)
        self._rows: dict[str, tuple[QWidget, ...]] = {}
        self._heading = QLabel(title)
        self.grid.addWidget(self._heading, 0, 0, 1, 2)
        self._restyle()

    @abstractmethod
    def refresh(self) -> None:
        """Show the document."""

    def add_field(self, key: str, word: str, field: Field) -> None:
        """A row with a field that may be refused."""
        reason = Trouble()
        field.trouble_changed.connect(reason.say)
        self._add(key, word, field, reason)

    def add_choice(
        self,
        key: str,
        word: str,
        choices: dict[str, str],
        about: str,
        chosen: Callable[[str], None],
    ) -> KeyChoice:
        """A row with a choice of few; ``chosen`` is called with the key that the user picks."""
        reason = Trouble()
        box = KeyChoice(word, choices, about)
        box.activated.connect(lambda _: chosen(box.key))
        box.reason = reason
        self._add(key, word, box, reason)
        return box

    def add_words(self, key: str, word: str) -> QLabel:
        """A row that is only read."""
        said = QLabel()
        said.setWordWrap(True)
        said.setTextFormat(Qt.TextFormat.PlainText)
        said.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._add(key, word, said, None)
        return said

    def add_wide(self, part: QWidget) -> None:
        """A part over the whole width."""
        self.grid.addWidget(part, self.grid.rowCount(), 0, 1, 2)

    def show_rows(self, keys: tuple[str, ...]) -> None:
        """Show only these rows of the form; the others are not for what is chosen."""
        for key, parts in self._rows.items():
            for part in parts:
                is_idle = isinstance(part, Trouble) and not part.text()
                part.setVisible(key in keys and not is_idle)

    def changeEvent(self, event: QEvent) -> None:
        """Other type: another heading."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._restyle()

    def _add(self, key: str, word: str, part: QWidget, reason: Trouble | None) -> None:
        row = self.grid.rowCount()
        name = QLabel(word)
        name.setBuddy(part)
        self.grid.addWidget(name, row, 0)
        self.grid.addWidget(part, row, 1)
        if reason is not None:
            self.grid.addWidget(reason, row + 1, 1)
        self._rows[key] = (name, part) if reason is None else (name, part, reason)

    def _restyle(self) -> None:
        bold = QFont(self.font())
        bold.setBold(True)
        self._heading.setFont(bold)
        # the fields of all forms stand below each other
        widest = self.fontMetrics().horizontalAdvance(WIDEST_WORD)
        self.grid.setColumnMinimumWidth(0, widest + self.grid.horizontalSpacing())


class KeyChoice(Choice):
    """A choice of few words, each with a key."""

    def __init__(self, name: str, choices: dict[str, str], about: str) -> None:
        super().__init__(name)
        self.reason: Trouble | None = None
        self.setAccessibleDescription(about)
        self.setToolTip(about)
        for key, word in choices.items():
            self.addItem(word, key)

    @property
    def key(self) -> str:
        """What is chosen."""
        return str(self.currentData())

    def show_key(self, key: str) -> None:
        """Show what the document has."""
        self.setCurrentIndex(self.findData(key))
        if self.reason is not None:
            self.reason.say("")


def take(document: Document, field: Field, edit: Callable[[], Edited], merging: str = "") -> None:
    """Make an edit for a field, or have the field say why it cannot be made."""
    try:
        stack, label = edit()
    except InputError as error:
        field.refuse(refusal_words(error))
        return
    is_step = isinstance(field, NumberField) and field.stepping
    document.edit(stack, label, merging if is_step else "")

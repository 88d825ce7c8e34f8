"""Messages inside the window: they ask for nothing at once, and stay until they are dealt with."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAccessible, QAccessibleEvent, QGuiApplication, QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPlainTextEdit, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.theme import theme_now

STRIPE = 6
MOST_LINES = 8


@dataclass(frozen=True, slots=True)
class Notice:
    """A message: what it is about, what is so, more lines, and what can be done.

    A new notice about the same thing takes the place of the old one. ``grave``: something failed.
    ``tips`` say more on a button, by its word; that of "Close" too.
    """

    about: str
    text: str
    details: tuple[str, ...] = ()
    choices: tuple[tuple[str, Callable[[], object]], ...] = ()
    grave: bool = False
    tips: tuple[tuple[str, str], ...] = ()

    @property
    def whole(self) -> str:
        """All of its words, as they are copied."""
        return "\n".join((self.text, *self.details))


class NoticeRow(QWidget):
    """One message, with its buttons."""

    def __init__(self, notice: Notice, dismiss: Callable[[], None], parent: QWidget) -> None:
        super().__init__(parent)
        self.notice = notice
        self.setAccessibleName("Warning" if notice.grave else "Message")
        self.setAccessibleDescription(notice.whole)
        words = QLabel(notice.text)
        words.setWordWrap(True)
        words.setTextFormat(Qt.TextFormat.PlainText)
        words.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse
            | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        box = QVBoxLayout(self)
        box.setContentsMargins(16, 8, 8, 8)
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(words, 1)
        self.buttons: dict[str, QPushButton] = {}
        tips = dict(notice.tips)
        for word, slot in self._choices(dismiss):
            button = QPushButton(word)
            button.setToolTip(tips.get(word, ""))
            button.setAccessibleDescription(tips.get(word, ""))
            button.clicked.connect(slot)
            line.addWidget(button, 0, Qt.AlignmentFlag.AlignTop)
            self.buttons[word] = button
        box.addLayout(line)
        if notice.details:
            box.addWidget(self._lines(notice.details))

    def _choices(self, dismiss: Callable[[], None]) -> list[tuple[str, Callable[[], object]]]:
        def after(slot: Callable[[], object]) -> Callable[[], None]:
            def act() -> None:
                dismiss()
                slot()

            return act

        chosen = [(word, after(slot)) for word, slot in self.notice.choices]
        if self.notice.details:
            chosen.append(("Copy", self.copy))
        return [*chosen, ("Close", dismiss)]

    def copy(self) -> None:
        """Put the whole message on the clipboard."""
        QGuiApplication.clipboard().setText(self.notice.whole)

    def _lines(self, details: Sequence[str]) -> QPlainTextEdit:
        lines = QPlainTextEdit("\n".join(details))
        lines.setReadOnly(True)
        lines.setTabChangesFocus(True)
        lines.setAccessibleName("What is wrong")
        height = lines.fontMetrics().lineSpacing() * min(MOST_LINES, len(details) + 1)
        lines.setFixedHeight(height + 2 * 8)
        return lines

    def paintEvent(self, event: QPaintEvent) -> None:
        """A stripe at the left says how grave it is; the words say so too."""
        theme = theme_now()
        painter = QPainter(self)
        painter.fillRect(self.rect(), theme.paper)
        painter.fillRect(
            0, 0, STRIPE, self.height(), theme.leftover if self.notice.grave else theme.target
        )
        painter.fillRect(0, self.height() - 1, self.width(), 1, theme.rule)
        painter.end()

    def changeEvent(self, event: QEvent) -> None:
        """Another theme: other colours."""
        if event.type() == QEvent.Type.PaletteChange:
            self.update()
        super().changeEvent(event)


class Notices(QWidget):
    """The messages of a window, the newest at the top."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: dict[str, NoticeRow] = {}
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(0)
        self.hide()

    def show_notice(self, notice: Notice) -> NoticeRow:
        """Show a message, in the place of an older one about the same thing."""
        self.dismiss(notice.about)
        row = NoticeRow(notice, lambda: self.dismiss(notice.about), self)
        self._rows[notice.about] = row
        self._box.insertWidget(0, row)
        self.show()
        QAccessible.updateAccessibility(QAccessibleEvent(row, QAccessible.Event.Alert))
        return row

    def dismiss(self, about: str) -> None:
        """Take a message away."""
        row = self._rows.pop(about, None)
        if row is not None:
            self._box.removeWidget(row)
            row.hide()
            row.deleteLater()
        self.setVisible(bool(self._rows))

    @property
    def is_empty(self) -> bool:
        """Whether nothing is told."""
        return not self._rows

    def row(self, about: str) -> NoticeRow | None:
        """The message about a thing, if it is shown."""
        return self._rows.get(about)

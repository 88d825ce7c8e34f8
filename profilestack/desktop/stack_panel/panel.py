"""The passes in cutting order, and what they come to."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QToolButton, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.scrolling import scrolled
from profilestack.desktop.stack_panel.caution_list import CautionList
from profilestack.desktop.stack_panel.commands import PassCommands
from profilestack.desktop.stack_panel.order import OrderSlider
from profilestack.desktop.stack_panel.table import PassTable
from profilestack.desktop.stack_panel.verdict import VerdictBox

LOWER_MOST = 0.55
"""So much of the height is the most that what is under the table has at first."""


class StackPanel(QWidget):
    """The stack of a document: the table, the moment, the verdict, the cautions."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName("Stack")
        self.commands = PassCommands(document)
        self.table = PassTable(document, self.commands)
        self.order = OrderSlider(document)
        self.verdict = VerdictBox(document)
        self.cautions = CautionList(document)
        self.buttons: dict[str, QToolButton] = {}
        self._enabled_for: tuple[tuple[int, ...], int] | None = None
        upper = QWidget()
        top = QVBoxLayout(upper)
        top.setContentsMargins(0, 0, 0, 0)
        top.setSpacing(4)
        top.addWidget(self.table, 1)
        top.addLayout(self._button_line())
        self.splitter = _Halves()
        self.splitter.addWidget(upper)
        # large type in a low window: scroll rather than squeeze
        self.splitter.addWidget(scrolled(self.order, self.verdict, self.cautions, whole=True))
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.splitter)
        self.setFocusProxy(self.table)
        document.changed.connect(self._enable)
        document.chosen_changed.connect(self._enable)
        self._enable()

    def sizeHint(self) -> QSize:
        """As wide as the table wants to be."""
        return QSize(self.table.sizeHint().width(), super().sizeHint().height())

    @property
    def least_width(self) -> int:
        """In less the table is scrolled sideways."""
        columns = self.table.columns
        return self.table.sizeHint().width() - columns.usual_width + columns.least_width

    def _button_line(self) -> QHBoxLayout:
        do = self.commands
        line = QHBoxLayout()
        line.setContentsMargins(8, 0, 8, 0)
        line.setSpacing(4)
        rows: tuple[tuple[str, str, Callable[[], None]], ...] = (
            ("Earlier", "Cut the chosen passes one place earlier (Alt+Up).", do.earlier),
            ("Later", "Cut the chosen passes one place later (Alt+Down).", do.later),
            ("Duplicate", "The chosen passes once more (Ctrl+D).", do.duplicate),
            ("Mirror", "To the other side of the blank's middle (Ctrl+Shift+M).", do.mirror),
            ("Delete", "Take the chosen passes out; Undo brings them back (Delete).", do.delete),
        )
        for word, about, command in rows:
            button = QToolButton()
            button.setText(word)
            button.setToolTip(about)
            button.setProperty("about", about)
            button.setAccessibleName(word)
            button.setAccessibleDescription(about)
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            button.clicked.connect(command)
            line.addWidget(button)
            self.buttons[word] = button
        line.addStretch()
        return line

    def _enable(self) -> None:
        chosen, count = self.document.chosen, len(self.document.stack.passes)
        if (chosen, count) == self._enabled_for:
            return
        self._enabled_for = (chosen, count)
        many = len(chosen)
        reasons = dict.fromkeys(self.buttons, "" if chosen else "Choose a pass first.")
        if chosen and chosen == tuple(range(many)):
            reasons["Earlier"] = "It is cut first already."
        if chosen and chosen == tuple(range(count - many, count)):
            reasons["Later"] = "It is cut last already."
        for word, button in self.buttons.items():
            reason = reasons[word]
            if button.isEnabled() == bool(reason):
                button.setEnabled(not reason)
            about = f"{button.property('about')}{' ' if reason else ''}{reason}"
            if about != button.toolTip():
                button.setToolTip(about)


class _Halves(QSplitter):
    """The lower half has the room that it asks for, the upper one the rest; until one moves it."""

    def __init__(self) -> None:
        super().__init__(Qt.Orientation.Vertical)
        self.setChildrenCollapsible(False)
        self._is_moved = False
        self.splitterMoved.connect(self._keep)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the height anew, and again once the words below have wrapped at their width."""
        super().resizeEvent(event)
        self._share()
        QTimer.singleShot(0, self, self._share)

    def _share(self) -> None:
        below = self.widget(1)
        if self._is_moved or below is None:
            return
        room = self.height() - self.handleWidth()
        lower = min(below.sizeHint().height(), round(LOWER_MOST * room))
        self.setSizes([room - lower, lower])

    def _keep(self) -> None:
        self._is_moved = True

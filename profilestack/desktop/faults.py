"""A fault of the program itself: it is shown, what is not saved is kept safe, the app goes on."""

from __future__ import annotations

import sys
import threading
import traceback
from collections.abc import Callable
from types import TracebackType

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QPlainTextEdit,
    QVBoxLayout,
)

from profilestack.desktop.about import system_report

WORDS = (
    "Something went wrong inside profilestack. Your work is kept safe, and you can go on. "
    "If it happens again, save under another name and start anew. "
    "Please send the text below to those who make it."
)


class FaultDialog(QDialog):
    """The traceback, with a button that copies it."""

    def __init__(self) -> None:
        super().__init__()
        self.setWindowTitle("A fault in profilestack")
        words = QLabel(WORDS)
        words.setWordWrap(True)
        self.text = QPlainTextEdit()
        self.text.setReadOnly(True)
        self.text.setTabChangesFocus(True)
        self.text.setAccessibleName("What went wrong")
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self.copy_button = buttons.addButton("Copy", QDialogButtonBox.ButtonRole.ActionRole)
        self.copy_button.clicked.connect(self.copy)
        buttons.rejected.connect(self.close)
        box = QVBoxLayout(self)
        for widget in (words, self.text, buttons):
            box.addWidget(widget)
        self.resize(
            90 * self.fontMetrics().averageCharWidth(), 24 * self.fontMetrics().lineSpacing()
        )

    def copy(self) -> None:
        """Put the text on the clipboard."""
        QGuiApplication.clipboard().setText(self.text.toPlainText())


class Faults(QObject):
    """Takes exceptions that nobody caught, from slots and from threads."""

    happened = Signal(str)

    def __init__(self, keep_all: Callable[[], None], parent: QObject) -> None:
        super().__init__(parent)
        self._keep_all = keep_all
        self._told: set[str] = set()
        self.dialog: FaultDialog | None = None
        # a fault in a thread is shown by the window's own
        self.happened.connect(self._show, Qt.ConnectionType.QueuedConnection)

    def install(self) -> None:
        """Take all exceptions from now on."""
        sys.excepthook = self.take
        threading.excepthook = lambda fault: self.take(
            fault.exc_type, fault.exc_value or fault.exc_type(), fault.exc_traceback
        )

    def take(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """An exception that nobody caught."""
        text = "".join(traceback.format_exception(kind, error, trace))
        print(text, file=sys.stderr)
        self.happened.emit(text)

    def _show(self, text: str) -> None:
        self._keep_all()
        # what fails at every paint is shown once
        if text in self._told:
            return
        self._told.add(text)
        if self.dialog is None:
            self.dialog = FaultDialog()
        before = self.dialog.text.toPlainText() if self.dialog.isVisible() else system_report()
        self.dialog.text.setPlainText(f"{text}\n{before}")
        self.dialog.show()
        self.dialog.raise_()

"""The button that starts the finder, how far it is, and the button that stops it."""

from __future__ import annotations

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.background import Background
from profilestack.jobs.find import FindResult, FindWishes, find, request_for
from profilestack.progress import Progress
from profilestack.stack import Stack

PATIENCE = 2000
"""So long nothing is shown but the button's state [ms]."""

FIND, LOOKING, STOP = "Find ways to cut it", "Looking\N{HORIZONTAL ELLIPSIS}", "Cancel"


class Looking(QWidget):
    """One button for both; progress is shown when it takes longer than a moment."""

    wanted = Signal()
    """The button asks to start."""

    def __init__(self) -> None:
        super().__init__()
        self.background = Background(self)
        self.button = QPushButton(FIND)
        self.bar, self.doing = QProgressBar(), QLabel()
        self.bar.setRange(0, 100)
        self.bar.setAccessibleName("How much is done")
        self.doing.setAccessibleName("What is being done")
        self.doing.setWordWrap(True)
        self.late = QTimer(self)
        self.late.setSingleShot(True)
        self.late.setInterval(PATIENCE)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        for widget in (self.button, self.bar, self.doing):
            box.addWidget(widget)
        self.bar.hide()
        self.doing.hide()
        self.late.timeout.connect(self._show_progress)
        self.button.clicked.connect(self._pressed)
        self.background.progress.connect(self._heard)
        self.background.ended.connect(self._ended)

    def start(self, stack: Stack, wishes: FindWishes) -> None:
        """Look for ways to cut a document's target."""
        self.button.setText(LOOKING)
        self.late.start()
        self.background.run(_find, (stack, wishes))

    def allow(self, has_target: bool) -> None:
        """Whether there is anything to look for."""
        self.button.setEnabled(has_target or self.background.is_busy)
        if not self.background.is_busy:
            why = "Look for bits and passes that make the wanted profile"
            self.button.setToolTip(why if has_target else "Draw the wanted profile first")

    def _pressed(self) -> None:
        if not self.background.is_busy:
            self.wanted.emit()
        elif self.button.text() == STOP:
            self.background.cancel()

    def _show_progress(self) -> None:
        self.button.setText(STOP)
        self.button.setToolTip("Stop looking and show the best so far (Escape)")
        self.bar.show()
        self.doing.show()

    def _heard(self, share: float, words: str) -> None:
        self.bar.setValue(round(100.0 * share))
        self.doing.setText(words[:1].upper() + words[1:])

    def _ended(self) -> None:
        self.late.stop()
        self.bar.hide()
        self.doing.hide()
        self.bar.setValue(0)
        self.doing.setText("")
        self.button.setText(FIND)


def _find(asked: tuple[Stack, FindWishes], progress: Progress) -> FindResult:
    return find(request_for(*asked), progress)

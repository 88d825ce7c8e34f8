"""A button that starts long work, how far the work is, and the same button to stop it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.background import Background

STOP = "Cancel"


@dataclass(frozen=True, slots=True)
class Words:
    """What the button says before the work and at its first moment, and more on both its uses."""

    start: str
    busy: str
    about_stop: str
    about_start: str = ""


class Waiting(QWidget):
    """One button for both; progress is shown when it takes longer than a moment."""

    wanted = Signal()
    """The button asks to start."""

    def __init__(self, background: Background, words: Words, patience: int) -> None:
        """``patience``: so long nothing is shown but the button's state [ms]."""
        super().__init__()
        self._words, self._background = words, background
        self._is_offered = True
        self.button = QPushButton(words.start)
        self.bar, self.doing = QProgressBar(), QLabel()
        self.bar.setRange(0, 100)
        self.bar.setAccessibleName("How much is done")
        self.doing.setAccessibleName("What is being done")
        self.doing.setWordWrap(True)
        self.late = QTimer(self)
        self.late.setSingleShot(True)
        self.late.setInterval(patience)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        for widget in (self.button, self.bar, self.doing):
            box.addWidget(widget)
        self.bar.hide()
        self.doing.hide()
        self.late.timeout.connect(self._show_progress)
        self.button.clicked.connect(self._pressed)
        background.progress.connect(self._heard)
        background.ended.connect(self._ended)

    @property
    def is_begun(self) -> bool:
        """Whether the work goes on."""
        return self.button.text() != self._words.start

    def begin(self) -> None:
        """The work begins."""
        self.button.setText(self._words.busy)
        self.late.start()

    def offer(self, is_offered: bool) -> None:
        """Whether the button is there to start the work; to stop it, it always is."""
        self._is_offered = is_offered
        self._show_button()

    def _pressed(self) -> None:
        if not self._background.is_busy:
            self.wanted.emit()
        elif self.button.text() == STOP:
            self._background.cancel()

    def _show_button(self) -> None:
        self.button.setVisible(self._is_offered or self.button.text() == STOP)

    def _show_progress(self) -> None:
        self.button.setText(STOP)
        self.button.setToolTip(self._words.about_stop)
        self._show_button()
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
        self.button.setText(self._words.start)
        self.button.setToolTip(self._words.about_start)
        self._show_button()

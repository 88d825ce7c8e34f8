"""That a file is being read, for how long already, and a button to leave off."""

from __future__ import annotations

import time

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QWidget

from profilestack.desktop.background import Background

PATIENCE = 150
"""So long nothing is said [ms]: most files are read by then."""

TELL_EVERY = 1000
"""So often it is said how long it lasts [ms]: it shows that the work goes on."""


class ReadingWait(QWidget):
    """Shown while one of the backgrounds works; after Cancel it offers to read again."""

    cancelled = Signal()
    """The work was left off."""

    again = Signal()
    """It is to be begun anew."""

    def __init__(self, *backgrounds: Background) -> None:
        super().__init__()
        self._backgrounds = backgrounds
        self._what, self._begun = "", 0.0
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setAccessibleName("What is being done")
        self.cancel = QPushButton("Cancel")
        self.cancel.setToolTip("Leave off reading; the file stays chosen")
        self.repeat = QPushButton("Read again")
        self.repeat.setToolTip("Read the file with what is asked for now")
        self.late, self.ticks = QTimer(self), QTimer(self)
        self.late.setSingleShot(True)
        self.late.setInterval(PATIENCE)
        self.ticks.setInterval(TELL_EVERY)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.words, 1)
        row.addWidget(self.cancel)
        row.addWidget(self.repeat)
        self.hide()
        self.late.timeout.connect(self._show)
        self.ticks.timeout.connect(self._tell)
        self.cancel.clicked.connect(self._cancel)
        self.repeat.clicked.connect(self.again)
        for background in backgrounds:
            background.ended.connect(self._ended)

    def begin(self, what: str) -> None:
        """Work begins, or begins anew with another answer; ``what`` is done."""
        self._what = what
        if not (self.late.isActive() or self.ticks.isActive()):
            self.hide()
            self._begun = time.monotonic()
            self.late.start()
        elif self.isVisible():
            self._tell()

    def clear(self) -> None:
        """Nothing is offered any more."""
        self.late.stop()
        self.ticks.stop()
        self.hide()

    def _show(self) -> None:
        self.cancel.show()
        self.repeat.hide()
        self._tell()
        self.ticks.start()
        self.show()

    def _tell(self) -> None:
        spent = int(time.monotonic() - self._begun)
        self.words.setText(f"{self._what}\N{HORIZONTAL ELLIPSIS}{f' {spent} s' if spent else ''}")

    def _cancel(self) -> None:
        for background in self._backgrounds:
            background.drop()
        self.words.setText("Not read: it was cancelled.")
        self.cancel.hide()
        self.repeat.show()
        self.show()
        self.cancelled.emit()

    def _ended(self) -> None:
        if not any(background.is_busy for background in self._backgrounds):
            self.clear()

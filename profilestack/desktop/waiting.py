"""A button that starts long work, how far the work is, and the same button to stop it."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QStyle,
    QStyleOptionButton,
    QVBoxLayout,
    QWidget,
)

from profilestack.desktop.background import Background

STOP = "Cancel"


@dataclass(frozen=True, slots=True)
class Words:
    """What the button says before the work, more on both its uses, and words beside it then."""

    start: str
    about_stop: str
    about_start: str = ""
    busy: str = ""


class _Steady(QPushButton):
    """A button that keeps its width when it says something shorter: no hand has to follow it."""

    def __init__(self, words: str) -> None:
        super().__init__(words)
        self._longest = words

    def sizeHint(self) -> QSize:
        """As wide as with its first words."""
        option, kind = QStyleOptionButton(), QStyle.ContentsType.CT_PushButton
        self.initStyleOption(option)
        words = self.fontMetrics().size(Qt.TextFlag.TextShowMnemonic, self._longest)
        first = self.style().sizeFromContents(kind, option, words, self)
        return first.expandedTo(super().sizeHint())

    def minimumSizeHint(self) -> QSize:
        """No narrower."""
        return self.sizeHint()


class Waiting(QWidget):
    """One button for both: it starts, and cancels from the first moment on.

    How far the work is, is shown when it takes longer than a moment; and so is a button that is
    not offered to start it.
    """

    wanted = Signal()
    """The button asks to start."""

    def __init__(self, background: Background, words: Words, patience: int) -> None:
        """``patience``: so long no progress is shown [ms]."""
        super().__init__()
        self._words, self._background = words, background
        self._is_offered, self._is_begun = True, False
        self.button, self.state = _Steady(words.start), QLabel()
        self.button.setToolTip(words.about_start)
        self.state.setAccessibleName("State")
        # it has the room that is left: nothing moves when it speaks
        self.state.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
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
        line = QHBoxLayout()
        line.setSpacing(8)
        line.addWidget(self.button)
        line.addWidget(self.state, 1)
        box.addLayout(line)
        for widget in (self.bar, self.doing):
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
        return self._is_begun

    def begin(self) -> None:
        """The work begins."""
        self._is_begun = True
        self.button.setText(STOP)
        self.button.setToolTip(self._words.about_stop)
        self.state.setText(self._words.busy)
        self.late.start()

    def offer(self, is_offered: bool) -> None:
        """Whether the button is there to start the work; to stop it, it always is."""
        self._is_offered = is_offered
        self._show_button()

    def _pressed(self) -> None:
        if not self._background.is_busy:
            self.wanted.emit()
        else:
            self._background.cancel()

    def _show_button(self) -> None:
        is_late = self._is_begun and not self.late.isActive()
        self.button.setVisible(self._is_offered or is_late)

    def _show_progress(self) -> None:
        self._show_button()
        self.bar.show()
        self.doing.show()

    def _heard(self, share: float, words: str) -> None:
        self.bar.setValue(round(100.0 * share))
        self.doing.setText(words[:1].upper() + words[1:])

    def _ended(self) -> None:
        self._is_begun = False
        self.late.stop()
        self.bar.hide()
        self.doing.hide()
        self.bar.setValue(0)
        self.doing.setText("")
        self.state.setText("")
        self.button.setText(self._words.start)
        self.button.setToolTip(self._words.about_start)
        self._show_button()

"""Words that change with every move of the hand, in a place that does not.

A plain label asks for the whole window to be laid out anew each time its text changes.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QLabel, QSizePolicy, QWidget


class StillWords(QWidget):
    """One line, cut short with dots where there is no room; so wide as usual, always."""

    def __init__(self, name: str, usual: str) -> None:
        super().__init__()
        self._name, self._usual, self._text = name, usual, ""
        self.setAccessibleName(name)
        # nothing shows through, so nothing below is painted with it
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)

    def text(self) -> str:
        """What is said."""
        return self._text

    def setText(self, text: str) -> None:
        """Say something else."""
        if text != self._text:
            self._text = text
            self.setAccessibleDescription(text)
            self.update()

    def sizeHint(self) -> QSize:
        """Room for a usual line."""
        metrics = self.fontMetrics()
        return QSize(metrics.horizontalAdvance(self._usual), metrics.height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """The words, cut short with dots where there is no room."""
        del event
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.palette().window())
            painter.setPen(self.palette().windowText().color())
            room = self.fontMetrics().elidedText(
                self._text, Qt.TextElideMode.ElideRight, self.width()
            )
            at = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
            painter.drawText(self.rect(), at, room)

    def changeEvent(self, event: QEvent) -> None:
        """Another font needs other room."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()


class StillLabel(QWidget):
    """Words that wrap and can be marked; laid out anew only where they need another height."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._label = QLabel(self)
        self._label.setWordWrap(True)
        self._label.setTextFormat(Qt.TextFormat.PlainText)
        self._label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self._label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._high = 0
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def text(self) -> str:
        """What is said."""
        return self._label.text()

    def setText(self, text: str) -> None:
        """Say something else."""
        # its size is fixed, see below, so it asks for nothing by itself
        self._label.setText(text)
        self._ask_for_height()

    def hasHeightForWidth(self) -> bool:
        """A narrow place has more lines."""
        return True

    def heightForWidth(self, width: int) -> int:
        """The height of the lines at a width."""
        return self._label.heightForWidth(width)

    def sizeHint(self) -> QSize:
        """As a label's."""
        return QSize(self._label.sizeHint().width(), self.heightForWidth(max(self.width(), 1)))

    def minimumSizeHint(self) -> QSize:
        """No word is cut through."""
        return self._label.minimumSizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """All of it is the label's."""
        super().resizeEvent(event)
        self._label.setFixedSize(event.size())
        self._ask_for_height()

    def changeEvent(self, event: QEvent) -> None:
        """Another font needs other room."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._ask_for_height()

    def _ask_for_height(self) -> None:
        high = self._label.heightForWidth(self.width())
        if high != self._high:
            self._high = high
            self.updateGeometry()

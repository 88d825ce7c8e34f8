"""Words that change with every move of the hand, in a place that does not.

A plain label asks for the whole window to be laid out anew each time its text changes.
"""

from __future__ import annotations

from PySide6.QtCore import QEvent, QRect, QSize, Qt
from PySide6.QtGui import QAction, QGuiApplication, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

READ_WELL = 40
"""Words that wrap ask for lines of so many letters."""

_ONE_LINE = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
_WRAPPED = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap)


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
            painter.drawText(self.rect(), _ONE_LINE, room)

    def changeEvent(self, event: QEvent) -> None:
        """Another font needs other room."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()


class StillLabel(QWidget):
    """Words that wrap; laid out anew only where they need another height. A menu copies them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._text, self._high, self._least = "", 0, 0
        # nothing shows through, so nothing below is painted with it
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        copy = QAction("Copy", self)
        copy.triggered.connect(lambda: QGuiApplication.clipboard().setText(self._text))
        self.addAction(copy)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    def text(self) -> str:
        """What is said."""
        return self._text

    def say(self, text: str, *, moving: bool = False) -> None:
        """Say something else; while a hand is ``moving`` no room is given back, nothing jumps."""
        if moving and text == self._text:
            return
        self._least = self._high if moving else 0
        if text != self._text:
            self._text = text
            self.setAccessibleName(text)
            self.update()
        self._ask_for_height()

    def hasHeightForWidth(self) -> bool:
        """A narrow place has more lines."""
        return True

    def heightForWidth(self, width: int) -> int:
        """The height of the lines at a width."""
        room = QRect(0, 0, width, 1 << 16)
        words = self.fontMetrics().boundingRect(room, _WRAPPED, self._text)
        return max(words.height(), self._least)

    def sizeHint(self) -> QSize:
        """As wide as a line is read well."""
        wide = self.fontMetrics().averageCharWidth() * READ_WELL
        return QSize(wide, self.heightForWidth(self.width()))

    def minimumSizeHint(self) -> QSize:
        """No word is cut through."""
        metrics = self.fontMetrics()
        words = (metrics.horizontalAdvance(word) for word in self._text.split())
        return QSize(max(words, default=0), metrics.height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Another width, other lines."""
        super().resizeEvent(event)
        self._ask_for_height()

    def changeEvent(self, event: QEvent) -> None:
        """Another font needs other room."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self._ask_for_height()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The words."""
        del event
        with QPainter(self) as painter:
            painter.fillRect(self.rect(), self.palette().window())
            painter.setPen(self.palette().windowText().color())
            painter.drawText(self.rect(), _WRAPPED, self._text)

    def _ask_for_height(self) -> None:
        high = self.heightForWidth(self.width())
        if high != self._high:
            self._high = high
            self.updateGeometry()

"""The words at the foot of the window: what is under the cursor, what holds a moved pass."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QWidget

from profilestack.desktop.bench import Bench

USUAL = "x 000.00 mm   z 00.00 mm  ·  leftover +0.00 mm (proud)  ·  cut by pass 10, core-box-2in"
HELD = "→ touches the wanted profile at this place"
"""Lines of usual length: so wide the words always are, and nothing at the foot jumps."""


class StillWords(QWidget):
    """Words that change with every move of the hand, in a place that never does.

    A label would ask for the whole window to be laid out anew each time.
    """

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


class PlaceWords(QWidget):
    """Follows a bench: the one place where the place under the pointer is told in words."""

    def __init__(self, bench: Bench) -> None:
        super().__init__()
        self.held = StillWords("Held by", HELD)
        self.place = StillWords("Under the pointer", USUAL)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 8, 0)
        row.setSpacing(16)
        row.addWidget(self.held)
        row.addWidget(self.place)
        bench.place_told.connect(self.place.setText)
        bench.held_changed.connect(self._tell_hold)

    def _tell_hold(self, words: str) -> None:
        self.held.setText(f"→ {words}" if words else "")

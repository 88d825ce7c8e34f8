"""A line to type in that keeps what is not taken, marks it, and says why."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QLineEdit, QWidget

from profilestack.desktop.theme import theme_now


class MarkedLine(QLineEdit):
    """One line; what was typed stays until it is understood or given up.

    :attr:`trouble` says what is wrong, a mark at the end of the line shows it, and whoever owns
    the line may say the reason beside it.
    """

    trouble_changed = Signal(str)
    """What is wrong now; "" when nothing is."""

    def __init__(self, name: str, about: str = "", parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.trouble = ""
        self._about = about
        self.setAccessibleName(name)
        self.textEdited.connect(self._forgive)

    def refuse(self, reason: str) -> None:
        """Keep the text and say why it is not taken."""
        self.setModified(True)
        self._set_trouble(reason)

    def hint(self) -> str:
        """What else is to be known of what stands in the line."""
        return ""

    def paintEvent(self, event: QPaintEvent) -> None:
        """The line, and the mark of what is not taken."""
        super().paintEvent(event)
        if self.trouble:
            _paint_mark(self)

    def _forgive(self) -> None:
        self._set_trouble("")

    def _set_trouble(self, reason: str) -> None:
        if reason == self.trouble:
            return
        self.trouble = reason
        self.setTextMargins(0, 0, _mark_size(self) + 4 if reason else 0, 0)
        self._tell()
        self.update()
        self.trouble_changed.emit(reason)

    def _tell(self) -> None:
        first = f"Not taken: {self.trouble}" if self.trouble else ""
        lines = (first, self.accessibleName(), self._about, self.hint())
        self.setToolTip("\n".join(line for line in lines if line))
        self.setAccessibleDescription(first or self._about)


def _mark_size(line: QLineEdit) -> int:
    """Width and height of the mark [pixels]."""
    return line.fontMetrics().height()


def _paint_mark(line: QLineEdit) -> None:
    """A triangle with an exclamation mark at the end of the line, and a dashed frame."""
    color = QColor(theme_now().leftover)
    size = float(_mark_size(line))
    left, top = line.width() - size - 4.0, (line.height() - size) / 2.0
    room = QRectF(left, top, size, size)
    painter = QPainter(line)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(color, 1.5, Qt.PenStyle.DashLine))
    painter.drawRect(QRectF(line.rect()).adjusted(1, 1, -1, -1))
    painter.setPen(QPen(color, 1.5))
    corners = [room.bottomLeft(), room.bottomRight(), QPointF(room.center().x(), room.top())]
    painter.drawPolygon(QPolygonF(corners))
    painter.drawText(room, int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom), "!")
    painter.end()

"""A bit drawn large, with the lengths that matter."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, largest_radius
from profilestack.desktop.document import Document
from profilestack.desktop.silhouette import pilot, silhouette, stem
from profilestack.desktop.theme import theme_now
from profilestack.units import format_length

LINES = 11.0
"""Height of the drawing, in lines of text."""


class BitDrawing(QWidget):
    """One bit as large as there is room, tip down; a dashed line shows where the nut begins.

    While what is typed makes no bit, the last one stays, as an outline.
    """

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.bit: Bit | None = None
        self._is_sound = False
        self.setAccessibleName("Drawing of the bit")
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        document.units_changed.connect(self.update)

    def show_bit(self, bit: Bit | None) -> None:
        """Draw this bit; None: what is typed makes none."""
        self._is_sound = bit is not None
        self.bit = bit or self.bit
        self.setAccessibleDescription(", ".join(self._texts()) if bit else "no bit yet")
        self.update()

    def forget(self) -> None:
        """Another bit is begun."""
        self.bit = None
        self._is_sound = False
        self.update()

    def sizeHint(self) -> QSize:
        """So many lines of text high."""
        line = self.fontMetrics().height()
        return QSize(20 * line // 2, round(LINES * line))

    def paintEvent(self, event: QPaintEvent) -> None:
        """The bit from its tip to the end of its shank, diameter under it, lengths beside."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(theme_now().paper))
        if self.bit is not None:
            self._paint_bit(painter, self.bit)
        painter.end()

    def _paint_bit(self, painter: QPainter, bit: Bit) -> None:
        theme, line = theme_now(), QFontMetricsF(self.font()).height()
        below = bit.pilot_length or 0.0
        wide = 2.0 * max(largest_radius(bit), bit.shank / 2.0, (bit.pilot_diameter or 0.0) / 2.0)
        shown = _shown_length(bit)
        tall = shown + below
        room = QRectF(self.rect()).adjusted(8.0, 8.0, -8.0, -8.0 - 1.5 * line)
        texts = self._texts()
        words = max(QFontMetricsF(self.font()).horizontalAdvance(text) for text in texts) + 24.0
        scale = min(room.height() / tall, max(40.0, room.width() - 2.0 * words) / wide)
        middle = room.center().x()
        tip = room.top() + (tall - below) * scale
        painter.save()
        painter.translate(middle, tip)
        painter.scale(scale, scale)
        pen = QPen(QColor(theme.ink if self._is_sound else theme.quiet), 1.0)
        pen.setCosmetic(True)
        if not self._is_sound:
            pen.setDashPattern([3.0, 2.0])
        painter.setPen(pen)
        painter.drawPath(stem(bit, shown))
        painter.drawPath(pilot(bit))
        if self._is_sound:
            painter.setBrush(QColor(theme.ink))
        painter.drawPath(silhouette(bit))
        painter.restore()
        self._paint_lengths(painter, bit, middle + wide * scale / 2.0 + 8.0, tip, scale)
        painter.setPen(QColor(theme.ink))
        foot = QRectF(0.0, self.height() - 1.5 * line - 4.0, self.width(), 1.5 * line)
        painter.drawText(foot, int(Qt.AlignmentFlag.AlignCenter), texts[0])

    def _paint_lengths(
        self, painter: QPainter, bit: Bit, x: float, tip: float, scale: float
    ) -> None:
        """Levels at the end of the edge and at the nut, each with its height above the tip."""
        theme, line = theme_now(), QFontMetricsF(self.font()).height()
        _, edge, nut = self._texts()
        levels = [(edge_height(bit), edge, Qt.PenStyle.SolidLine)]
        if bit.reach > 0.0:
            levels.append((min(bit.reach, _shown_length(bit)), nut, Qt.PenStyle.DashLine))
        lowest = float("inf")
        for height, text, style in levels:
            y = tip - height * scale
            painter.setPen(QPen(QColor(theme.quiet), 1.0, style))
            painter.drawLine(QPointF(x - 6.0, y), QPointF(x + 10.0, y))
            at = min(y + line / 3.0, lowest)
            lowest = at - line  # words of levels close together stand over each other
            painter.setPen(QColor(theme.ink))
            painter.drawText(QPointF(x + 14.0, max(at, line)), text)

    def _texts(self) -> tuple[str, str, str]:
        if self.bit is None:
            return ("", "", "")
        units = self._document.units
        return (
            f"cuts {format_length(2.0 * largest_radius(self.bit), units)} wide",
            f"edge {format_length(edge_height(self.bit), units)}",
            f"nut {format_length(self.bit.reach, units)}",
        )


def _shown_length(bit: Bit) -> float:
    """So much of the bit is drawn [mm]: of a long thin shank only the beginning."""
    edge = edge_height(bit)
    return max(edge, min(bit.length, 2.0 * edge + 10.0))

"""How a bit hangs in its row: from a rail, tip down, its size under it."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, largest_radius
from profilestack.desktop.drawer.model import BIT, REACH, Index
from profilestack.desktop.silhouette import pilot, silhouette, stem
from profilestack.desktop.theme import theme_now
from profilestack.jobs.reach import BitReach

STEM = 6.0
"""So much of the shank is drawn over the edge [mm]."""

SCALE = 0.11
"""A mm is drawn as this part of a line of text: 1.76 pixels where a line is 16 high."""

FITS = "fits"
"""Under a bit that follows a whole arc of the wanted profile in one pass."""

GAP = 4.0
"""Room around a bit and its words [pixels]."""


class HangingBit(QStyledItemDelegate):
    """Draws headings and bits. All bits are drawn to one scale."""

    def __init__(self, view: QListView) -> None:
        super().__init__(view)
        self._view = view
        self._sizes: dict[tuple[Bit, str], QSize] = {}

    def forget_sizes(self) -> None:
        """The font is another one."""
        self._sizes.clear()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """A heading takes a whole line, a bit as much as it is wide."""
        bit = index.data(BIT)
        if not isinstance(bit, Bit):
            height = round(QFontMetricsF(_heading_font(self._view)).height() + 3.0 * GAP)
            return QSize(max(1, self._view.viewport().width() - 1), height)
        text = index.data(Qt.ItemDataRole.DisplayRole)
        if (bit, text) not in self._sizes:
            self._sizes[bit, text] = _size(bit, text, QFontMetricsF(self._view.font()))
        return self._sizes[bit, text]

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Draw a heading, or a bit with its words."""
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        room = QRectF(option.rect)
        bit = index.data(BIT)
        if isinstance(bit, Bit):
            self._paint_bit(painter, option, index, bit, room)
        else:
            painter.setFont(_heading_font(self._view))
            painter.setPen(QColor(theme_now().quiet))
            flags = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom
            text = index.data(Qt.ItemDataRole.DisplayRole)
            painter.drawText(room.adjusted(GAP, 0, -GAP, -GAP), int(flags), text)
        painter.restore()

    def _paint_bit(
        self, painter: QPainter, option: QStyleOptionViewItem, index: Index, bit: Bit, room: QRectF
    ) -> None:
        theme = theme_now()
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        ink = QColor(theme.chosen_ink if chosen else theme.ink)
        if chosen:
            painter.fillRect(room, QColor(theme.chosen))
            painter.setPen(QPen(ink, 1.0))
            painter.drawRect(room.adjusted(0.5, 0.5, -0.5, -0.5))
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(room, QColor(theme.rule))
        painter.setPen(QPen(QColor(theme.quiet), 2.0))
        painter.drawLine(room.topLeft() + QPointF(0, 1), room.topRight() + QPointF(0, 1))
        reach = index.data(REACH)
        pale = isinstance(reach, BitReach) and not reach.reaches
        metrics = QFontMetricsF(self._view.font())
        scale = SCALE * metrics.height()
        tip = 2.0 + (STEM + edge_height(bit)) * scale
        painter.save()
        painter.translate(room.center().x(), room.top() + tip)
        paint_bit(painter, bit, scale, ink, pale=pale)
        painter.restore()
        self._paint_words(painter, index, room, chosen=chosen, pale=pale)

    def _paint_words(
        self, painter: QPainter, index: Index, room: QRectF, *, chosen: bool, pale: bool
    ) -> None:
        theme = theme_now()
        line = QFontMetricsF(self._view.font()).height()
        text, reach = index.data(Qt.ItemDataRole.DisplayRole), index.data(REACH)
        middle = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        painter.setFont(self._view.font())
        lines = QRectF(room.left(), room.bottom() - 2.0 * line - GAP, room.width(), line)
        painter.setPen(QColor(theme.chosen_ink if chosen else theme.quiet if pale else theme.ink))
        painter.drawText(lines, middle, text)
        if isinstance(reach, BitReach) and reach.fits:
            painter.setPen(QColor(theme.chosen_ink if chosen else theme.inside))
            painter.drawText(lines.translated(0.0, line), middle, FITS)


def paint_bit(painter: QPainter, bit: Bit, scale: float, ink: QColor, *, pale: bool) -> None:
    """Draw a bit with its tip at the painter's origin, ``scale`` pixels per mm.

    A pale one reaches nothing: it is an outline of dashes, nothing in it.
    """
    painter.save()
    painter.scale(scale, scale)
    pen = QPen(QColor(theme_now().quiet) if pale else ink, 1.0)
    pen.setCosmetic(True)
    if pale:
        pen.setDashPattern([3.0, 2.0])
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPath(stem(bit, edge_height(bit) + STEM))
    painter.drawPath(pilot(bit))
    if not pale:
        painter.setBrush(ink)
    painter.drawPath(silhouette(bit))
    painter.restore()


def _heading_font(widget: QWidget) -> QFont:
    font = QFont(widget.font())
    font.setBold(True)
    return font


def _size(bit: Bit, text: str, metrics: QFontMetricsF) -> QSize:
    scale = SCALE * metrics.height()
    wide = 2.0 * max(largest_radius(bit), bit.shank / 2.0, (bit.pilot_diameter or 0.0) / 2.0)
    words = max(metrics.horizontalAdvance(text), metrics.horizontalAdvance(FITS))
    hang = STEM + edge_height(bit) + (bit.pilot_length or 0.0)
    width = max(wide * scale, words) + 3.0 * GAP
    return QSize(round(width), round(hang * scale + 2.0 * metrics.height() + 3.0 * GAP))

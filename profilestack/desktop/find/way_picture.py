"""A small section of a way to cut it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.bits.bit import Bit
from profilestack.desktop.axis import Axis
from profilestack.desktop.section.shapes import chain_shape, shape_of
from profilestack.desktop.silhouette import draw_silhouette
from profilestack.desktop.theme import theme_now
from profilestack.geometry.path import Path
from profilestack.jobs.cut import CutReport

CHORD = 0.02


class WayPicture(QWidget):
    """Blank, section as cut, and the wanted profile on it; under it the bits, tip down."""

    def __init__(self, report: CutReport, bits: Sequence[Bit]) -> None:
        super().__init__()
        self._report, self._bits = report, tuple(bits)
        self._axis = Axis(self)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        self.setSizePolicy(policy)
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)

    def sizeHint(self) -> QSize:
        """As wide as a few words."""
        high = self.fontMetrics().lineSpacing()
        return QSize(7 * high, 5 * high)

    def minimumSizeHint(self) -> QSize:
        """Smaller than that nothing is seen."""
        high = self.fontMetrics().lineSpacing()
        return QSize(5 * high, 4 * high)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it with the colours of the theme."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        row = 1.6 * self.fontMetrics().lineSpacing() if self._bits else 0.0
        paint_section(
            painter, self._axis, self._report, QRectF(self.rect()).adjusted(0, 0, 0, -row)
        )
        theme = theme_now()
        # over chosen paper the ink of the theme may not show
        ink = QColor(self.palette().color(self.foregroundRole()))
        wide = min(1.25 * row, (self.width() - 4.0) / max(1, len(self._bits)))
        for place, bit in enumerate(self._bits):
            room = QRectF(place * wide + 2.0, self.height() - row + 4.0, 0.8 * wide, row - 6.0)
            draw_silhouette(painter, bit, room, ink, QColor(theme.quiet))
        painter.end()


def paint_section(painter: QPainter, axis: Axis, report: CutReport, room: QRectF) -> None:
    """Paint a section as cut with its wanted profile, as large as ``room`` allows."""
    theme = theme_now()
    outline = report.stack.blank.outline().flatten(CHORD)
    low, high = outline.min(axis=0), outline.max(axis=0)
    axis.fit((low[0], low[1]), (high[0], high[1]), room.width(), room.height())
    painter.save()
    painter.translate(room.topLeft())
    painter.setPen(QPen(QColor(theme.rule), 1.0))
    painter.setBrush(QColor(theme.blank))
    painter.drawPolygon(chain_shape(outline, axis))
    painter.setPen(QPen(QColor(theme.wood_edge), 1.0))
    painter.setBrush(QColor(theme.wood))
    painter.drawPath(shape_of(report.cut.sections[-1], axis))
    if report.stack.target is not None:
        paint_path(painter, axis, report.stack.target.path(), theme.target)
    painter.restore()


def paint_path(
    painter: QPainter,
    axis: Axis,
    path: Path,
    color: str,
    style: Qt.PenStyle = Qt.PenStyle.SolidLine,
) -> None:
    """Paint a path as a line of 1.5 pixels."""
    painter.setPen(QPen(QColor(color), 1.5, style))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPolyline(chain_shape(path.flatten(CHORD), axis))

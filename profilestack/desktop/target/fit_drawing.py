"""What was read from a file (thin, dashed) and the path fitted to it, in its blank."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.section.shapes import chain_shape
from profilestack.desktop.theme import theme_now
from profilestack.jobs.target import TargetReport

CHORD = 0.01


class FitDrawing(QWidget):
    """The preview of an import."""

    def __init__(self) -> None:
        super().__init__()
        self._report: TargetReport | None = None
        self._axis = Axis(self)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Preview of what is read")
        self.setToolTip("Solid: the lines and arcs fitted. Dashed: what was read")

    def show_report(self, report: TargetReport | None) -> None:
        """Draw this; None draws nothing."""
        self._report = report
        self.update()

    def sizeHint(self) -> QSize:
        """Twelve lines high."""
        line = self.fontMetrics().lineSpacing()
        return QSize(16 * line, 12 * line)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw blank, what was read, what was fitted."""
        theme = theme_now()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(theme.paper))
        report, room = self._report, QRectF(self.rect())
        if report is not None and report.stack.target is not None:
            outline = report.stack.blank.outline().flatten(CHORD)
            low, high = outline.min(axis=0), outline.max(axis=0)
            self._axis.fit((low[0], low[1]), (high[0], high[1]), room.width(), room.height())
            painter.setPen(QPen(QColor(theme.quiet), 1.0))
            painter.setBrush(QColor(theme.blank))
            painter.drawPolygon(chain_shape(outline, self._axis))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(theme.target), 3.0))
            painter.drawPolyline(chain_shape(report.stack.target.path().flatten(CHORD), self._axis))
            painter.setPen(QPen(QColor(theme.ink), 1.0, Qt.PenStyle.DashLine))
            painter.drawPolyline(chain_shape(report.traced.flatten(), self._axis))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(theme.rule), 1.0))
        painter.drawRect(self.rect().adjusted(0, 0, -1, -1))
        painter.end()

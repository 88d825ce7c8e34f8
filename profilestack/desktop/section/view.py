"""The section: blank, wood, passes and wanted profile, painted, and edited under the hand."""

from __future__ import annotations

from PySide6.QtCore import QSize
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.shapes import chain_shape, shape_of
from profilestack.desktop.theme import theme_now


class SectionView(QWidget):
    """The section of a document, where ``axis`` puts it."""

    def __init__(self, document: Document, axis: Axis, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document, self.axis = document, axis
        self.setAccessibleName("Section")
        document.changed.connect(self.update)
        axis.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        """Room for a molding to be looked at."""
        return QSize(720, 480)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the section."""
        theme, report = theme_now(), self.document.report
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(theme.paper))
        if report is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(theme.rule), 1.0))
        painter.setBrush(QColor(theme.blank))
        painter.drawPath(shape_of(report.cut.sections[0], self.axis))
        painter.setPen(QPen(QColor(theme.wood_edge), 1.0))
        painter.setBrush(QColor(theme.wood))
        painter.drawPath(shape_of(report.cut.sections[-1], self.axis))
        if report.comparison is not None:
            painter.setPen(QPen(QColor(theme.target), 2.0))
            painter.drawPolyline(chain_shape(report.comparison.target, self.axis))

"""The run drawn in plan, small."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.theme import theme_now
from profilestack.drawing.wording import run_text
from profilestack.geometry.path import Path
from profilestack.session.run_plan import run_plan

MARGIN = 12
LEAST = 3.0
"""A long strip is drawn at least so wide [pixels], that it can be seen."""


class PlanView(QWidget):
    """The part from above, to scale, as large as there is room."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self._shown: tuple[object, ...] = ()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("The run in plan")
        document.changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Draw the document's run."""
        stack, units = self.document.stack, self.document.units
        if (stack.run, stack.blank, units) == self._shown:
            return
        self._shown = (stack.run, stack.blank, units)
        said = run_text(stack.run, units)
        self.setAccessibleDescription(said)
        self.setToolTip(f"In plan: {said}")
        self.update()

    def sizeHint(self) -> QSize:
        """A few lines high."""
        return QSize(240, 7 * self.fontMetrics().height())

    def changeEvent(self, event: QEvent) -> None:
        """Other colours, another drawing."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The outline in wood, the axis of a turned part, the words below."""
        theme, plan = theme_now(), run_plan(self.document.stack)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(theme.paper))
        words = self.fontMetrics().height()
        room = QRectF(self.rect()).adjusted(MARGIN, MARGIN, -MARGIN, -MARGIN - words)
        shape = QPainterPath()
        for outline in plan.outlines:
            shape.addPath(_painted(outline))
        bounds = shape.boundingRect()
        scale = min(room.width() / bounds.width(), room.height() / bounds.height())
        painter.translate(room.center())
        tall = max(scale, LEAST / bounds.height())
        painter.scale(scale, -tall)
        painter.translate(-bounds.center())
        painter.setPen(_pen(theme.wood_edge, 1.5, Qt.PenStyle.SolidLine))
        painter.setBrush(QColor(theme.wood))
        painter.drawPath(shape)
        if plan.axis is not None:
            painter.setPen(_pen(theme.ink, 1.0, Qt.PenStyle.DashDotLine))
            painter.drawPath(_painted(plan.axis))
        painter.resetTransform()
        painter.setPen(QColor(theme.quiet))
        below = self.rect().adjusted(MARGIN, 0, -MARGIN, -MARGIN // 2)
        place = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignBottom
        painter.drawText(below, int(place), self.accessibleDescription())
        painter.end()


def _painted(path: Path) -> QPainterPath:
    chord = max(0.01, path.length * 1e-5)
    points = [QPointF(x, y) for x, y in path.flatten(chord).tolist()]
    painted = QPainterPath(points[0])
    for point in points[1:]:
        painted.lineTo(point)
    return painted


def _pen(color: str, width: float, style: Qt.PenStyle) -> QPen:
    pen = QPen(QColor(color), width, style)
    pen.setCosmetic(True)
    return pen

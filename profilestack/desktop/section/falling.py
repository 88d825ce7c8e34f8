"""A bit that was just placed drops from over the face to its depth: one sees where it came to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEasingCurve, QObject, QPointF, Qt, QVariantAnimation
from PySide6.QtGui import QPainter, QPainterPath

from profilestack.cutting.stroke import Stroke
from profilestack.desktop.motion import is_wanted
from profilestack.desktop.section.balloons import CLEAR, axis_line, axis_points
from profilestack.desktop.section.inks import pen
from profilestack.desktop.section.shapes import shape_of
from profilestack.desktop.theme import Theme

if TYPE_CHECKING:
    from profilestack.desktop.section.canvas import Canvas

LASTS = 120
"""So long a bit drops [ms]."""


class Falling(QObject):
    """Paints the outline of a placed bit on its way; the document has the pass already.

    It ends by itself, with the next change of what is shown, and where the section is hidden.
    """

    def __init__(self, view: Canvas) -> None:
        super().__init__(view)
        self._view = view
        self._shapes: list[tuple[QPainterPath, QPointF]] = []
        self.index: int | None = None
        """The pass whose bit is dropping: its outline is not yet where it will be."""
        self._way = QVariantAnimation(self)
        self._way.setStartValue(1.0)
        self._way.setEndValue(0.0)
        self._way.setDuration(LASTS)
        self._way.setEasingCurve(QEasingCurve.Type.InQuad)
        self._way.valueChanged.connect(self._step)
        self._way.finished.connect(self.end)
        view.document.bit_placed.connect(self.begin)
        view.document.changed.connect(self.end)
        view.axis.changed.connect(self.end)

    def begin(self, index: int) -> None:
        """Let the bit of this pass drop, where things may move."""
        self.end()
        report = self._view.document.report
        if report is None or not is_wanted(self._view):
            return
        self._shapes = [
            (shape_of(stroke.region, self._view.axis), self._way_of(stroke))
            for stroke in report.cut.strokes
            if stroke.number == index + 1
        ]
        if self._shapes:
            self.index = index
            self._way.start()
            self._view.repaint_section()

    def end(self) -> None:
        """It is where it belongs."""
        if self.index is not None:
            self.index, self._shapes = None, []
            self._way.stop()
            self._view.repaint_section()

    def paint(self, painter: QPainter, theme: Theme) -> None:
        """Paint the outline where it is now."""
        if self.index is None:
            return
        left = float(self._way.currentValue())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(pen(theme.ink, 2.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for shape, way in self._shapes:
            painter.drawPath(shape.translated(way * left))

    def _step(self, _share: float) -> None:
        self._view.update()

    def _way_of(self, stroke: Stroke) -> QPointF:
        """From its depth to where it hangs over the face [px]."""
        foot, tip, (dx, dy) = axis_line(axis_points(stroke), self._view.axis)
        return QPointF(foot[0] - tip[0] + CLEAR * dx, foot[1] - tip[1] + CLEAR * dy)

"""Drawings in mm by a painter: on a screen, in a picture, on paper at true scale."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
    QRawFont,
    QTransform,
)

from profilestack.drawing.drawing import Drawing, Fill, Lines, Mark, Window, Words
from profilestack.drawing.fonts import POINT, face, text_width
from profilestack.geometry.path import Points

GRAIN = 100.0
"""Letters are kept as paths of this size, and scaled."""


def paint_drawing(painter: QPainter, drawing: Drawing, per_mm: float) -> None:
    """Paint a drawing with its upper left at the painter's origin, ``per_mm`` units to a mm.

    ``per_mm`` is in the painter's units: pixels of a screen, dots of a printer.
    """
    for _ in paint_steps(painter, drawing, per_mm):
        pass


def paint_steps(painter: QPainter, drawing: Drawing, per_mm: float) -> Iterator[None]:
    """The same, mark by mark: whoever paints can look after other things between."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    if drawing.paper is not None:
        sheet = QRectF(0.0, 0.0, drawing.width * per_mm, drawing.height * per_mm)
        painter.fillRect(sheet, QColor(drawing.paper))
    painter.scale(per_mm, -per_mm)
    painter.translate(0.0, -drawing.height)
    yield from _paint_marks(painter, drawing.marks)
    painter.restore()


def _paint_marks(painter: QPainter, marks: Iterable[Mark]) -> Iterator[None]:
    for mark in marks:
        if isinstance(mark, Fill):
            painter.fillPath(_path(mark.rings, closed=True), QColor(mark.color))
        elif isinstance(mark, Lines):
            _paint_lines(painter, mark)
        elif isinstance(mark, Window):
            painter.save()
            room = QRectF(*mark.at, mark.width, mark.height)
            painter.setClipRect(room, Qt.ClipOperation.IntersectClip)
            yield from _paint_marks(painter, mark.marks)
            painter.restore()
        else:
            _paint_words(painter, mark)
        yield


def _paint_lines(painter: QPainter, mark: Lines) -> None:
    pen = QPen(QColor(mark.pen.color), mark.pen.width)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap if mark.pen.dash else Qt.PenCapStyle.RoundCap)
    if mark.pen.dash:
        pen.setDashPattern([part / mark.pen.width for part in mark.pen.dash])
    painter.strokePath(_path(mark.chains, mark.closed), pen)


def _paint_words(painter: QPainter, mark: Words) -> None:
    size = mark.size * POINT
    width = text_width(mark.text, mark.size, mark.bold)
    left = {"start": 0.0, "middle": -width / 2.0, "end": -width}[mark.anchor]
    painter.save()
    painter.translate(*mark.at)
    painter.rotate(mark.angle)
    painter.translate(left, 0.0)
    painter.scale(size / GRAIN, -size / GRAIN)
    painter.fillPath(_letters(mark.text, mark.bold), QBrush(QColor(mark.color)))
    painter.restore()


def _path(chains: Iterable[Points], closed: bool) -> QPainterPath:
    """One path of several chains; holes turn against their outer rings."""
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    for chain in chains:
        path.addPolygon(QPolygonF([QPointF(x, y) for x, y in chain.tolist()]))
        if closed:
            path.closeSubpath()
    return path


@lru_cache(maxsize=2)
def _font(bold: bool) -> QRawFont:
    return QRawFont(str(face(bold).file), GRAIN)


@lru_cache(maxsize=4096)
def _letters(text: str, bold: bool) -> QPainterPath:
    """A line of text from the origin to the right, as wide as every other renderer sets it."""
    font, widths = _font(bold), face(bold).widths
    path = QPainterPath()
    path.setFillRule(Qt.FillRule.WindingFill)
    at = 0.0
    for letter in text:
        for glyph in font.glyphIndexesForString(letter):
            path.addPath(QTransform.fromTranslate(at, 0.0).map(font.pathForGlyph(glyph)))
        at += widths.get(ord(letter), 600.0) * GRAIN / 1000.0
    return path

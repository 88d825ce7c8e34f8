"""How a mark, and the line between two of them, are drawn over a picture of any tone."""

from __future__ import annotations

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from profilestack.desktop.theme import theme_now

RING, TICK, OPEN = 9.0, 15.0, 3.0
"""Radius of a mark's ring, of its cross, and of what is left open in its middle [px]."""

EDGE = 3.0
"""So far paper shows round a line [px]."""

STEPS = 200
"""So finely it is looked which part of a line is seen."""

PAD = 4.0
"""Round the words on a plate [px]."""


def draw_mark(
    painter: QPainter, at: QPointF, letter: str, *, is_chosen: bool, room: QRectF
) -> None:
    """A ring with a cross that leaves the place itself open, and its letter beside it."""
    theme = theme_now()
    thick = 3.0 if is_chosen else 1.5
    cross = [
        QLineF(at + QPointF(x, y) * OPEN, at + QPointF(x, y) * TICK)
        for x, y in ((1, 0), (-1, 0), (0, 1), (0, -1))
    ]
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for color, width in ((theme.paper, thick + EDGE), (theme.target, thick)):
        painter.setPen(QPen(QColor(color), width))
        painter.drawEllipse(at, RING, RING)
        painter.drawLines(cross)
    side = painter.fontMetrics().height() / 2.0 + TICK
    away = QPointF(side if at.x() + 2.0 * side < room.right() else -side, -side)
    if at.y() - 2.0 * side < room.top():
        away.setY(side)
    draw_plate(painter, at + away, letter, room)


def draw_line(painter: QPainter, line: QLineF, label: str, room: QRectF) -> None:
    """A dashed line from mark to mark, and its length in the middle of what is seen of it."""
    theme = theme_now()
    if line.length() > 2.0 * RING:
        step = (line.p2() - line.p1()) * (RING / line.length())
        shown = QLineF(line.p1() + step, line.p2() - step)
        painter.setPen(QPen(QColor(theme.paper), 1.5 + EDGE))
        painter.drawLine(shown)
        painter.setPen(QPen(QColor(theme.target), 1.5, Qt.PenStyle.DashLine))
        painter.drawLine(shown)
    if label:
        draw_plate(painter, _middle(line, room) + _aside(painter, line, label), label, room)


def draw_plate(painter: QPainter, middle: QPointF, words: str, room: QRectF) -> None:
    """Words on a plate of paper, kept inside the room."""
    theme, metrics = theme_now(), painter.fontMetrics()
    width, height = metrics.horizontalAdvance(words) + 2.0 * PAD, metrics.height() + PAD
    plate = QRectF(0.0, 0.0, width, height)
    plate.moveCenter(middle)
    plate.moveLeft(min(max(plate.left(), room.left() + PAD), room.right() - PAD - width))
    plate.moveTop(min(max(plate.top(), room.top() + PAD), room.bottom() - PAD - height))
    painter.setPen(QPen(QColor(theme.rule), 1.0))
    painter.setBrush(QColor(theme.paper))
    painter.drawRoundedRect(plate, 3.0, 3.0)
    painter.setPen(QColor(theme.ink))
    painter.drawText(plate, Qt.AlignmentFlag.AlignCenter, words)
    painter.setBrush(Qt.BrushStyle.NoBrush)


def _middle(line: QLineF, room: QRectF) -> QPointF:
    """The middle of what is seen of a line; its own where nothing is."""
    seen = [k / STEPS for k in range(STEPS + 1) if room.contains(line.pointAt(k / STEPS))]
    return line.pointAt((seen[0] + seen[-1]) / 2.0) if seen else line.center()


def _aside(painter: QPainter, line: QLineF, label: str) -> QPointF:
    """From the line's middle to that of a plate beside it."""
    if line.length() < 1.0:
        return QPointF(0.0, 2.0 * TICK)
    metrics = painter.fontMetrics()
    normal = QPointF(line.dy(), -line.dx()) / line.length()
    if normal.y() < 0.0:
        normal = -normal
    half_width = metrics.horizontalAdvance(label) / 2.0 + PAD
    half_height = metrics.height() / 2.0 + PAD
    far = abs(normal.x()) * half_width + abs(normal.y()) * half_height + PAD
    return normal * far

"""Signs of severities and verdicts, drawn as paths: told apart by form, not by colour alone."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF

from profilestack.desktop.theme import Theme

GOOD, BAD = "good", "bad"
"""Signs of a verdict; the others are named after severities."""


def draw_sign(painter: QPainter, sign: str, room: QRectF, theme: Theme) -> None:
    """A sign as large as a square in the middle of ``room`` allows; "" is none."""
    if not sign:
        return
    size = min(room.width(), room.height())
    box = QRectF(0.0, 0.0, size, size)
    box.moveCenter(room.center())
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    width = max(1.5, size / 9.0)
    if sign in (GOOD, BAD):
        color = QColor(theme.inside if sign == GOOD else theme.leftover)
        painter.setPen(_pen(color, 1.5 * width))
        draw_tick(painter, box, color) if sign == GOOD else _draw_cross(painter, box)
    elif sign == "stop":
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme.leftover))
        painter.drawPolygon(_polygon(box, 8, 22.5))
        painter.setPen(_pen(QColor(theme.paper), 1.3 * width))
        middle = box.center()
        across = QPointF(0.26 * size, 0.0)
        painter.drawLine(middle - across, middle + across)
    else:
        is_warning = sign == "warn"
        painter.setPen(_pen(QColor(theme.leftover if is_warning else theme.quiet), width))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        inner = box.adjusted(width, width, -width, -width)
        if is_warning:
            top = QPointF(inner.center().x(), inner.top())
            painter.drawPolygon(QPolygonF([top, inner.bottomRight(), inner.bottomLeft()]))
            _draw_bar_and_dot(painter, box, 0.38, 0.62, 0.77)
        else:
            painter.drawEllipse(inner)
            _draw_bar_and_dot(painter, box, 0.48, 0.74, 0.29)
    painter.restore()


def sign_icon(sign: str, size: int, ratio: float, theme: Theme) -> QIcon:
    """The sign as an icon of ``size`` pixels on a screen of that many dots a pixel."""
    pixmap = QPixmap(round(size * ratio), round(size * ratio))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    draw_sign(painter, sign, QRectF(0.0, 0.0, size, size), theme)
    painter.end()
    return QIcon(pixmap)


def _pen(color: QColor, width: float) -> QPen:
    cap, join = Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin
    return QPen(color, width, Qt.PenStyle.SolidLine, cap, join)


def draw_tick(painter: QPainter, box: QRectF, color: QColor) -> None:
    """A tick as large as the box."""
    painter.setPen(_pen(color, max(1.5, box.width() / 6.0)))
    places = ((0.15, 0.55), (0.42, 0.82), (0.88, 0.2))
    painter.drawPolyline(QPolygonF([_at(box, x, y) for x, y in places]))


def _draw_cross(painter: QPainter, box: QRectF) -> None:
    painter.drawLine(_at(box, 0.2, 0.2), _at(box, 0.8, 0.8))
    painter.drawLine(_at(box, 0.8, 0.2), _at(box, 0.2, 0.8))


def _draw_bar_and_dot(
    painter: QPainter, box: QRectF, top: float, bottom: float, dot: float
) -> None:
    painter.drawLine(_at(box, 0.5, top), _at(box, 0.5, bottom))
    painter.drawPoint(_at(box, 0.5, dot))


def _at(box: QRectF, x: float, y: float) -> QPointF:
    return QPointF(box.left() + x * box.width(), box.top() + y * box.height())


def _polygon(box: QRectF, corners: int, turn: float) -> QPolygonF:
    radius, middle = box.width() / 2.0, box.center()
    angles = [math.radians(turn + 360.0 * k / corners) for k in range(corners)]
    return QPolygonF([middle + QPointF(math.cos(a), math.sin(a)) * radius for a in angles])

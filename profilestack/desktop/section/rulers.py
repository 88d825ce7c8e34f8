"""Rulers along the top and the left edge of the section, in mm or inches."""

from __future__ import annotations

import math
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from profilestack.desktop.axis import Axis
from profilestack.desktop.section.inks import pen
from profilestack.desktop.theme import Theme
from profilestack.drawing.strip import nice_step
from profilestack.units import format_length, from_units, to_units

FRACTIONS = (1 / 64, 1 / 32, 1 / 16, 1 / 8, 1 / 4, 1 / 2)
"""Steps of a rule in inches."""


def small(font: QFont) -> QFont:
    """The font of rulers and marks: a size below the window's."""
    made = QFont(font)
    if font.pointSizeF() > 0.0:
        made.setPointSizeF(font.pointSizeF() * 0.88)
    else:
        made.setPixelSize(max(1, round(font.pixelSize() * 0.88)))
    return made


def edge_of(font: QFont) -> float:
    """So wide is the ruler at the left, and the room for numbers beside the strips [px]."""
    return _edges_of(font.key())[0]


def depth_of(font: QFont) -> float:
    """So high is the ruler at the top [px]."""
    return _edges_of(font.key())[1]


@lru_cache(maxsize=32)
def _edges_of(font_text: str) -> tuple[float, float]:
    """Both, measured once: every frame asks for them several times."""
    font = QFont()
    font.fromString(font_text)
    metrics = QFontMetricsF(small(font))
    wide, high = metrics.horizontalAdvance("−0000.00"), metrics.height()
    return 8.0 * math.ceil((wide + 8.0) / 8.0), 8.0 * math.ceil((high + 8.0) / 8.0)


def step_of(scale: float, units: str, least: float) -> float:
    """The spacing of lines at least ``least`` pixels apart [mm]: round numbers, or fractions."""
    wanted = to_units(least / scale, units)
    if units == "in":
        for step in FRACTIONS:
            if step >= wanted:
                return from_units(step, units)
    return from_units(max(nice_step(wanted), 1.0 if units == "in" else 0.0), units)


def paint_rulers(
    painter: QPainter, axis: Axis, units: str, theme: Theme, room: QRectF, font: QFont
) -> None:
    """Both rulers and the corner that names the unit."""
    wide, high = edge_of(font), depth_of(font)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
    painter.fillRect(QRectF(0.0, 0.0, room.width(), high), QColor(theme.panel))
    painter.fillRect(QRectF(0.0, 0.0, wide, room.height()), QColor(theme.panel))
    painter.setFont(small(font))
    painter.setPen(pen(theme.quiet))
    metrics = painter.fontMetrics()
    least = 1.5 * metrics.horizontalAdvance("−000.00")
    step = step_of(axis.scale, units, least)
    fine = max(step / 10.0, step_of(axis.scale, units, 6.0))
    _paint_top(painter, axis, units, room, (wide, high), (fine, step, least))
    _paint_side(painter, axis, units, room, (wide, high), (fine, step, least))
    painter.setClipping(False)
    painter.setPen(pen(theme.rule))
    painter.drawLine(QPointF(wide, high), QPointF(room.width(), high))
    painter.drawLine(QPointF(wide, high), QPointF(wide, room.height()))
    painter.fillRect(QRectF(0.0, 0.0, wide, high), QColor(theme.panel))
    painter.setPen(pen(theme.quiet))
    painter.drawText(QRectF(0.0, 0.0, wide, high), Qt.AlignmentFlag.AlignCenter, units)


def ruler_text(mm: float, units: str) -> str:
    """A number of a ruler, without its unit: the corner names it."""
    step = 0.001 if units == "mm" else 0.0001
    return format_length(round(mm, 7) + 0.0, units, step).removesuffix(f" {units}")


Edges = tuple[float, float]
"""Width of the ruler at the left and height of the one at the top [px]."""

Steps = tuple[float, float, float]
"""Spacing of ticks and of numbers [mm], and the room of a number [px]."""


def _paint_top(
    painter: QPainter, axis: Axis, units: str, room: QRectF, edges: Edges, steps: Steps
) -> None:
    (wide, high), (fine, step, least) = edges, steps
    painter.setClipRect(QRectF(wide, 0.0, room.width() - wide, high))
    for value in _lines(axis.x_at(wide), axis.x_at(room.width()), fine):
        x = round(axis.pixel_of_x(value))
        painter.drawLine(QPointF(x, high), QPointF(x, high - 4.0))
    for value in _lines(axis.x_at(wide), axis.x_at(room.width()), step):
        x = round(axis.pixel_of_x(value))
        painter.drawLine(QPointF(x, high), QPointF(x, high - 8.0))
        box = QRectF(x - least / 2.0, 0.0, least, high - 8.0)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, ruler_text(value, units))


def _paint_side(
    painter: QPainter, axis: Axis, units: str, room: QRectF, edges: Edges, steps: Steps
) -> None:
    (wide, high), (fine, step, _) = edges, steps
    painter.setClipRect(QRectF(0.0, high, wide, room.height() - high))
    low, top = axis.z_at(room.height()), axis.z_at(high)
    for value in _lines(low, top, fine):
        y = round(axis.pixel_of_z(value))
        painter.drawLine(QPointF(wide - 4.0, y), QPointF(wide, y))
    for value in _lines(low, top, step):
        y = round(axis.pixel_of_z(value))
        painter.drawLine(QPointF(wide - 8.0, y), QPointF(wide, y))
        box = QRectF(0.0, y - high / 2.0, wide - 11.0, high)
        painter.drawText(
            box,
            Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
            ruler_text(value, units),
        )


def _lines(low: float, high: float, step: float) -> list[float]:
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [k * step for k in range(first, last + 1)]

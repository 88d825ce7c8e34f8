"""Short texts in boxes, painted once: most of them stay as they are from frame to frame."""

from __future__ import annotations

import math
from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPixmap

from profilestack.desktop.section.inks import clear, pen
from profilestack.desktop.theme import Theme

SIDE, OVER = 5.0, 2.0
"""Room beside and over the text [px]."""


@lru_cache(maxsize=2048)
def label(text: str, color: str, paper: str, font_text: str, ratio: float, boxed: bool) -> QPixmap:
    """A text in ``color`` on ``paper``; ``boxed``: with a line around it."""
    font = QFont()
    font.fromString(font_text)
    metrics = QFontMetricsF(font)
    width = math.ceil(metrics.horizontalAdvance(text) + 2.0 * SIDE)
    height = math.ceil(metrics.height() + 2.0 * OVER)
    picture = QPixmap(math.ceil(width * ratio), math.ceil(height * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setFont(font)
    if boxed:
        painter.setBrush(QColor(paper))
        painter.setPen(pen(color))
        painter.drawRoundedRect(QRectF(0.5, 0.5, width - 1.0, height - 1.0), 3.0, 3.0)
    else:
        painter.fillRect(QRectF(0.0, 0.0, width, height), clear(paper, 0.8))
        painter.setPen(pen(color))
    painter.drawText(QPointF(SIDE, OVER + metrics.ascent()), text)
    painter.end()
    return picture


@lru_cache(maxsize=256)
def ring(color: str, paper: str, ratio: float) -> QPixmap:
    """A small ring around a place."""
    picture = QPixmap(math.ceil(RING * ratio), math.ceil(RING * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pen(color, 1.5))
    painter.setBrush(QColor(paper))
    painter.drawEllipse(QPointF(RING / 2.0, RING / 2.0), 3.0, 3.0)
    painter.end()
    return picture


RING = 9.0
"""A ring's picture is so wide [px]."""


def draw_ring(painter: QPainter, theme: Theme, at: QPointF) -> None:
    """A small ring around a place of leftover."""
    picture = ring(theme.leftover, theme.paper, painter.device().devicePixelRatioF())
    painter.drawPixmap(at - QPointF(RING / 2.0, RING / 2.0), picture)

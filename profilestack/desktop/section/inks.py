"""Pens, brushes and hatches of the section and its strips, in the colours of the theme."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import Qt
from PySide6.QtGui import QBrush, QColor, QPainter, QPen, QPixmap, QTransform

TILE = 7
"""Hatch lines are so far apart along x [px]."""

TINT = 0.22
"""How much of its colour a hatched area has between the lines."""

REPEATS = 16
"""A tile holds so many lines: areas are filled from few large pieces, not from many small ones."""


@lru_cache(maxsize=256)
def mixed(first: str, second: str, share: float) -> QColor:
    """``first`` with a ``share`` of ``second``."""
    one, two = QColor(first), QColor(second)
    return QColor(
        round(one.red() + share * (two.red() - one.red())),
        round(one.green() + share * (two.green() - one.green())),
        round(one.blue() + share * (two.blue() - one.blue())),
    )


@lru_cache(maxsize=64)
def clear(color: str, alpha: float) -> QColor:
    """The colour, to be seen through: 0 not there, 1 full."""
    seen = QColor(color)
    seen.setAlphaF(alpha)
    return seen


def pen(color: str | QColor, width: float = 1.0, dashes: tuple[float, ...] = ()) -> QPen:
    """A pen; dashes are in widths. Pens are shared: they are not to be changed."""
    return _pen(color if isinstance(color, str) else color.name(), width, dashes)


@lru_cache(maxsize=512)
def _pen(color: str, width: float, dashes: tuple[float, ...]) -> QPen:
    made = QPen(QColor(color), width)
    if dashes:
        made.setDashPattern(list(dashes))
        made.setCapStyle(Qt.PenCapStyle.FlatCap)
    return made


@lru_cache(maxsize=64)
def hatch(color: str, ratio: float, *, crossed: bool = False) -> QBrush:
    """Lines at 45 degrees on a tint, the same on every screen; ``crossed``: in both directions."""
    brush = QBrush(_tile(color, ratio, crossed))
    brush.setTransform(QTransform.fromScale(1.0 / ratio, 1.0 / ratio))
    return brush


def _tile(color: str, ratio: float, crossed: bool) -> QPixmap:
    step = max(4, round(TILE * ratio))
    side = step * REPEATS
    tile = QPixmap(side, side)
    tile.fill(clear(color, TINT))
    painter = QPainter(tile)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(color), 1.2 * ratio))
    for shift in range(-side, side + 1, step):
        painter.drawLine(shift, side, shift + side, 0)
        if crossed:
            painter.drawLine(shift, 0, shift + side, side)
    painter.end()
    return tile

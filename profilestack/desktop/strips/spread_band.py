"""The band in the leftover strip within which 90 of 100 cuts lie with usual errors."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QPainter

from profilestack.cutting.nearest import Numbers
from profilestack.desktop.section.inks import pen
from profilestack.desktop.section.shapes import polygon_of, thinned
from profilestack.desktop.theme import Theme
from profilestack.jobs.spread import Spread

WORDS = "dotted: 90 of 100 cuts with usual errors"


def paint_spread(
    painter: QPainter,
    theme: Theme,
    spread: Spread | None,
    lies: tuple[Numbers, Callable[[Numbers], Numbers]],
    room: QRectF,
) -> None:
    """Paint the band: a pale ground between dotted lines, and its name.

    ``lies``: where the places of the comparison are across [px], and how high a deviation is
    drawn. A spread of other places is none of this section, and not painted.
    """
    x, level = lies
    if spread is None or len(spread.low) != len(x):
        return
    upper = thinned(np.column_stack((x, level(spread.high))))
    lower = thinned(np.column_stack((x, level(spread.low))))
    ground = QColor(theme.target)
    ground.setAlphaF(0.12)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ground)
    painter.drawPolygon(polygon_of(np.concatenate((upper, lower[::-1]))), Qt.FillRule.WindingFill)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(pen(theme.target, 1.2, (1.0, 3.0)))
    for line in (upper, lower):
        painter.drawPolyline(polygon_of(line))
    foot = painter.boundingRect(
        room.adjusted(0.0, 0.0, -8.0, -2.0),
        int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignBottom),
        WORDS,
    )
    painter.fillRect(foot.adjusted(-4.0, 0.0, 4.0, 0.0), QColor(theme.paper))
    painter.setPen(pen(theme.target))
    painter.drawText(foot, int(Qt.AlignmentFlag.AlignCenter), WORDS)

"""What is written on the section: ridges with their height."""

from __future__ import annotations

import math

import numpy as np
import shapely
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from profilestack.cutting.comparison import Comparison
from profilestack.desktop.axis import Axis
from profilestack.desktop.section.balloons import Balloon, handle_size
from profilestack.desktop.section.in_sight import Box, Spot
from profilestack.desktop.section.inks import pen
from profilestack.desktop.section.labels import draw_ring, label
from profilestack.desktop.section.rulers import small
from profilestack.desktop.section.shapes import placed
from profilestack.desktop.theme import Theme
from profilestack.drawing.section_panel import LOWEST_RIDGE, MOST_RIDGES
from profilestack.session.whereabouts import FineText

LEADERS = (
    (12.0, 0.0), (40.0, 0.0), (68.0, 0.0), (12.0, 0.9), (12.0, -0.9), (40.0, 0.9), (40.0, -0.9),
)  # fmt: skip
"""The height of a ridge is written so far from it [px], off its normal by so much [rad]: where the
first of these places is free."""

_WAYS = tuple((leader, math.cos(turn), math.sin(turn)) for leader, turn in LEADERS)


def paint_ridges(
    painter: QPainter,
    comparison: Comparison,
    axis: Axis,
    units: str,
    theme: Theme,
    balloons: list[Balloon],
    room: QRectF,
) -> None:
    """The highest ridges, each with its height on the waste's side of the profile.

    Where ``balloons`` stand, no height is written; that of a ridge in sight is written inside
    ``room``.
    """
    font = painter.font()
    ridges = [ridge for ridge in comparison.ridges if ridge.height >= LOWEST_RIDGE]
    if not ridges:
        return
    ridges = sorted(ridges, key=lambda ridge: -ridge.height)[:MOST_RIDGES]
    at = np.array([ridge.at for ridge in ridges])
    normals = shapely.shortest_line(shapely.linestrings(comparison.target), shapely.points(at))
    ends = placed(shapely.get_coordinates(normals), axis).reshape(-1, 2, 2)
    text_of = FineText(units)
    written, ratio = small(font).toString(), painter.device().devicePixelRatioF()
    half = handle_size(font) / 2.0
    middles = [(each.middle.x(), each.middle.y()) for each in balloons]
    taken = [(x - half, y - half, x + half, y + half) for x, y in middles]
    sides = room.left(), room.right()
    painter.setPen(pen(theme.leftover, 1.5))
    for ridge, ((x0, y0), (x, y)) in zip(ridges, ends.tolist(), strict=True):
        text = f"{text_of(ridge.height)} {units}"
        picture = label(text, theme.leftover, theme.paper, written, ratio, True)
        size = picture.deviceIndependentSize()
        peak = QPointF(x, y)
        if free := _free_place((x0, y0), (x, y), (size.width(), size.height()), sides, taken):
            end, box = free
            taken.append(box)
            painter.drawLine(peak, QPointF(*end))
            painter.drawPixmap(QPointF(box[0], box[1]), picture)
        draw_ring(painter, theme, peak)


def _free_place(
    foot: Spot, crest: Spot, size: Spot, sides: Spot, taken: list[Box]
) -> tuple[Spot, Box] | None:
    """Where a ridge's leader ends and its height can be written clear of what is ``taken``.

    None where no place is free. The text of a crest between the ``sides`` stays between them.
    Plain numbers: the place is looked for in every frame of a drag.
    """
    (x, y), (wide, high) = crest, size
    far = math.dist(foot, crest)
    dx, dy = ((x - foot[0]) / far, (y - foot[1]) / far) if far > 1e-9 else (0.0, -1.0)
    for leader, cos, sin in _WAYS:
        along, down = cos * dx - sin * dy, sin * dx + cos * dy
        away = leader + (abs(along) * wide + abs(down) * high) / 2.0
        left, top = x + along * away - wide / 2.0, y + down * away - high / 2.0
        if sides[0] <= x <= sides[1]:
            left = min(max(left, sides[0]), sides[1] - wide)
        right, bottom = left + wide, top + high
        if not any(
            left < other[2] and other[0] < right and top < other[3] and other[1] < bottom
            for other in taken
        ):
            return (x + along * leader, y + down * leader), (left, top, right, bottom)
    return None

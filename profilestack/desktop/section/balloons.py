"""The number of each pass in a ring at the end of its axis: a handle, in sight with the axis."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPixmap

from profilestack.cutting.stroke import Stroke
from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.in_sight import Box, Spot, rings_along
from profilestack.desktop.section.inks import pen
from profilestack.desktop.theme import THEMES, Theme
from profilestack.geometry.path import Points

LEAST_HANDLE = 24.0
"""A number is a handle too: at least so wide [px]."""

CLEAR = 14.0
"""From the blank to the first number over it [px]."""

ROWS = 4
"""So many numbers stand over each other where passes are close; more are left out."""


@dataclass(frozen=True, slots=True)
class Balloon:
    """The number of a pass around its ``middle``, on the axis from ``end`` to ``tip`` [px]."""

    index: int
    middle: QPointF
    end: QPointF
    tip: QPointF


def handle_size(font: QFont) -> float:
    """How wide a balloon is [px]."""
    return max(LEAST_HANDLE, 1.5 * QFontMetricsF(font).height())


def axis_points(stroke: Stroke) -> Points:
    """Where a stroke's axis leaves the blank's box, its tip, 1 mm beyond: (3, 2) [mm]."""
    over = max(stroke.lie.height - stroke.tip, 0.0)
    return stroke.to_section(np.array(((0.0, over), (0.0, 0.0), (0.0, over + 1.0))))


def balloons_of(
    axes: list[tuple[Stroke, Points]], axis: Axis, font: QFont, lit: frozenset[int], room: Box
) -> list[Balloon]:
    """The numbers of all passes that have room, and of those that are ``lit`` in any case.

    ``axes`` are the strokes with their :func:`axis_points`; those out of the ``room`` [px] have no
    number.
    """
    size = handle_size(font)
    taken: list[Spot] = []
    found = []
    seen: set[int] = set()
    for stroke, points in axes:
        index = stroke.number - 1
        if index in seen:
            continue
        seen.add(index)
        foot, tip, (dx, dy) = axis_line(points, axis)
        away = CLEAR + size / 2.0
        begin = (foot[0] + dx * away, foot[1] + dy * away)
        place = None
        for end, middle in rings_along(begin, tip, (dx, dy), size, ROWS, room):
            is_free = all(math.dist(middle, other) >= size for other in taken)
            if is_free or index in lit:
                place = Balloon(index, QPointF(*middle), QPointF(*end), QPointF(*tip))
            if is_free:
                break
        if place is not None:
            taken.append((place.middle.x(), place.middle.y()))
            found.append(place)
    return found


def paint_balloons(
    painter: QPainter, balloons: list[Balloon], document: Document, theme: Theme, ratio: float
) -> None:
    """Axes and numbers; what is chosen is filled, what is pointed at has a heavy ring."""
    font = painter.font()
    half, font_text = handle_size(font) / 2.0, font.toString()
    for balloon in balloons:
        lit = balloon.index in document.chosen or balloon.index == document.pointed
        painter.setPen(pen(theme.ink if lit else theme.quiet, 1.0, (9.0, 3.0, 2.0, 3.0)))
        painter.drawLine(balloon.end, balloon.tip)
    for balloon in balloons:
        look = (balloon.index in document.chosen, balloon.index == document.pointed)
        picture = _balloon(str(balloon.index + 1), font_text, ratio, theme.name, look)
        painter.drawPixmap(balloon.middle - QPointF(half, half), picture)


@lru_cache(maxsize=1024)
def _balloon(
    text: str, font_text: str, ratio: float, theme_name: str, look: tuple[bool, bool]
) -> QPixmap:
    """A number in its ring, painted once; ``look``: whether it is chosen, whether pointed at."""
    font = QFont()
    font.fromString(font_text)
    theme, size = THEMES[theme_name], handle_size(font)
    chosen, pointed = look
    picture = QPixmap(math.ceil(size * ratio), math.ceil(size * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setFont(font)
    painter.setBrush(QColor(theme.chosen if chosen else theme.paper))
    painter.setPen(pen(theme.ink, 2.0 if pointed else 1.0))
    painter.drawEllipse(QPointF(size / 2.0, size / 2.0), size / 2.0 - 1.5, size / 2.0 - 1.5)
    painter.setPen(pen(theme.chosen_ink if chosen else theme.ink))
    painter.drawText(QRectF(0.0, 0.0, size, size), Qt.AlignmentFlag.AlignCenter, text)
    painter.end()
    return picture


def axis_line(points: Points, axis: Axis) -> tuple[Spot, Spot, Spot]:
    """Where an axis leaves the blank's box, its tip, and the way out, on the screen."""
    foot, tip, beyond = ((axis.pixel_of_x(x), axis.pixel_of_z(z)) for x, z in points.tolist())
    size = math.dist(foot, beyond)
    return foot, tip, ((beyond[0] - foot[0]) / size, (beyond[1] - foot[1]) / size)

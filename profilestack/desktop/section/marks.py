"""What is written on the section: each pass's number over its axis, ridges with their height."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPixmap

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.stroke import Stroke
from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.inks import pen
from profilestack.desktop.section.labels import draw_ring, label
from profilestack.desktop.section.rulers import small
from profilestack.desktop.section.shapes import placed
from profilestack.desktop.theme import THEMES, Theme
from profilestack.drawing.section_panel import LOWEST_RIDGE, MOST_RIDGES
from profilestack.geometry.path import Points
from profilestack.session.whereabouts import FineText

LEAST_HANDLE = 24.0
"""A number is a handle too: at least so wide [px]."""

CLEAR = 14.0
"""From the blank to the first number over it [px]."""

LEADERS = (
    (12.0, 0.0), (40.0, 0.0), (68.0, 0.0), (12.0, 0.9), (12.0, -0.9), (40.0, 0.9), (40.0, -0.9),
)  # fmt: skip
"""The height of a ridge is written so far from it [px], off its normal by so much [rad]: where the
first of these places is free."""

_WAYS = tuple((leader, math.cos(turn), math.sin(turn)) for leader, turn in LEADERS)

ROWS = 4
"""So many numbers stand over each other where passes are close; more are left out."""


@dataclass(frozen=True, slots=True)
class Balloon:
    """The number of a pass at the end of its axis: ``middle`` and ``tip`` [px]."""

    index: int
    middle: QPointF
    tip: QPointF


def handle_size(font: QFont) -> float:
    """How wide a balloon is [px]."""
    return max(LEAST_HANDLE, 1.5 * QFontMetricsF(font).height())


def axis_points(stroke: Stroke) -> Points:
    """Where a stroke's axis leaves the blank's box, its tip, 1 mm beyond: (3, 2) [mm]."""
    over = max(stroke.lie.height - stroke.tip, 0.0)
    return stroke.to_section(np.array(((0.0, over), (0.0, 0.0), (0.0, over + 1.0))))


def balloons_of(
    axes: list[tuple[Stroke, Points]], axis: Axis, font: QFont, lit: frozenset[int]
) -> list[Balloon]:
    """The numbers of all passes that have room, and of those that are ``lit`` in any case.

    ``axes`` are the strokes with their :func:`axis_points`.
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
        foot, tip, (dx, dy) = _axis_line(points, axis)
        for row in range(ROWS):
            away = CLEAR + size / 2.0 + row * (size + 2.0)
            middle = (foot[0] + dx * away, foot[1] + dy * away)
            if all(math.dist(middle, other) >= size for other in taken) or (
                row == ROWS - 1 and index in lit
            ):
                taken.append(middle)
                found.append(Balloon(index, QPointF(*middle), QPointF(*tip)))
                break
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
        painter.drawLine(balloon.middle, balloon.tip)
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


Spot = tuple[float, float]
"""A place on the screen [px]."""

Box = tuple[float, float, float, float]
"""Left, top, right, bottom [px]."""


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


def _axis_line(points: Points, axis: Axis) -> tuple[Spot, Spot, Spot]:
    """Where an axis leaves the blank's box, its tip, and the way out, on the screen."""
    foot, tip, beyond = ((axis.pixel_of_x(x), axis.pixel_of_z(z)) for x, z in points.tolist())
    size = math.dist(foot, beyond)
    return foot, tip, ((beyond[0] - foot[0]) / size, (beyond[1] - foot[1]) / size)

"""What is written on the section: each pass's number over its axis, ridges with their height."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.cutting.stroke import Stroke
from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.section.inks import pen
from profilestack.desktop.section.rulers import small
from profilestack.desktop.theme import Theme
from profilestack.drawing.placing import Placing
from profilestack.drawing.scene import waste_direction
from profilestack.drawing.section_panel import LOWEST_RIDGE, MOST_RIDGES
from profilestack.drawing.wording import fine_text

LEAST_HANDLE = 24.0
"""A number is a handle too: at least so wide [px]."""

CLEAR = 14.0
"""From the blank to the first number over it [px]."""

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


def balloons_of(cut: Cut, axis: Axis, font: QFont, lit: frozenset[int]) -> list[Balloon]:
    """The numbers of all passes that have room, and of those that are ``lit`` in any case."""
    size = handle_size(font)
    taken: list[tuple[float, float]] = []
    found = []
    seen: set[int] = set()
    for stroke in sorted(cut.strokes, key=lambda stroke: stroke.number - 1 not in lit):
        index = stroke.number - 1
        if index in seen:
            continue
        seen.add(index)
        foot, tip, (dx, dy) = _axis_line(stroke, axis)
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
    painter: QPainter, balloons: list[Balloon], document: Document, theme: Theme, font: QFont
) -> None:
    """Axes and numbers; what is chosen is filled, what is pointed at has a heavy ring."""
    size = handle_size(font)
    for balloon in balloons:
        lit = balloon.index in document.chosen or balloon.index == document.pointed
        painter.setPen(pen(theme.ink if lit else theme.quiet, 1.0, (9.0, 3.0, 2.0, 3.0)))
        painter.drawLine(balloon.middle, balloon.tip)
    painter.setFont(font)
    for balloon in balloons:
        chosen = balloon.index in document.chosen
        pointed = balloon.index == document.pointed
        painter.setBrush(QColor(theme.chosen if chosen else theme.paper))
        painter.setPen(pen(theme.ink, 2.0 if pointed else 1.0))
        half = size / 2.0 - 1.0
        painter.drawEllipse(balloon.middle, half, half)
        painter.setPen(pen(theme.chosen_ink if chosen else theme.ink))
        box = QRectF(balloon.middle.x() - half, balloon.middle.y() - half, 2 * half, 2 * half)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(balloon.index + 1))


def paint_ridges(
    painter: QPainter, comparison: Comparison, axis: Axis, units: str, theme: Theme, font: QFont
) -> None:
    """The highest ridges, each with its height on the waste's side of the profile."""
    ridges = sorted(comparison.ridges, key=lambda ridge: -ridge.height)[:MOST_RIDGES]
    placing = Placing(-axis.left * axis.scale, axis.top * axis.scale, axis.scale, -axis.scale)
    written = small(font)
    metrics = QFontMetricsF(written)
    painter.setFont(written)
    taken: list[QRectF] = []
    for ridge in ridges:
        if ridge.height < LOWEST_RIDGE:
            continue
        x, y = placing.point(ridge.at)
        dx, dy = waste_direction(comparison, ridge.at, placing)
        text = f"{fine_text(ridge.height, units)} {units}"
        box = QRectF(0.0, 0.0, metrics.horizontalAdvance(text) + 10.0, metrics.height() + 4.0)
        reach = 12.0 + abs(dx) * box.width() / 2.0 + abs(dy) * box.height() / 2.0
        box.moveCenter(QPointF(x + dx * reach, y + dy * reach))
        painter.setPen(pen(theme.leftover, 1.5))
        painter.setBrush(QColor(theme.paper))
        painter.drawEllipse(QPointF(x, y), 3.0, 3.0)
        if any(box.intersects(other) for other in taken):
            continue
        taken.append(box)
        painter.drawLine(QPointF(x + 3.0 * dx, y + 3.0 * dy), QPointF(x + 12.0 * dx, y + 12.0 * dy))
        painter.setPen(pen(theme.leftover))
        painter.drawRoundedRect(box, 3.0, 3.0)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


Spot = tuple[float, float]


def _axis_line(stroke: Stroke, axis: Axis) -> tuple[Spot, Spot, Spot]:
    """Where a stroke's axis leaves the blank's box, its tip, and the way out, on the screen."""
    top = stroke.lie.height - stroke.tip
    over = max(top, 0.0)
    points = stroke.to_section(np.array(((0.0, over), (0.0, 0.0), (0.0, over + 1.0))))
    foot, tip, beyond = ((axis.pixel_of_x(float(x)), axis.pixel_of_z(float(z))) for x, z in points)
    size = math.dist(foot, beyond)
    return foot, tip, ((beyond[0] - foot[0]) / size, (beyond[1] - foot[1]) / size)

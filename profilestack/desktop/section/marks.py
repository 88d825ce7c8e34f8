"""What is written on the section: ridges with their height."""

from __future__ import annotations

import math

import numpy as np
import shapely
from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from profilestack.desktop.axis import Axis
from profilestack.desktop.section.balloons import Balloon, handle_size
from profilestack.desktop.section.in_sight import Box, Spot
from profilestack.desktop.section.inks import pen
from profilestack.desktop.section.labels import draw_ring, label
from profilestack.desktop.section.rulers import small
from profilestack.desktop.section.shapes import placed
from profilestack.desktop.theme import Theme
from profilestack.drawing.section_panel import LOWEST_RIDGE, MOST_RIDGES
from profilestack.jobs.cut import CutReport
from profilestack.session.verdict import unreached_place
from profilestack.session.whereabouts import FineText

SHORT = 12.0
"""A leader of this length [px] runs through nothing."""

SAME = 10.0
"""Places so near to each other [px] are told once."""

GAP = 4.0
"""Between a height and the edge of the view [px]."""

LEADERS = (
    (12.0, 0.0), (40.0, 0.0), (68.0, 0.0), (12.0, 0.9), (12.0, -0.9), (40.0, 0.9), (40.0, -0.9),
    (96.0, 0.0), (68.0, 0.6), (68.0, -0.6),
)  # fmt: skip
"""The height of a ridge is written so far from it [px], off its normal by so much [rad]: where the
first of these places is free."""

_WAYS = tuple((leader, math.cos(turn), math.sin(turn)) for leader, turn in LEADERS)


def paint_ridges(
    painter: QPainter,
    report: CutReport,
    axis: Axis,
    units: str,
    theme: Theme,
    balloons: list[Balloon],
    room: QRectF,
) -> None:
    """The highest ridges, each with its height on the waste's side of the profile.

    And the place of the profile that is farthest from the cut, where that tells more than they do.
    Where ``balloons`` stand, no height is written; that of a ridge in sight is written inside
    ``room``.
    """
    comparison = report.comparison
    if comparison is None:
        return
    font = painter.font()
    ridges = [ridge for ridge in comparison.ridges if ridge.height >= LOWEST_RIDGE]
    ridges = sorted(ridges, key=lambda ridge: -ridge.height)[:MOST_RIDGES]
    told = [(ridge.at, ridge.height, "") for ridge in ridges]
    if (bare := unreached_place(report)) is not None:
        # a ridge at that very place would tell less of it
        told = [one for one in told if math.dist(one[0], bare) * axis.scale > SAME]
        told.insert(0, (bare, comparison.unreached_max, "not reached, "))
    if not told:
        return
    at = np.array([place for place, _, _ in told])
    normals = shapely.shortest_line(shapely.linestrings(comparison.target), shapely.points(at))
    ends = placed(shapely.get_coordinates(normals), axis).reshape(-1, 2, 2)
    text_of = FineText(units)
    written, ratio = small(font).toString(), painter.device().devicePixelRatioF()
    half = handle_size(font) / 2.0
    middles = [(each.middle.x(), each.middle.y()) for each in balloons]
    taken = [(x - half, y - half, x + half, y + half) for x, y in middles]
    sides = room.left() + GAP, room.right() - GAP
    painter.setPen(pen(theme.leftover, 1.5))
    for (_, height, word), ((x0, y0), (x, y)) in zip(told, ends.tolist(), strict=True):
        text = f"{word}{text_of(height)} {units}"
        picture = label(text, theme.leftover, theme.paper, written, ratio, True)
        size = picture.deviceIndependentSize()
        peak = QPointF(x, y)
        if free := free_place((x0, y0), (x, y), (size.width(), size.height()), sides, taken):
            end, box = free
            taken.append(box)
            painter.drawLine(peak, QPointF(*end))
            painter.drawPixmap(QPointF(box[0], box[1]), picture)
        draw_ring(painter, theme, peak)


def free_place(
    foot: Spot, crest: Spot, size: Spot, sides: Spot, taken: list[Box]
) -> tuple[Spot, Box] | None:
    """Where a ridge's leader ends and its height can be written clear of what is ``taken``.

    The leader meets the text and crosses no other one; None where no place is free. The text of a
    crest between the ``sides`` stays between them. Plain numbers: the place is looked for in every
    frame of a drag.
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
        end = min(max(x, left), right), min(max(y, top), bottom)
        if any(
            left < other[2] and other[0] < right and top < other[3] and other[1] < bottom
            for other in taken
        ):
            continue
        if leader <= SHORT or not _crosses(crest, end, taken):
            return end, (left, top, right, bottom)
    return None


def _crosses(begin: Spot, end: Spot, boxes: list[Box]) -> bool:
    """Whether a line runs through a box, as far as looking at a few of its places tells."""
    (x0, y0), (x1, y1) = begin, end
    places = [(x0 + share * (x1 - x0), y0 + share * (y1 - y0)) for share in (0.3, 0.6, 0.9)]
    return any(box[0] < x < box[2] and box[1] < y < box[3] for box in boxes for x, y in places)

"""Dimensions of a single bit: level ones below it, upright ones beside it, words with leaders.

Each keeps its text clear of its own lines: where two extension lines stand too close for it, the
text goes beside them and the arrow heads point inward.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from profilestack.drawing.drawing import Mark, arrow_head, circle, line, words
from profilestack.drawing.fonts import text_width
from profilestack.drawing.palette import DIMENSION_PEN, INK, LEADER_PEN, SMALL, Look
from profilestack.drawing.placing import spread
from profilestack.geometry.path import Point

HEAD = 1.8
PAST = 1.0
"""Of a dimension [mm]: arrow head, and extension line beyond the dimension line."""

LABEL_GAP = 3.4
"""From one label's base line to the next [mm]."""


@dataclass(frozen=True, slots=True)
class Label:
    """Words that name the place ``at`` [mm] of a drawing."""

    at: Point
    text: str


def level_dimension(
    left: Point, right: Point, height: float, text: str, line_at: float | None = None
) -> list[Mark]:
    """A dimension at ``height`` [mm] below two points that lie side by side.

    Text beside it keeps clear of an upright line at x = ``line_at`` [mm].
    """
    marks: list[Mark] = [
        line(point, (point[0], height - PAST), pen=DIMENSION_PEN) for point in (left, right)
    ]
    wide = text_width(text, SMALL) + 2.0 * HEAD + 2.0 <= right[0] - left[0]
    marks += _arrows((left[0], height), (right[0], height), inward=not wide)
    if wide:
        middle = (left[0] + right[0]) / 2.0
        marks.append(words((middle, height + 0.8), text, SMALL, anchor="middle"))
    else:
        tail = right[0] + 2.2 * HEAD
        if line_at is not None and tail < line_at < tail + 1.6 + text_width(text, SMALL):
            tail = line_at + 1.0
        marks.append(line((right[0], height), (tail, height), pen=DIMENSION_PEN))
        marks.append(words((tail + 0.8, height), text, SMALL, centered=True))
    return marks


def upright_dimension(low: Point, high: Point, place: float, text: str) -> list[Mark]:
    """A dimension at x = ``place`` [mm], right of two points that lie over each other."""
    marks: list[Mark] = [
        line(point, (place + PAST, point[1]), pen=DIMENSION_PEN) for point in (low, high)
    ]
    inward = high[1] - low[1] < 2.0 * HEAD + 0.5
    marks += _arrows((place, low[1]), (place, high[1]), inward=inward)
    middle = (low[1] + high[1]) / 2.0
    return [*marks, words((place + 1.4, middle), text, SMALL, centered=True)]


def upright_room(texts: Sequence[str]) -> float:
    """What upright dimensions with these texts take to the right of their line [mm]."""
    return 1.4 + max((text_width(text, SMALL) for text in texts), default=0.0)


def labels_beside(labels: Sequence[Label], right: float, low: float, high: float) -> list[Mark]:
    """Words ending at x = ``right`` [mm], one over the other, each with a leader to its place."""
    if not labels:
        return []
    heights = spread([label.at[1] for label in labels], LABEL_GAP)
    shift = max(0.0, low - min(heights)) - max(0.0, max(heights) - high)
    marks: list[Mark] = []
    for label, height in zip(labels, heights, strict=True):
        beside = (right + 0.8, height + shift)
        knee = (right + 3.0, height + shift)
        marks.append(line(beside, knee, label.at, pen=LEADER_PEN))
        marks += circle(label.at, 0.35, Look(INK))
        at = (right, height + shift)
        marks.append(words(at, label.text, SMALL, anchor="end", centered=True))
    return marks


def labels_room(labels: Sequence[Label]) -> float:
    """Width of the widest label [mm]."""
    return max((text_width(label.text, SMALL) for label in labels), default=0.0)


def _arrows(first: Point, second: Point, *, inward: bool) -> list[Mark]:
    """The line between two points with its heads; ``inward``: heads from outside, on tails."""
    along = (second[0] - first[0], second[1] - first[1])
    length = abs(along[0]) + abs(along[1])
    unit = (along[0] / length, along[1] / length)
    marks: list[Mark] = [line(first, second, pen=DIMENSION_PEN)]
    for point, way in ((first, 1.0), (second, -1.0)):
        towards = (way * unit[0], way * unit[1])
        if inward:
            tail = (point[0] - 2.2 * HEAD * towards[0], point[1] - 2.2 * HEAD * towards[1])
            marks.append(line(tail, point, pen=DIMENSION_PEN))
        else:
            towards = (-towards[0], -towards[1])
        marks.append(arrow_head(point, towards, HEAD, DIMENSION_PEN.color))
    return marks

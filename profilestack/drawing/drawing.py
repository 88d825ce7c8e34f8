"""A drawing: a sheet of paper in mm with filled areas, lines and words on it.

The origin is the sheet's lower left, x to the right, y upward. Marks are painted in order. A
drawing knows nothing of what it shows; renderers know nothing else.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from profilestack.drawing.fonts import CAP_HEIGHT, POINT, text_width
from profilestack.drawing.hatching import hatch_lines
from profilestack.drawing.palette import DIMENSION_PEN, INK, SMALL, Look, Pen
from profilestack.geometry.path import Point, Points

Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True, eq=False)
class Fill:
    """The inside of rings, each shape (n, 2) [mm], holes turning against their outer rings."""

    rings: tuple[Points, ...]
    color: str


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Chains of points, each shape (n, 2) [mm], drawn with one pen."""

    chains: tuple[Points, ...]
    pen: Pen
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text: ``at`` [mm] is on its base line, ``size`` [pt], ``angle`` [deg] ccw."""

    at: Point
    text: str
    size: float
    color: str = INK
    anchor: Anchor = "start"
    angle: float = 0.0
    bold: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """Marks of which only what lies inside a rectangle is seen: its lower left ``at`` [mm]."""

    at: Point
    width: float
    height: float
    marks: tuple[Mark, ...]


Mark = Fill | Lines | Words | Window


@dataclass(frozen=True, slots=True, eq=False)
class Drawing:
    """A sheet ``width`` x ``height`` [mm]; ``paper`` is its colour, None leaves it bare."""

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str = ""
    paper: str | None = None


def line(*points: Point, pen: Pen, closed: bool = False) -> Lines:
    """One chain through the points [mm]."""
    return Lines((np.array(points, dtype=np.float64),), pen, closed)


def box(left: float, bottom: float, width: float, height: float, look: Look) -> list[Mark]:
    """A rectangle [mm]."""
    ring = np.array(
        ((left, bottom), (left + width, bottom), (left + width, bottom + height),
         (left, bottom + height))
    )  # fmt: skip
    return area((ring,), look)


def circle(center: Point, radius: float, look: Look) -> list[Mark]:
    """A full circle [mm]."""
    turns = np.linspace(0.0, math.tau, 48, endpoint=False)
    ring = np.column_stack((np.cos(turns), np.sin(turns))) * radius + np.array(center)
    return area((ring,), look)


def area(rings: Sequence[Points], look: Look) -> list[Mark]:
    """An area with its fill, hatches and edge."""
    marks: list[Mark] = []
    rings = tuple(ring for ring in rings if len(ring) >= 3)
    if not rings:
        return marks
    if look.fill is not None:
        marks.append(Fill(rings, look.fill))
    for hatch in look.hatches:
        if chains := hatch_lines(rings, hatch.angle, hatch.spacing):
            marks.append(Lines(chains, hatch.pen))
    if look.edge is not None:
        marks.append(Lines(rings, look.edge, closed=True))
    return marks


def words(
    at: Point,
    text: str,
    size: float = SMALL,
    color: str = INK,
    anchor: Anchor = "start",
    *,
    angle: float = 0.0,
    bold: bool = False,
    centered: bool = False,
) -> Words:
    """One line of text; ``centered`` puts the middle of its capitals, not its base, at ``at``."""
    if centered:
        drop = 0.5 * CAP_HEIGHT * size * POINT
        tilt = math.radians(angle)
        at = (at[0] + drop * math.sin(tilt), at[1] - drop * math.cos(tilt))
    return Words(at, text, size, color, anchor, angle, bold)


def tag(
    at: Point, text: str, size: float, color: str, ground: str, anchor: Anchor = "middle"
) -> list[Mark]:
    """Text on a patch of ``ground``, centred upon ``at`` [mm], readable over hatches."""
    width, height = tag_size(text, size)
    shift = {"start": 0.0, "middle": -width / 2.0, "end": -width}[anchor]
    marks = box(at[0] + shift, at[1] - height / 2.0, width, height, Look(ground))
    middle = (at[0] + shift + width / 2.0, at[1])
    return [*marks, words(middle, text, size, color, "middle", bold=True, centered=True)]


def tag_size(text: str, size: float) -> tuple[float, float]:
    """Width and height of a tag [mm]."""
    return text_width(text, size, bold=True) + 1.2, size * POINT + 0.6


def arrow_head(tip: Point, direction: Point, length: float, color: str) -> Fill:
    """A slim filled arrow head at ``tip`` [mm], pointing along ``direction``."""
    size = math.hypot(*direction)
    along = np.array(direction) / size
    across = np.array((-along[1], along[0]))
    end = np.array(tip)
    back = end - along * length
    return Fill(
        (np.array((end, back + across * length / 5.0, back - across * length / 5.0)),), color
    )


def dimension(first: Point, second: Point, text: str, size: float = SMALL) -> list[Mark]:
    """A dimension line between two points of one level or one plumb line [mm].

    The text stands over a level line, and left of a plumb one reading upward.
    """
    along = (second[0] - first[0], second[1] - first[1])
    length = math.hypot(*along)
    if length == 0.0:
        return []
    marks: list[Mark] = [line(first, second, pen=DIMENSION_PEN)]
    head = min(1.8, length / 3.0)
    marks.append(arrow_head(first, (-along[0], -along[1]), head, DIMENSION_PEN.color))
    marks.append(arrow_head(second, along, head, DIMENSION_PEN.color))
    angle = math.degrees(math.atan2(along[1], along[0]))
    middle = ((first[0] + second[0]) / 2.0, (first[1] + second[1]) / 2.0)
    lift = 0.8
    tilt = math.radians(angle)
    at = (middle[0] - lift * math.sin(tilt), middle[1] + lift * math.cos(tilt))
    marks.append(words(at, text, size, anchor="middle", angle=angle))
    return marks


def moved(marks: Iterable[Mark], across: float, up: float) -> list[Mark]:
    """The marks at another place on the sheet [mm]."""
    shift = np.array((across, up))
    found: list[Mark] = []
    for mark in marks:
        if isinstance(mark, Fill):
            found.append(Fill(tuple(ring + shift for ring in mark.rings), mark.color))
        elif isinstance(mark, Lines):
            chains = tuple(chain + shift for chain in mark.chains)
            found.append(Lines(chains, mark.pen, mark.closed))
        elif isinstance(mark, Window):
            at = (mark.at[0] + across, mark.at[1] + up)
            inner = tuple(moved(mark.marks, across, up))
            found.append(Window(at, mark.width, mark.height, inner))
        else:
            found.append(replace(mark, at=(mark.at[0] + across, mark.at[1] + up)))
    return found


def extent_of(rings: Iterable[Points]) -> tuple[float, float, float, float]:
    """Least x, least y, largest x, largest y over points, each shape (n, 2) [mm]."""
    every = np.concatenate([np.asarray(ring).reshape(-1, 2) for ring in rings])
    low, high = every.min(axis=0), every.max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def reach_of(marks: Iterable[Mark]) -> tuple[float, float, float, float]:
    """Least x, least y, largest x, largest y that marks take on the sheet [mm]; words too."""
    corners: list[Points] = []
    for mark in marks:
        if isinstance(mark, Fill):
            corners += mark.rings
        elif isinstance(mark, Lines):
            corners += mark.chains
        elif isinstance(mark, Window):
            x, y = mark.at
            corners.append(np.array(((x, y), (x + mark.width, y + mark.height))))
        else:
            corners.append(words_corners(mark))
    return extent_of(corners)


def words_corners(mark: Words) -> Points:
    """The corners of the room that words take, shape (4, 2) [mm]: base line to capitals."""
    width = text_width(mark.text, mark.size, mark.bold)
    left = {"start": 0.0, "middle": -width / 2.0, "end": -width}[mark.anchor]
    top = CAP_HEIGHT * mark.size * POINT
    tilt = math.radians(mark.angle)
    along = np.array((math.cos(tilt), math.sin(tilt)))
    across = np.array((-along[1], along[0]))
    at = np.array(mark.at)
    return np.array([at + x * along + y * across for x in (left, left + width) for y in (0.0, top)])

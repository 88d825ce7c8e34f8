"""One bit at its own size: edge, shank, bearing, dimensions, and the groove that it leaves."""

from __future__ import annotations

import math

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, edge_path, largest_radius, silhouette_path
from profilestack.bits.shapes.bullnose import Bullnose
from profilestack.bits.shapes.v_groove import VGroove
from profilestack.bits.wear import new_edge
from profilestack.bits.words import kind_of, size_text
from profilestack.drawing.bit_dimensions import (
    Label,
    labels_beside,
    labels_room,
    level_dimension,
    upright_dimension,
    upright_room,
)
from profilestack.drawing.blocks import Block, paragraph, stacked
from profilestack.drawing.drawing import Drawing, Lines, Mark, area, line, words
from profilestack.drawing.fonts import fitted
from profilestack.drawing.palette import (
    AXIS_PEN,
    BODY,
    DIMENSION_PEN,
    INK,
    PAPER,
    QUIET_INK,
    SMALL,
    STEEL,
    TITLE,
    WOOD_LOOK,
    Hatch,
    Look,
    Pen,
)
from profilestack.drawing.placing import Placing
from profilestack.geometry.crossing import direction_at, point_on
from profilestack.geometry.path import Line, Path, Point, Points
from profilestack.geometry.region import region_from_path, subtract
from profilestack.units import format_length

CHORD = 0.005
"""Arcs are drawn as lines that leave them by at most this [mm]."""

MARGIN = 9.0
HEADER = 15.0
WOOD_SIDE = 9.0
WOOD_BELOW = 7.0
BAR_ROOM = 8.0
LEAST_WIDTH = 130.0
"""Of the sheet [mm]: edge, title, wood beside and below the bit, scale bar, least width."""

MOST_LABELS = 8

EDGE_PEN = Pen(INK, 0.7)
BODY_LOOK = Look(STEEL, (), Pen(INK, 0.25))
SHANK_LOOK = Look("#E4E7E9", (), Pen(INK, 0.25))
GRIP_LOOK = Look(None, (Hatch(45.0, 1.6, Pen("#8A9299", 0.13)),))
BEARING_LOOK = Look("#F4F5F6", (), Pen(INK, 0.25))
NEW_PEN = Pen(QUIET_INK, 0.25, (1.6, 0.9))

CAUTION = (
    "The speed marked on your own bit, your machine's manual, local rules and a qualified "
    "operator come first."
)


def bit_picture(bit: Bit, units: str) -> Drawing:
    """A bit at 1:1 as one drawing, its words and numbers in ``units`` ("mm" or "in")."""
    labels, uprights = _labels(bit, units), _upright_texts(bit, units)
    half = max(largest_radius(bit), bit.shank / 2.0) + WOOD_SIDE
    first_place = half + 5.0
    second_place = first_place + upright_room(uprights[:-1]) + 4.0
    right = second_place + upright_room(uprights[-1:])
    left = half + 5.0 + labels_room(labels)
    width = max(LEAST_WIDTH, left + right + 2.0 * MARGIN)
    facts = _facts_block(bit, units, width - 2.0 * MARGIN)
    below = max(bit.pilot_length or 0.0, WOOD_BELOW) + 17.0
    height = 2.0 * MARGIN + HEADER + bit.length + below + facts.height
    spare = width - 2.0 * MARGIN - left - right
    placing = Placing(MARGIN + left + spare / 2.0, MARGIN + facts.height + below)

    marks = _header(bit, units, width, height)
    marks += _wood_marks(bit, half, placing)
    marks += _bit_marks(bit, placing)
    edge = placing.left - half - 5.0
    placed = [Label(placing.point(label.at), label.text) for label in labels]
    low, high = placing.point((0.0, -WOOD_BELOW))[1], placing.point((0.0, bit.length))[1]
    marks += labels_beside(placed, edge, low, high)
    marks += _level_marks(bit, units, placing)
    marks += _upright_marks(bit, uprights, placing, (first_place, second_place))
    marks += facts.at(MARGIN, MARGIN + facts.height)
    marks += _scale_bar(units, width)
    return Drawing(width, height, tuple(marks), bit.name, PAPER)


def _header(bit: Bit, units: str, width: float, height: float) -> list[Mark]:
    top, room = height - MARGIN, width - 2.0 * MARGIN
    under = f"{kind_of(bit)}: {size_text(bit, units)}"
    return [
        words((MARGIN, top - 4.0), fitted(bit.name, TITLE, room, bold=True), TITLE, bold=True),
        words((MARGIN, top - 9.0), fitted(under, BODY, room), BODY, QUIET_INK),
        words((MARGIN, top - 12.6), fitted(bit.id, SMALL, room), SMALL, QUIET_INK),
    ]


def _wood_marks(bit: Bit, half: float, placing: Placing) -> list[Mark]:
    """Wood as high as the edge, with what the bit and its bearing leave of it."""
    top = edge_height(bit)
    block = region_from_path(_rectangle(-half, -WOOD_BELOW, half, top), CHORD)
    left = subtract(block, region_from_path(silhouette_path(bit), CHORD))
    if bit.pilot_diameter is not None:
        # beside a bearing there is one piece of wood, and the bearing runs along its edge
        near = _rectangle(-half - 1.0, -WOOD_BELOW - 1.0, bit.pilot_diameter / 2.0, top + 1.0)
        left = subtract(left, region_from_path(near, CHORD))
    return area(placing.rings(left), WOOD_LOOK)


def _bit_marks(bit: Bit, placing: Placing) -> list[Mark]:
    top, shank = edge_height(bit), bit.shank / 2.0
    marks = area((placing.points(_points(_rectangle(-shank, top, shank, bit.length))),), SHANK_LOOK)
    grip = _rectangle(-shank, bit.length - bit.grip, shank, bit.length)
    marks += area((placing.points(_points(grip)),), GRIP_LOOK)
    marks += _bearing_marks(bit, placing)
    marks += area((placing.points(_points(silhouette_path(bit))),), BODY_LOOK)
    edge = edge_path(bit)
    for side in (1.0, -1.0):
        chain = edge.flatten(CHORD) * np.array((side, 1.0))
        marks.append(Lines((placing.points(chain),), EDGE_PEN))
    if bit.measured is not None:
        marks += _new_marks(bit, placing)
    low = -(bit.pilot_length or 0.0) - 2.5
    axis = (placing.point((0.0, low)), placing.point((0.0, bit.length + 2.5)))
    return [*marks, line(*axis, pen=AXIS_PEN)]


def _new_marks(bit: Bit, placing: Placing) -> list[Mark]:
    """The edge as it was when new, its shank in the same place."""
    lost = bit.cutting_length - edge_height(bit)
    chain = new_edge(bit.shape, bit.cutting_length).flatten(CHORD) - np.array((0.0, lost))
    sides = tuple(placing.points(chain * np.array((side, 1.0))) for side in (1.0, -1.0))
    return [Lines(sides, NEW_PEN)]


def _bearing_marks(bit: Bit, placing: Placing) -> list[Mark]:
    if bit.pilot_diameter is None or bit.pilot_length is None:
        return []
    outer, inner = bit.pilot_diameter / 2.0, bit.pilot_diameter / 4.0
    low = -bit.pilot_length
    whole = _rectangle(-outer, low, outer, 0.0)
    marks = area((placing.points(_points(whole)),), BEARING_LOOK)
    for side in (-1.0, 1.0):
        corners = [(side * inner, low), (side * outer, 0.0), (side * outer, low), (side * inner, 0)]
        a, b, c, d = (placing.point(corner) for corner in corners)
        marks += [line(a, b, pen=DIMENSION_PEN), line(c, d, pen=DIMENSION_PEN)]
        marks.append(line(a, d, pen=DIMENSION_PEN))
    return marks


def _labels(bit: Bit, units: str) -> list[Label]:
    """Radii, angles, shank, bearing and waist, at places on the left of the bit (r, h) [mm]."""
    said: dict[str, Label] = {}

    def say(point: Point, text: str) -> None:
        said.setdefault(text, Label((-point[0], point[1]), text))

    for piece in edge_path(bit).segments:
        middle = point_on(piece, 0.3)  # the middle of a half circle is where a waist is named
        if not isinstance(piece, Line):
            say(middle, f"radius {format_length(piece.radius, units)}")
            continue
        across, up = direction_at(piece, 0.0)
        if abs(across) > 1e-6 and abs(up) > 1e-6:
            lean = math.degrees(math.atan2(abs(across), abs(up)))
            included = isinstance(bit.shape, VGroove) and bit.pilot_diameter is None
            say(middle, f"{2 * lean:.4g}° included" if included else f"{lean:.4g}° from the axis")
    shown = list(said.values())[:MOST_LABELS]
    if isinstance(bit.shape, Bullnose) and edge_height(bit) > bit.shape.radius:
        waist = min(edge_path(bit).flatten(CHORD)[1:].tolist())
        text = f"waist {format_length(2.0 * waist[0], units)}"
        shown.append(Label((-waist[0], waist[1]), text))
    free = (edge_height(bit) + bit.length - bit.grip) / 2.0
    shown.append(Label((-bit.shank / 2.0, free), f"shank {format_length(bit.shank, units)}"))
    if bit.pilot_diameter is not None and bit.pilot_length is not None:
        at = (-bit.pilot_diameter / 2.0, -bit.pilot_length / 2.0)
        size = format_length(bit.pilot_diameter, units)
        shown.append(Label(at, f"bearing {size}, does not cut"))
    return shown


def _level_marks(bit: Bit, units: str, placing: Placing) -> list[Mark]:
    """The tip, where it is a flat of its own, and the largest diameter."""
    base = placing.point((0.0, -max(bit.pilot_length or 0.0, WOOD_BELOW)))[1]
    marks: list[Mark] = []
    full = largest_radius(bit)
    first = edge_path(bit).segments[0]
    flat = first.end[0] if abs(first.end[1] - first.start[1]) < 1e-9 else 0.0
    if 0.0 < flat < full - 1e-6:
        left, right = (placing.point((side * flat, 0.0)) for side in (-1.0, 1.0))
        text = f"tip {format_length(2 * flat, units)}"
        marks += level_dimension(left, right, base - 5.0, text, placing.point((full, 0.0))[0])
    widest = max(edge_path(bit).flatten(CHORD).tolist(), key=lambda point: point[0])
    left, right = (placing.point((side * full, widest[1])) for side in (-1.0, 1.0))
    word = "diameter" if bit.measured is None else "measured diameter"
    marks += level_dimension(left, right, base - 11.0, f"{word} {format_length(2 * full, units)}")
    return marks


def _upright_texts(bit: Bit, units: str) -> list[str]:
    return [
        f"edge {format_length(edge_height(bit), units)}",
        f"in the collet {format_length(bit.grip, units)}",
        f"overall {format_length(bit.length, units)}",
    ]


def _upright_marks(
    bit: Bit, texts: list[str], placing: Placing, places: tuple[float, float]
) -> list[Mark]:
    near, far = (placing.left + place for place in places)
    shank, reach = bit.shank / 2.0, edge_path(bit).end[0]
    tip, top = placing.point((0.0, 0.0)), placing.point((shank, bit.length))
    end = placing.point((reach, edge_height(bit)))
    collet = placing.point((shank, bit.length - bit.grip))
    return [
        *upright_dimension(tip, end, near, texts[0]),
        *upright_dimension(collet, top, near, texts[1]),
        *upright_dimension(tip, top, far, texts[2]),
    ]


def _facts_block(bit: Bit, units: str, width: float) -> Block:
    told = [f"{bit.flutes} cutting edges" if bit.flutes > 1 else "1 cutting edge"]
    if bit.max_rpm is not None:
        told.append(f"marked up to {bit.max_rpm:,.0f} rpm")
    told.append("may plunge" if bit.plunges else "does not plunge: enter from the end")
    told.append(f"{format_length(bit.reach, units)} from tip to nut")
    parts = [paragraph("; ".join(told), width, BODY)]
    if bit.measured is not None:
        parts.append(paragraph("Dashed: the edge when it was new.", width, BODY))
    if bit.note:
        parts.append(paragraph(bit.note, width, BODY, most=4))
    parts.append(paragraph(CAUTION, width, SMALL, QUIET_INK))
    parts.append(Block((), width, BAR_ROOM))
    return stacked(parts, 0.8)


def _scale_bar(units: str, width: float) -> list[Mark]:
    """A bar to hold a rule against."""
    length = 50.0 if units == "mm" else 50.8
    left, height = MARGIN, MARGIN
    marks: list[Mark] = [line((left, height), (left + length, height), pen=Pen(INK, 0.35))]
    for end in (left, left + length):
        marks.append(line((end, height - 1.2), (end, height + 1.2), pen=Pen(INK, 0.35)))
    text = f"full size: this bar is {format_length(length, units)} long"
    marks.append(
        words((left + length + 2.5, height), fitted(text, SMALL, width), SMALL, centered=True)
    )
    return marks


def _rectangle(left: float, bottom: float, right: float, top: float) -> Path:
    corners = ((right, bottom), (right, top), (left, top), (left, bottom))
    path = Path((left, bottom))
    for corner in corners:
        path = path.line(corner)
    return path


def _points(path: Path) -> Points:
    return path.flatten(CHORD)

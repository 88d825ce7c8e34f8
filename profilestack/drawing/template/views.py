"""The views of a full-size section: from the left end, from the right end, the reverse."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.cutting.stroke import lie_of
from profilestack.drawing.axes import Axis, axis_marks, drawn_axes
from profilestack.drawing.blocks import Block
from profilestack.drawing.drawing import (
    Mark,
    area,
    box,
    circle,
    extent_of,
    line,
    moved,
    reach_of,
    words,
)
from profilestack.drawing.fonts import text_width
from profilestack.drawing.palette import (
    HEADING,
    INK,
    PRINT_BLANK_PEN,
    PRINT_REVERSE_LOOK,
    PRINT_TARGET_PEN,
    PRINT_WOOD_LOOK,
    QUIET_INK,
    SMALL,
    WHITE,
    Look,
    Pen,
)
from profilestack.drawing.placing import Placing
from profilestack.drawing.scene import blank_marks, difference_marks, section_marks, target_marks
from profilestack.drawing.template.axis_labels import axis_labels
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.ordinates import (
    KNEE,
    Side,
    chosen,
    key_places,
    ordinate_marks,
    side_heading,
)
from profilestack.drawing.template.reverse import Reverse
from profilestack.units import format_length

End = Literal["left", "right"]
Box = tuple[float, float, float, float]


def block_of(marks: Sequence[Mark], room: float = 1.0) -> Block:
    """The marks as a block, with ``room`` [mm] around them."""
    low_x, low_y, high_x, high_y = reach_of(marks)
    placed = moved(marks, room - low_x, -room - high_y)
    return Block(tuple(placed), high_x - low_x + 2.0 * room, high_y - low_y + 2.0 * room)


def section_view(
    cut: Cut,
    comparison: Comparison | None,
    axes: Sequence[Axis],
    options: TemplateOptions,
    end: End,
) -> Block:
    """The full-size section as seen from one end, with everything that the shop measures."""
    mirror = -1.0 if end == "right" else 1.0
    placing = Placing(0.0, 0.0, mirror * options.across, options.up)
    bounds = extent_of(placing.rings(cut.blank))
    labels = axis_labels(cut, axes, placing, options.units)
    marks = section_marks(cut, placing, PRINT_WOOD_LOOK)
    if comparison is not None:
        marks += difference_marks(comparison, placing)
    marks += blank_marks(cut, placing, PRINT_BLANK_PEN)
    marks += _measures(cut, comparison, placing, _clear_of(labels, bounds), options.units)
    if comparison is not None:
        marks += target_marks(comparison, placing, PRINT_TARGET_PEN)
    marks += axis_marks(drawn_axes(axes), placing, Pen(INK, 0.13, (4.0, 0.9, 0.6, 0.9)))
    marks += labels
    marks += _datum_marks(bounds, end)
    low = reach_of(marks)[1]
    caption = _caption(bounds[0] - KNEE, low - 7.0, end, comparison is not None)
    return block_of([*marks, *caption])


def _clear_of(labels: Sequence[Mark], bounds: Box) -> Box:
    """The blank's box, its sides moved out to where no label of an axis stands beside it."""
    if not labels:
        return bounds
    low_x, low_y, high_x, _ = reach_of(labels)
    return (
        min(bounds[0], low_x),
        min(bounds[1], low_y),
        max(bounds[2], high_x),
        bounds[3],
    )


def _measures(
    cut: Cut,
    comparison: Comparison | None,
    placing: Placing,
    clear: Box,
    units: str,
) -> list[Mark]:
    """Heights on the side where their lines cross less wood, projections below."""
    blank = lie_of(cut.stack.blank, 0.0)
    low_x, low_z, high_x, high_z = 0.0, 0.0, blank.width, blank.height
    target = cut.stack.target
    places = key_places(target.path()) if comparison is not None and target else []
    heights = chosen(places, 1, high_z - low_z, (low_z, high_z))
    projections = chosen(places, 0, high_x - low_x, (low_x, high_x))
    # the waste is where the profile is low: the lines go out on the side that is lower there
    half = [place.at for place in places if place.at[0] > (low_x + high_x) / 2.0]
    rest = [place.at for place in places if place.at[0] <= (low_x + high_x) / 2.0]
    falls_right = _mean_height(half, high_z) <= _mean_height(rest, high_z)
    side: Side = "right" if falls_right == (placing.across > 0.0) else "left"
    bare = extent_of(placing.rings(cut.blank))
    if (side == "right" and clear[2] > bare[2]) or (side == "left" and clear[0] < bare[0]):
        # bits that come in from that side have their numbers there: rather the other one
        side = "left" if side == "right" else "right"
    corner = 2 if side == "right" else 0
    edge = clear[corner]
    marks = ordinate_marks(heights, placing, side, (bare[corner], edge), units)
    marks += ordinate_marks(projections, placing, "below", (bare[1], clear[1]), units)
    reach = reach_of(marks)
    outward = 1.0 if side == "right" else -1.0
    at = (edge + outward * KNEE, reach[3] + 1.4)
    marks.append(side_heading("above bed", at, side))
    begin: Side = "left" if placing.across > 0.0 else "right"
    start = (bare[0] - 3.0 if begin == "left" else bare[2] + 3.0, clear[1] - KNEE)
    marks.append(side_heading("from the edge", start, begin))
    return marks


def _mean_height(points: Sequence[tuple[float, float]], default: float) -> float:
    return sum(z for _, z in points) / len(points) if points else default


def _datum_marks(bounds: Box, end: End) -> list[Mark]:
    """The face (depths are measured from it) and the edge (offsets are)."""
    low_x, low_y, high_x, high_y = bounds
    pen = Pen(INK, 0.7)
    edge, outward = (low_x, -1.0) if end == "left" else (high_x, 1.0)
    x = edge + outward * 0.9
    middle = (low_y + high_y) / 2.0
    half = min(8.0, (high_y - low_y) / 3.0)
    near, far = edge - outward * 1.0, edge - outward * min(12.0, (high_x - low_x) / 2.0)
    y = high_y + 0.9
    marks: list[Mark] = [
        line((x, middle - half), (x, middle + half), pen=pen),
        line((near, y), (far, y), pen=pen),
    ]
    turn = 90.0 if end == "left" else -90.0
    at = (x + outward * 2.0, middle)
    # lines of the heights may run behind the word
    room = text_width("edge", SMALL, bold=True) + 1.0
    marks += box(at[0] - 1.3, middle - room / 2.0, 2.6, room, Look(WHITE))
    marks.append(words(at, "edge", SMALL, INK, "middle", angle=turn, bold=True, centered=True))
    at = (edge + outward * 2.6, y)
    anchor: Literal["start", "end"] = "end" if end == "left" else "start"
    marks.append(words(at, "face", SMALL, INK, anchor, bold=True))
    return marks


def _caption(left: float, top: float, end: End, compared: bool) -> list[Mark]:
    """Which end is seen, how the bit travels along the part, what the lines are.

    A bit that turns clockwise seen from its collet starts at the right end: in a groove its front
    then pushes the wood to the edge that offsets run from, where a fence is, and not off it.
    """
    away = end == "right"
    middle = (left + 1.8, top - 5.2)
    marks: list[Mark] = [
        words((left, top), f"Seen from the {end} end, 1 : 1", HEADING, bold=True),
        *circle(middle, 1.6, Look(None, (), Pen(INK, 0.3))),
    ]
    if away:
        d = 1.6 / math.sqrt(2.0)
        x, y = middle
        for sign in (1.0, -1.0):
            marks.append(line((x - d, y - sign * d), (x + d, y + sign * d), pen=Pen(INK, 0.3)))
    else:
        marks += circle(middle, 0.45, Look(INK))
    travel = "away from you" if away else "toward you"
    other = "toward you" if away else "away from you"
    said = f"feed: the bit goes {travel}; on a table the wood comes {other}"
    if not away:
        said = f"feed: the bit comes {travel}; on a table the wood goes {other}"
    marks.append(words((left + 5.0, top - 5.2), said, SMALL, QUIET_INK, centered=True))
    lines = ["over the axes: edge to bit centre | below face"]
    if compared:
        lines.append("blue: wanted profile; hatched: leftover (proud), crossed: overcut (gouge)")
    for row, text in enumerate(lines):
        marks.append(words((left, top - 9.6 - 3.2 * row), text, SMALL, QUIET_INK))
    return marks


def reverse_view(
    reverse: Reverse, comparison: Comparison | None, options: TemplateOptions
) -> Block:
    """The counter-section to cut out, with the profile it fits in a thin line."""
    placing = Placing(0.0, 0.0, options.across, options.up)
    rings = placing.rings(reverse.region)
    marks = area(rings, PRINT_REVERSE_LOOK)
    if comparison is not None:
        marks += target_marks(comparison, placing, Pen(PRINT_TARGET_PEN.color, 0.15))
    low_x, low_y, _, _ = reach_of(marks)
    gap = format_length(options.clearance, options.units)
    lines = [
        f"gauge, scraper or sanding block; clearance {gap} to the thin line",
        "seen from the left end; "
        + ("sets on from above" if reverse.lifts else "slides on from the end of the part"),
    ]
    marks.append(words((low_x, low_y - 5.5), "Reverse (gauge), 1 : 1", HEADING, bold=True))
    for row, text in enumerate(lines):
        marks.append(words((low_x, low_y - 10.0 - 3.4 * row), text, SMALL, QUIET_INK))
    return block_of(marks)

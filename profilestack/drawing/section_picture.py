"""The picture of a cut stack: section, passes, differences, deviation along the target."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial

from profilestack.cutting.caution import Caution
from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.drawing.axes import Axis, axes_near
from profilestack.drawing.balloons import BALLOON, REACH, balloons_of
from profilestack.drawing.blocks import Block, cautions_block, passes_block, stacked
from profilestack.drawing.drawing import Drawing, Mark, extent_of, line, words
from profilestack.drawing.fonts import fitted, text_width
from profilestack.drawing.legend import legend_block
from profilestack.drawing.palette import (
    BODY,
    FRAME_PEN,
    HEADING,
    INSIDE,
    LEFTOVER,
    OVERCUT,
    PAPER,
    QUIET_INK,
    TITLE,
)
from profilestack.drawing.placing import Placing
from profilestack.drawing.section_panel import panel_marks
from profilestack.drawing.strip import strip_marks
from profilestack.drawing.wording import blank_text, fine_text, run_text, title_of
from profilestack.geometry.path import Path

MARGIN = 9.0
GUTTER = 9.0
HEADER = 19.0
COLUMN = 88.0
STRIP = 51.0
PANEL_WIDTH = 190.0
PANEL_HEIGHT = 165.0
"""Of the picture [mm]: its edge, the space between columns, the title's height, the column of
words, the strip, and the most that the section's panel takes."""

SIDE_ROOM = 15.0
FOOT_ROOM = 17.0
HEAD_ROOM = REACH + BALLOON + 3.0
DIMENSION_ROOM = 7.0
BAR_ROOM = 9.0
"""Room around the section for balloons, dimensions and the scale bar [mm]."""

WIDE = 2.6
"""A section so many times wider than high takes the whole width, with the words below."""


@dataclass(frozen=True, slots=True)
class Rooms:
    """What is kept free around the section for balloons, dimensions and the scale bar [mm]."""

    left: float = SIDE_ROOM
    right: float = SIDE_ROOM
    foot: float = FOOT_ROOM
    head: float = HEAD_ROOM


@dataclass(frozen=True, slots=True)
class Extent:
    """What of the section plane is shown [mm]."""

    left: float
    bottom: float
    width: float
    height: float


def section_picture(
    cut: Cut,
    comparison: Comparison | None,
    cautions: Sequence[Caution],
    units: str,
    drawn: Path | None = None,
) -> Drawing:
    """A cut stack as one drawing, its words and numbers in ``units`` ("mm" or "in").

    ``drawn`` is the wanted profile before it was fitted to the bits at hand, shown beside it.
    """
    axes = axes_near(cut)
    extent = _extent(cut, axes)
    wide = extent.width > WIDE * extent.height
    panel_width = PANEL_WIDTH + (GUTTER + COLUMN if wide else 0.0)
    most_height = PANEL_HEIGHT * (0.6 if wide else 1.0)
    rooms = Rooms()
    for _ in range(2):  # balloons at the sides need room, which makes the section smaller
        scale = _scale(extent, rooms, panel_width, most_height)
        rooms = _rooms(extent, scale, axes)
    scale = _scale(extent, rooms, panel_width, most_height)
    panel_height = scale * extent.height + rooms.head + rooms.foot
    strip = STRIP if comparison is not None else 0.0
    key_of = partial(legend_block, comparison, has_drawn=drawn is not None)
    words_below, words_beside = _words(cut, key_of, cautions, units, panel_width, wide)
    body = max(panel_height + strip, words_beside.height if words_beside else 0.0)
    below = words_below.height + GUTTER if words_below else 0.0
    width = 2.0 * MARGIN + PANEL_WIDTH + GUTTER + COLUMN
    height = 2.0 * MARGIN + HEADER + body + below
    top = height - MARGIN - HEADER
    # what the words beside need more than the section goes to the section's own surroundings
    spare = body - panel_height - strip
    frame = (MARGIN, top - panel_height - spare, panel_width, panel_height + spare)
    placing = _placing(extent, rooms, scale, frame)
    marks = _header(cut, comparison, cautions, units, width, height)
    marks += panel_marks(cut, comparison, axes, placing, frame, units, drawn)
    if comparison is not None:
        strip_frame = (MARGIN, frame[1] - STRIP, panel_width, STRIP)
        marks += strip_marks(comparison, cut.stack.tolerance, strip_frame, units)
    if words_beside:
        marks += words_beside.at(width - MARGIN - COLUMN, top)
    if words_below:
        marks += words_below.at(MARGIN, MARGIN + words_below.height)
    return Drawing(width, height, tuple(marks), title_of(cut.stack), PAPER)


def _extent(cut: Cut, axes: Sequence[Axis]) -> Extent:
    low_x, low_z, high_x, high_z = extent_of(Placing(0.0, 0.0).rings(cut.blank))
    ends = [axis.mouth for axis in axes] + [axis.tip for axis in axes]
    low_x = min([low_x, *(x for x, _ in ends)])
    high_x = max([high_x, *(x for x, _ in ends)])
    low_z = min([low_z, *(z for _, z in ends)])
    high_z = max([high_z, *(z for _, z in ends)])
    return Extent(low_x, low_z, high_x - low_x, high_z - low_z)


def _rooms(extent: Extent, scale: float, axes: Sequence[Axis]) -> Rooms:
    """The room that the balloons at this scale ask for, and the dimensions beyond them."""
    placing = Placing(-scale * extent.left, -scale * extent.bottom, scale, scale)
    middles = [balloon.middle for balloon in balloons_of(axes, placing)]
    width, height = scale * extent.width, scale * extent.height
    edge = BALLOON + 3.0
    return Rooms(
        max([SIDE_ROOM, *(-x + edge + DIMENSION_ROOM for x, _ in middles if x < 0.0)]),
        max([SIDE_ROOM, *(x - width + edge for x, _ in middles)]),
        max([FOOT_ROOM, *(-y + edge + DIMENSION_ROOM + BAR_ROOM for _, y in middles if y < 0.0)]),
        max([HEAD_ROOM, *(y - height + edge for _, y in middles)]),
    )


def _scale(extent: Extent, rooms: Rooms, panel_width: float, most_height: float) -> float:
    most = min(
        (panel_width - rooms.left - rooms.right) / extent.width,
        (most_height - rooms.head - rooms.foot) / extent.height,
    )
    power = 10.0 ** math.floor(math.log10(most))
    steps = (1.0, 1.2, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0, 8.0)
    return max(step * power for step in steps if step * power <= most * (1.0 + 1e-9))


def _placing(
    extent: Extent, rooms: Rooms, scale: float, frame: tuple[float, float, float, float]
) -> Placing:
    left, bottom, width, height = frame
    spare_x = width - scale * extent.width - rooms.left - rooms.right
    spare_y = height - scale * extent.height - rooms.head - rooms.foot
    return Placing(
        left + rooms.left + spare_x / 2.0 - scale * extent.left,
        bottom + rooms.foot + spare_y / 2.0 - scale * extent.bottom,
        scale,
        scale,
    )


def _words(
    cut: Cut,
    key_of: Callable[[float], Block],
    cautions: Sequence[Caution],
    units: str,
    panel_width: float,
    wide: bool,
) -> tuple[Block | None, Block | None]:
    """The blocks of words below a wide section, or beside another one."""
    if not wide:
        parts = [passes_block(cut, COLUMN, units), key_of(COLUMN)]
        minded = cautions_block(cautions, COLUMN, units)
        return None, stacked([*parts, *([minded] if minded else [])], gap=5.0)
    table = passes_block(cut, 108.0, units)
    key = key_of(58.0)
    rest = panel_width - table.width - key.width - 2.0 * GUTTER
    minded = cautions_block(cautions, rest, units)
    marks = [*table.at(0.0, 0.0), *key.at(table.width + GUTTER, 0.0)]
    height = max(table.height, key.height)
    if minded:
        marks += minded.at(panel_width - rest, 0.0)
        height = max(height, minded.height)
    return Block(tuple(marks), panel_width, height), None


def _header(
    cut: Cut,
    comparison: Comparison | None,
    cautions: Sequence[Caution],
    units: str,
    width: float,
    height: float,
) -> list[Mark]:
    stack = cut.stack
    top = height - MARGIN
    right = width - MARGIN
    verdicts = _verdicts(comparison, cut, cautions, units)
    room = (
        width
        - 2.0 * MARGIN
        - 8.0
        - max((text_width(text, HEADING, bold=True) for text, _ in verdicts), default=0.0)
    )
    about = f"{blank_text(stack.blank, units)} · {run_text(stack.run, units)} · from the left end"
    marks: list[Mark] = [
        words(
            (MARGIN, top - 4.6), fitted(title_of(stack), TITLE, room, bold=True), TITLE, bold=True
        ),
        words((MARGIN, top - 11.0), fitted(about, BODY + 1.0, room), BODY + 1.0, QUIET_INK),
        line((MARGIN, top - 15.0), (right, top - 15.0), pen=FRAME_PEN),
    ]
    for row, (text, color) in enumerate(verdicts):
        at = (right, top - 3.6 - 4.6 * row)
        marks.append(words(at, text, HEADING, color, "end", bold=True))
    return marks


def _verdicts(
    comparison: Comparison | None, cut: Cut, cautions: Sequence[Caution], units: str
) -> list[tuple[str, str]]:
    """Does it fit, and is it dangerous: in words, sign and colour."""
    found: list[tuple[str, str]] = []
    tolerance = cut.stack.tolerance
    if comparison is None:
        found.append(("no wanted profile to compare with", QUIET_INK))
    else:
        proud, short = comparison.leftover.max, comparison.unreached_max
        # what breaks the tolerance is named: stock that stands, or a place that no cut comes near
        stays = proud > tolerance.leftover or short <= tolerance.leftover
        for word, value, most, color in (
            ("leftover (proud)", proud, tolerance.leftover, LEFTOVER)
            if stays
            else ("not reached", short, tolerance.leftover, LEFTOVER),
            ("overcut (gouge)", comparison.overcut_worst, tolerance.overcut, OVERCUT),
        ):
            fits = value <= most
            of = f"{fine_text(value, units)} of {fine_text(most, units)} {units}"
            text = f"{'✓' if fits else '✗'} {word} {of}{'' if fits else ', too much'}"
            found.append((text, INSIDE if fits else color))
    stops = sum(caution.severity == "stop" for caution in cautions)
    if stops:
        found.append((f"{stops} {'caution says' if stops == 1 else 'cautions say'} stop", LEFTOVER))
    return found

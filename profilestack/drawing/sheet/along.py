"""The blank from above: ends, grain, where the run starts, stops, holes for turning it over."""

from __future__ import annotations

from profilestack.drawing.blocks import Block
from profilestack.drawing.drawing import Mark, arrow_head, box, circle, dimension, line, words
from profilestack.drawing.palette import AXIS_PEN, INK, QUIET_INK, WHITE, Look, Pen
from profilestack.drawing.sheet.numbers import HOLES, SPARES, TINY, WORD, machine_number
from profilestack.drawing.sheet.stays import Lying
from profilestack.stack import CurvedRun, StraightRun, TurnedRun
from profilestack.units import format_length

HEIGHT = 22.6
"""Of the picture on the sheet [mm]."""


def is_turned_over(stay: Lying) -> bool:
    """Whether the piece is turned over between setups, so that holes keep it in line."""
    stack = stay.plan.stack
    angles = {stack.setup(name).angle % 360.0 for name in stay.plan.setups}
    return isinstance(stack.run, StraightRun | CurvedRun) and {0.0, 180.0} <= angles


def along_block(stay: Lying, width: float, units: str) -> Block:
    """The part from above, its length shortened; ``width`` [mm]."""
    run = stay.plan.stack.run
    if isinstance(run, TurnedRun):
        text = "The piece turns about its axis; each cut goes once round."
        return Block((words((0.0, -4.0), text, WORD),), width, 7.0)
    marks: list[Mark] = []
    left, right, high = 22.0, width - 22.0, 11.0
    top, bottom = -4.6, -4.6 - high
    marks += box(left, bottom, right - left, high, Look("#F4F4F4", (), Pen(INK, 0.3)))
    ends = (left + 20.0, right - 20.0)
    for end in ends:
        marks.append(line((end, bottom - 1.0), (end, top + 1.0), pen=Pen(INK, 0.35, (1.6, 0.8))))
    marks += _grain((left + right) / 2.0, top - 0.32 * high)
    marks += _fence_side(stay, left, right, top, bottom)
    if isinstance(run, StraightRun):
        text = f"{format_length(run.length, units)} finished"
    else:
        text = f"radius {format_length(run.radius, units)}, {run.angle:g}° (drawn straight)"
    level = bottom - (5.6 if stay.below else 4.2)
    marks += dimension((ends[0], level), (ends[1], level), text, WORD)
    spare = f"{format_length(SPARES[units][0], units)} spare"
    for at in ((left + ends[0]) / 2.0, (ends[1] + right) / 2.0):
        marks.append(words((at, bottom + 1.2), spare, TINY, QUIET_INK, "middle"))
    for x, word in ((left - 1.5, "left end"), (right + 1.5, "right end")):
        anchor = "end" if x < left else "start"
        marks.append(words((x, top - high / 2.0), word, WORD, INK, anchor, bold=True,  # type: ignore[arg-type]
                           centered=True))  # fmt: skip
    if is_turned_over(stay) and not stay.below:
        marks += _holes(left, right, top, high, units)
    marks += _stops(stay, ends, top, bottom, units)
    return Block(tuple(marks), width, HEIGHT)


def _grain(middle: float, level: float) -> list[Mark]:
    """The grain arrow: along the part, away from the left end."""
    begin, end = (middle - 16.0, level), (middle + 16.0, level)
    return [
        line(begin, end, pen=Pen(INK, 0.5)),
        arrow_head(end, (1.0, 0.0), 4.0, INK),
        arrow_head(begin, (-1.0, 0.0), 4.0, INK),
        words((middle, level - 3.6), "grain", WORD, INK, "middle"),
    ]


def _fence_side(stay: Lying, left: float, right: float, top: float, bottom: float) -> list[Mark]:
    """The fence edge, along the part: left of the travel from the left end."""
    level, lift = (bottom, -1.4) if stay.below else (top, 0.0)
    marks = box(left, level + lift, right - left, 1.4, Look(INK))
    word = "fence" if stay.below else "fence edge"
    at = (left, level + (-4.2 if stay.below else 2.2))
    marks.append(words(at, word, WORD, INK, bold=True))
    return marks


def _holes(left: float, right: float, top: float, high: float, units: str) -> list[Mark]:
    marks: list[Mark] = []
    level = top - high / 2.0
    for x in (left + 10.0, right - 10.0):
        marks += circle((x, level + 0.9), 1.7, Look(WHITE, (), Pen(INK, 0.35)))
        marks.append(line((x - 2.6, level + 0.9), (x + 2.6, level + 0.9), pen=AXIS_PEN))
        marks.append(line((x, level - 1.7), (x, level + 3.5), pen=AXIS_PEN))
    text = (
        f"wooden dowels {format_length(HOLES[units][0], units)}, on the middle line, "
        f"{format_length(HOLES[units][1], units)} beyond the finished ends: right both ways up"
    )
    marks.append(words((right, top + 2.0), text, TINY, INK, "end"))
    return marks


def _stops(
    stay: Lying, ends: tuple[float, float], top: float, bottom: float, units: str
) -> list[Mark]:
    """Where stopped passes begin and end."""
    run = stay.plan.stack.run
    if not isinstance(run, StraightRun):
        return []
    marks: list[Mark] = []
    places = {
        place
        for step in stay.steps
        for place in (step.begin, step.end)
        if place is not None and 0.0 < place < run.length
    }
    for place in sorted(places):
        x = ends[0] + (ends[1] - ends[0]) * place / run.length
        marks.append(line((x, bottom), (x, top), pen=Pen(INK, 0.4)))
        text = f"stop {machine_number(place, units)}"
        marks.append(words((x + 0.8, top - 3.0), text, WORD, INK, bold=True))
    return marks

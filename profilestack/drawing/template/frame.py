"""What stands on every sheet at true scale: title, check bars, cautions; and the room inside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from profilestack.cutting.caution import Caution
from profilestack.drawing.blocks import Block, caution_block, paragraph, stacked
from profilestack.drawing.drawing import Mark, line, words
from profilestack.drawing.fonts import fitted, text_width
from profilestack.drawing.palette import BODY, INK, LEFTOVER, QUIET_INK, SMALL, Pen
from profilestack.drawing.safety import USUAL_CAUTIONS
from profilestack.drawing.template.options import BAR, INCH_BAR, PAPERS, TemplateOptions

HEADER = 13.0
"""Height of the title's lines [mm]."""

BAR_BAND = 11.0
"""Width of the bands with the check bars, below and at the left [mm]."""

SAFETY_SIZE = 6.3
MOST_STOPS = 3

BAR_PEN = Pen(INK, 0.25)


@dataclass(frozen=True, slots=True, eq=False)
class Frame:
    """A sheet's size, its words, and the free window: lower left, width and height [mm]."""

    width: float
    height: float
    margin: float
    title: str
    about: str
    stops: Block | None
    safety: Block
    options: TemplateOptions

    @property
    def left(self) -> float:
        """Left side of the window."""
        return self.margin + BAR_BAND

    @property
    def bottom(self) -> float:
        """Lower side of the window."""
        return self.margin + self.safety.height + 2.0 + BAR_BAND

    @property
    def inner_width(self) -> float:
        """Width of the window."""
        return self.width - self.margin - self.left

    @property
    def inner_height(self) -> float:
        """Height of the window."""
        stops = self.stops.height + 1.5 if self.stops else 0.0
        return self.height - self.margin - HEADER - stops - self.bottom


def frame_of(
    options: TemplateOptions,
    landscape: bool,
    title: str,
    about: str,
    cautions: Sequence[Caution],
) -> Frame:
    """The frame of every sheet of one document."""
    width, height = PAPERS[options.paper]
    if landscape:
        width, height = height, width
    inner = width - 2.0 * options.margin
    safety = paragraph(" ".join(USUAL_CAUTIONS), inner, SAFETY_SIZE, QUIET_INK)
    return Frame(
        width,
        height,
        options.margin,
        title,
        about,
        _stops(cautions, inner, options.units),
        safety,
        options,
    )


def _stops(cautions: Sequence[Caution], width: float, units: str) -> Block | None:
    """The stop cautions, one line each; the whole text stands with the passes."""
    grave = [caution for caution in cautions if caution.severity == "stop"]
    if not grave:
        return None
    shown = grave if len(grave) <= MOST_STOPS else grave[: MOST_STOPS - 1]
    parts = [caution_block(caution, width, units, BODY, most=1) for caution in shown]
    if len(shown) < len(grave):
        text = f"and {len(grave) - len(shown)} more that say STOP: on the last sheet"
        parts.append(paragraph(text, width, BODY, LEFTOVER, bold=True))
    return stacked(parts)


def frame_marks(frame: Frame, what: str, page: int, pages: int) -> list[Mark]:
    """Title, page number, stop cautions, bars and the usual cautions of one sheet."""
    left, right = frame.margin, frame.width - frame.margin
    top = frame.height - frame.margin
    count = f"sheet {page} of {pages}"
    room = right - left - text_width(count, BODY, bold=True) - 6.0
    title = fitted(frame.title, 11.0, room, bold=True)
    told = fitted(what, BODY, 0.5 * (right - left))
    rest = right - left - text_width(told, BODY) - 6.0
    marks: list[Mark] = [
        words((left, top - 3.6), title, 11.0, bold=True),
        words((right, top - 3.6), count, BODY, anchor="end", bold=True),
        words((left, top - 8.6), fitted(frame.about, BODY, rest), BODY, QUIET_INK),
        words((right, top - 8.6), told, BODY, QUIET_INK, "end"),
        line((left, top - 10.8), (right, top - 10.8), pen=Pen(QUIET_INK, 0.2)),
    ]
    if frame.stops:
        marks += frame.stops.at(left, top - HEADER + 0.8)
    marks += frame.safety.at(left, frame.margin + frame.safety.height)
    return [*marks, *_bars(frame)]


def _bars(frame: Frame) -> list[Mark]:
    """The check bars in both directions, and what to do with them."""
    options = frame.options
    base = frame.margin + frame.safety.height + 3.0
    left = frame.left
    marks: list[Mark] = []
    for row, (length, text, step) in enumerate(
        ((BAR, "100 mm", BAR / 10.0), (INCH_BAR, "4 in", INCH_BAR / 8.0))
    ):
        y = base + 5.2 - 4.4 * row
        marks += _bar((left, y), length, step, options.across, upright=False)
        end = left + length * options.across + 1.5
        marks.append(words((end, y), text, SMALL, centered=True, bold=True))
        x = frame.margin + 2.2 + 4.4 * row
        marks += _bar((x, frame.bottom), length, step, options.up, upright=True)
        end = frame.bottom + length * options.up + 1.5
        at = (x, end)
        marks.append(words(at, text, SMALL, angle=90.0, centered=True, bold=True))
    said = "Print at 100 %, measure the bars: 100 mm and 4 in, both ways."
    if options.across != 1.0 or options.up != 1.0:
        said = (
            f"Corrected for bars that came out {options.printed_x:g} mm across and "
            f"{options.printed_z:g} mm up. {said}"
        )
    beside = left + INCH_BAR * options.across + 16.0
    told = paragraph(said, frame.width - frame.margin - beside, SMALL + 0.5, INK, bold=True)
    return [*marks, *told.at(beside, base + 6.9)]


def _bar(
    start: tuple[float, float], length: float, step: float, stretch: float, *, upright: bool
) -> list[Mark]:
    """One bar with its divisions, ``length`` [mm] long once printed."""
    x, y = start
    marks: list[Mark] = []

    def at(along: float, aside: float) -> tuple[float, float]:
        place = along * stretch
        return (x - aside, y + place) if upright else (x + place, y + aside)

    marks.append(line(at(0.0, 0.0), at(length, 0.0), pen=BAR_PEN))
    count = round(length / step)
    for k in range(count + 1):
        tall = 1.6 if k in (0, count) else 0.8
        low = -1.6 if k in (0, count) else 0.0
        marks.append(line(at(k * step, low), at(k * step, tall), pen=Pen(INK, 0.15)))
    return marks

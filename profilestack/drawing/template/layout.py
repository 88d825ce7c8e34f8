"""Blocks laid on sheets: beside and under each other where they fit, else on tiles to join."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from profilestack.drawing.blocks import Block
from profilestack.drawing.drawing import Drawing, Mark, Window, line, reach_of, words
from profilestack.drawing.palette import INK, JOIN_PEN, SMALL, Pen
from profilestack.drawing.template.frame import Frame, frame_marks

OVERLAP = 14.0
"""Neighbouring tiles share so much [mm]."""

GAP = 7.0
"""Between blocks on one sheet [mm]."""

JOIN_BAND = 5.0
"""Room below the content of tiles for the sheet numbers at the joins [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Piece:
    """A block that goes on a sheet whole, or on tiles when it is too large."""

    name: str
    block: Block


@dataclass(frozen=True, slots=True, eq=False)
class _Sheet:
    what: str
    marks: tuple[Mark, ...]


def tiles_needed(size: float, window: float) -> int:
    """How many windows [mm] cover a size [mm] when neighbours share ``OVERLAP``."""
    if size <= window:
        return 1
    return math.ceil((size - OVERLAP) / (window - OVERLAP) - 1e-9)


def sheets_needed(pieces: Sequence[Piece], frame: Frame) -> int:
    """How many sheets the pieces take."""
    count = 0
    for group in _groups(pieces, frame):
        if isinstance(group, Piece):
            across, up = _tiling(group.block, frame)
            count += across * up
        else:
            count += 1
    return count


def first_share(pieces: Sequence[Piece], frame: Frame) -> int:
    """How many pieces stand on the first sheet."""
    first = next(iter(_groups(pieces, frame)), [])
    return 1 if isinstance(first, Piece) else len(first)


def lay_out(pieces: Sequence[Piece], frame: Frame) -> list[Drawing]:
    """The pieces on framed, numbered sheets."""
    sheets: list[_Sheet] = []
    for group in _groups(pieces, frame):
        if isinstance(group, Piece):
            sheets += _tiled(group, frame, len(sheets) + 1)
        else:
            sheets.append(_shared(group, frame))
    return [
        Drawing(
            frame.width,
            frame.height,
            (*frame_marks(frame, sheet.what, number, len(sheets)), *sheet.marks),
            frame.title,
        )
        for number, sheet in enumerate(sheets, 1)
    ]


_Spot = tuple[Piece, float, float]


def _groups(pieces: Sequence[Piece], frame: Frame) -> list[Piece | list[_Spot]]:
    """Pieces too large for a sheet alone; the others together, row by row, with their places."""
    found: list[Piece | list[_Spot]] = []
    spots: list[_Spot] = []
    across = down = row = 0.0
    for piece in pieces:
        block = piece.block
        if block.width > frame.inner_width or block.height > frame.inner_height:
            if spots:
                found.append(spots)
            found.append(piece)
            spots, across, down, row = [], 0.0, 0.0, 0.0
            continue
        if across + block.width > frame.inner_width:
            across, down, row = 0.0, down + row + GAP, 0.0
        if down + block.height > frame.inner_height:
            found.append(spots)
            spots, across, down, row = [], 0.0, 0.0, 0.0
        spots.append((piece, across, down))
        across += block.width + GAP
        row = max(row, block.height)
    if spots:
        found.append(spots)
    return found


def _shared(spots: Sequence[_Spot], frame: Frame) -> _Sheet:
    top = frame.bottom + frame.inner_height
    ends: dict[float, float] = {}
    for piece, across, down in spots:
        ends[down] = max(ends.get(down, 0.0), across + piece.block.width)
    marks: list[Mark] = []
    for piece, across, down in spots:
        spare = (frame.inner_width - ends[down]) / 2.0
        marks += piece.block.at(frame.left + spare + across, top - down)
    names = ", ".join(dict.fromkeys(piece.name for piece, _, _ in spots))
    return _Sheet(names, tuple(marks))


def _tiling(block: Block, frame: Frame) -> tuple[int, int]:
    across = tiles_needed(block.width, frame.inner_width)
    high = block.height + (JOIN_BAND if across > 1 else 0.0)
    return across, tiles_needed(high, frame.inner_height)


def _tiled(piece: Piece, frame: Frame, first: int) -> list[_Sheet]:
    """One piece over several sheets, row by row from the top, each row from the left."""
    across, up = _tiling(piece.block, frame)
    step_x, step_y = frame.inner_width - OVERLAP, frame.inner_height - OVERLAP
    whole_x = frame.inner_width + (across - 1) * step_x
    whole_y = frame.inner_height + (up - 1) * step_y
    # as a drawing lies on a sheet: from the upper left, alone in a row in its middle
    left = (whole_x - piece.block.width) / 2.0 if across == 1 else 0.0
    content = piece.block.at(left, 0.0)
    content += _joins(frame, (across, up), (whole_x, whole_y), first)
    block = Block(tuple(content), whole_x, whole_y)
    sheets = []
    for row in range(up):
        for column in range(across):
            corner = (frame.left, frame.bottom)
            shown = block.at(
                frame.left - column * step_x,
                frame.bottom + frame.inner_height + row * step_y,
            )
            seen = _touching(shown, (*corner, frame.inner_width, frame.inner_height))
            window = Window(corner, frame.inner_width, frame.inner_height, tuple(seen))
            number = row * across + column + 1
            what = f"{piece.name}: part {number} of {across * up}"
            if across > 1 and up > 1:
                what += f" (row {row + 1} from the top, place {column + 1})"
            sheets.append(_Sheet(what, (window,)))
    return sheets


def _touching(marks: Sequence[Mark], window: tuple[float, float, float, float]) -> list[Mark]:
    """The marks that a window shows at least a part of."""
    left, bottom, width, height = window
    found = []
    for mark in marks:
        low_x, low_y, high_x, high_y = reach_of([mark])
        beside = high_x < left or low_x > left + width
        if not (beside or high_y < bottom or low_y > bottom + height):
            found.append(mark)
    return found


def _joins(
    frame: Frame, counts: tuple[int, int], whole: tuple[float, float], first: int
) -> list[Mark]:
    """Join lines in the middle of the shared strips, with crosses and sheet numbers.

    They belong to the content, so that both neighbours show the very same marks.
    """
    across, up = counts
    width, height = whole
    step_x, step_y = frame.inner_width - OVERLAP, frame.inner_height - OVERLAP
    plumb = [(k + 1) * step_x + OVERLAP / 2.0 for k in range(across - 1)]
    level = [-(k + 1) * step_y - OVERLAP / 2.0 for k in range(up - 1)]
    marks: list[Mark] = [line((x, 0.0), (x, -height), pen=JOIN_PEN) for x in plumb]
    marks += [line((0.0, y), (width, y), pen=JOIN_PEN) for y in level]
    for column, x in enumerate(plumb):
        for row in range(up):
            upper = -row * step_y
            lower = upper - frame.inner_height
            numbers = (first + row * across + column, first + row * across + column + 1)
            marks += _cross((x, upper - 4.0)) + _cross((x, lower + 4.0))
            for sign, number in ((-1.0, numbers[0]), (1.0, numbers[1])):
                at = (x + sign * 1.0, lower + 1.4)
                marks.append(words(at, f"{number}", SMALL, INK, "end" if sign < 0 else "start"))
    for row, y in enumerate(level):
        for column in range(across):
            begin = column * step_x
            numbers = (first + row * across + column, first + (row + 1) * across + column)
            marks += _cross((begin + 4.0, y)) + _cross((begin + frame.inner_width - 4.0, y))
            marks.append(words((begin + 7.0, y + 1.0), f"{numbers[0]}", SMALL, INK))
            marks.append(words((begin + 7.0, y - 2.8), f"{numbers[1]}", SMALL, INK))
    return marks


def _cross(at: tuple[float, float]) -> list[Mark]:
    x, y = at
    pen = Pen(INK, 0.2)
    return [
        line((x - 2.5, y), (x + 2.5, y), pen=pen),
        line((x, y - 2.5), (x, y + 2.5), pen=pen),
    ]

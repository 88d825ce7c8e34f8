"""The full-size section of a stack as a PDF."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from profilestack.cutting.caution import Caution
from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.drawing.axes import axes_near
from profilestack.drawing.blocks import caution_rows, flowed, heading, pass_rows
from profilestack.drawing.drawing import Drawing
from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.template.frame import Frame, frame_of
from profilestack.drawing.template.installed import installed_view, sprung_column
from profilestack.drawing.template.layout import Piece, first_share, lay_out, sheets_needed
from profilestack.drawing.template.options import PAPERS, TemplateOptions
from profilestack.drawing.template.reverse import reverse_of
from profilestack.drawing.template.views import reverse_view, section_view
from profilestack.drawing.wording import UNIT_WORDS, blank_text, run_text, title_of
from profilestack.errors import InputError, Problem

MOST_SHEETS = 60
"""More sheets than this are a mistake in the numbers, or want larger paper."""

WORDS_WIDTH = 112.0
"""Width of the tables of words [mm]."""


def template_bytes(
    cut: Cut,
    comparison: Comparison | None,
    cautions: Sequence[Caution],
    options: TemplateOptions | None = None,
) -> bytes:
    """The full-size section as a PDF, the same bytes every time.

    Raises:
        InputError: it would need more than ``MOST_SHEETS`` sheets; a larger paper is named.
    """
    sheets = template_sheets(cut, comparison, cautions, options or TemplateOptions())
    return pages_bytes(sheets, title_of(cut.stack))


def template_sheets(
    cut: Cut,
    comparison: Comparison | None,
    cautions: Sequence[Caution],
    options: TemplateOptions,
) -> list[Drawing]:
    """The sheets of the full-size section.

    Raises:
        InputError: as for :func:`template_bytes`.
    """
    views = _views(cut, comparison, options)
    best: tuple[tuple[int, int], Frame, list[Piece]] | None = None
    for landscape in (False, True):
        if options.orientation == ("portrait" if landscape else "landscape"):
            continue
        frame, pieces = _on_paper(cut, cautions, options, views, landscape)
        # of as many sheets, rather the ones whose first shows more
        rank = (sheets_needed(pieces, frame), -first_share(pieces, frame))
        if best is None or rank < best[0]:
            best = (rank, frame, pieces)
    assert best is not None  # one of the two orientations is always tried
    (count, _), frame, pieces = best
    if count > MOST_SHEETS:
        raise InputError(_too_many(cut, cautions, options, views, count))
    return lay_out(pieces, frame)


def _views(cut: Cut, comparison: Comparison | None, options: TemplateOptions) -> list[Piece]:
    axes = axes_near(cut)
    views = [
        Piece("left end", section_view(cut, comparison, axes, options, "left")),
        Piece("right end", section_view(cut, comparison, axes, options, "right")),
    ]
    column = sprung_column(cut)
    if column is not None and comparison is not None:
        views.append(Piece("as installed", installed_view(cut, comparison, column, options)))
    if options.reverse:
        reverse = reverse_of(cut, comparison, options.clearance)
        if reverse.region.is_empty:
            raise InputError(
                Problem("reverse", "nothing is left of it", "a profile with room above it")
            )
        views.append(Piece("reverse", reverse_view(reverse, comparison, options)))
    return views


def _on_paper(
    cut: Cut,
    cautions: Sequence[Caution],
    options: TemplateOptions,
    views: Sequence[Piece],
    landscape: bool,
) -> tuple[Frame, list[Piece]]:
    """The frame of a paper, and the views with the tables of words that fit it."""
    stack, units = cut.stack, options.units
    about = f"Full-size section · {blank_text(stack.blank, units)} · {run_text(stack.run, units)}"
    about += f" · {UNIT_WORDS[units]}"
    frame = frame_of(options, landscape, title_of(stack), about, cautions)
    pieces = list(views)
    for name, rows, head in (
        ("passes", pass_rows(cut, WORDS_WIDTH, units), "Passes, in this order"),
        ("cautions", caution_rows(cautions, WORDS_WIDTH, units), "Mind before cutting"),
    ):
        if rows:
            columns = flowed(heading(head, WORDS_WIDTH), rows, frame.inner_height)
            pieces += [Piece(name, column) for column in columns]
    return frame, pieces


def _too_many(
    cut: Cut,
    cautions: Sequence[Caution],
    options: TemplateOptions,
    views: Sequence[Piece],
    count: int,
) -> Problem:
    text = f"the full-size section would take {count} sheets of {options.paper}"
    expected = f"at most {MOST_SHEETS} sheets"
    for paper in ("A3", "Tabloid"):
        larger = replace(options, paper=paper, orientation="auto")
        fewest = min(
            sheets_needed(pieces, frame)
            for landscape in (False, True)
            for frame, pieces in [_on_paper(cut, cautions, larger, views, landscape)]
        )
        if fewest <= MOST_SHEETS:
            return Problem("paper", text, expected, f"{paper} takes {fewest}")
    largest = max(PAPERS, key=lambda paper: PAPERS[paper][0] * PAPERS[paper][1])
    hint = f"even {largest} takes more; is the blank's size right? a picture or a DXF has no sheets"
    return Problem("paper", text, expected, hint)

"""The report of a stack as pages: picture and verdict first, then steps, minutes and cautions."""

from __future__ import annotations

from collections.abc import Sequence

from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut
from profilestack.drawing.blocks import Block, caution_rows, heading, paragraph
from profilestack.drawing.drawing import Drawing, Mark, line, moved, words
from profilestack.drawing.fonts import fitted, text_width
from profilestack.drawing.growing import grown
from profilestack.drawing.palette import BODY, FRAME_PEN, QUIET_INK, SMALL
from profilestack.drawing.report.steps_table import step_rows
from profilestack.drawing.safety import USUAL_CAUTIONS
from profilestack.drawing.section_picture import section_picture
from profilestack.drawing.template.options import PAPERS
from profilestack.drawing.wording import blank_text, run_text, title_of
from profilestack.planning.plan import Plan

MARGIN = 10.0
HEADER = 13.0
FOOTER = 9.0
GAP = 4.0
"""Of a page [mm]: its edge, the room of title and of the usual cautions, the gap above a heading
of words."""

SHOP = (
    "Speeds, feeds and minutes rest on the shop's figures: common practice, from memory, unless "
    "its file says otherwise; assumptions to be edited. Measure your bits, make a test cut in "
    "scrap, well held."
)


def report_pages(
    cut: Cut, comparison: Comparison | None, plan: Plan, units: str, paper: str = "A4"
) -> list[Drawing]:
    """The pages of the report, lying: ``cut`` is of the planned stack, words in ``units``."""
    height, width = PAPERS[paper]
    inner, room = width - 2.0 * MARGIN, height - 2.0 * MARGIN - HEADER - FOOTER
    bodies = [_picture(cut, comparison, plan, units, inner, room + HEADER)]
    bodies += [tuple(marks) for marks in _tables(plan, units, inner, room)]
    about = f"{blank_text(plan.stack.blank, units)} · {run_text(plan.stack.run, units)}"
    pages = []
    for number, body in enumerate(bodies, 1):
        told = f"page {number} of {len(bodies)}"
        marks = [*_footer(inner, told)]
        if number > 1:  # the picture has a head of its own
            marks += _head(title_of(plan.stack), about, inner, height - 2.0 * MARGIN)
        pages.append(
            Drawing(width, height, tuple(moved([*marks, *body], MARGIN, MARGIN)), "report")
        )
    return pages


def _picture(
    cut: Cut, comparison: Comparison | None, plan: Plan, units: str, width: float, height: float
) -> tuple[Mark, ...]:
    """The picture as large as the page takes it, its upper edge at the page's."""
    drawing = section_picture(cut, comparison, plan.cautions, units)
    factor = min(width / drawing.width, height / drawing.height)
    left = (width - factor * drawing.width) / 2.0
    bottom = FOOTER + height - factor * drawing.height
    return tuple(moved(grown(drawing.marks, factor), left, bottom))


def _tables(plan: Plan, units: str, width: float, height: float) -> list[list[Mark]]:
    """Steps, then minutes and cautions, in as many pages as they need."""
    head, rows = step_rows(plan, units, width)
    apart = Block((), width, GAP)
    rest = [
        apart,
        heading("Minutes", width),
        *(paragraph(text, width) for text in _minutes_words(plan)),
        paragraph(SHOP, width, SMALL, QUIET_INK),
    ]
    cautions = caution_rows(plan.cautions, width, units)
    rest += [apart, heading("Mind before cutting", width), *cautions] if cautions else []
    top = FOOTER + height
    pages: list[list[Mark]] = []
    down = height + 1.0
    for block, headed in [*((row, True) for row in rows), *((row, False) for row in rest)]:
        if down + block.height > height:
            pages.append([])
            down = 0.0
            if headed:
                pages[-1] += head.at(0.0, top)
                down = head.height
        pages[-1] += block.at(0.0, top - down)
        down += block.height
    return pages


def _minutes_words(plan: Plan) -> list[str]:
    minutes, pieces = plan.minutes, plan.document.run.pieces
    of = "1 piece" if pieces == 1 else f"all {pieces} pieces"
    told = [
        f"{minutes.total:.0f} minutes for {of}: bits {minutes.changes:.0f}, setups and test pieces "
        f"{minutes.setups:.0f}, cutting {minutes.cutting:.0f}, sanding {minutes.sanding:.0f}."
    ]
    if plan.through == "each bit":
        told.append("Take each bit through all pieces before the next.")
    elif plan.through == "each piece":
        told.append("Cut each piece with all bits before the next.")
    return told


def _head(title: str, about: str, width: float, top: float) -> list[Mark]:
    shown = fitted(title, 11.0, width, bold=True)
    return [
        words((0.0, top - 3.6), shown, 11.0, bold=True),
        words((0.0, top - 8.6), fitted(about, BODY, width), BODY, QUIET_INK),
        line((0.0, top - 10.8), (width, top - 10.8), pen=FRAME_PEN),
    ]


def _footer(width: float, told: str) -> Sequence[Mark]:
    room = width - text_width(told, BODY) - 8.0
    safety: Block = paragraph(" ".join(USUAL_CAUTIONS), room, SMALL, QUIET_INK, most=2)
    return [
        *safety.at(0.0, safety.height),
        words((width, 0.6), told, BODY, QUIET_INK, "end"),
    ]

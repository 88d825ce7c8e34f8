"""The pages of a run sheet."""

from __future__ import annotations

from collections.abc import Sequence

from profilestack.drawing.blocks import Block, paragraph, stacked
from profilestack.drawing.drawing import Drawing, Mark, box, line, words
from profilestack.drawing.fonts import fitted, line_height, text_width
from profilestack.drawing.palette import INK, LEFTOVER, QUIET_INK, WHITE, Look, Pen
from profilestack.drawing.safety import USUAL_CAUTIONS
from profilestack.drawing.sheet.along import along_block
from profilestack.drawing.sheet.lying import lying_block
from profilestack.drawing.sheet.numbers import BIG, NAME, SPARES, TINY, TITLE, WORD, machine_number
from profilestack.drawing.sheet.stays import Lying, no_clamp_zones, stays_of
from profilestack.drawing.sheet.visits import visit_blocks, visits_of
from profilestack.drawing.template.options import PAPERS
from profilestack.drawing.wording import number_text, setup_text, title_of
from profilestack.planning.check_dimensions import CheckDimension
from profilestack.planning.plan import Plan
from profilestack.planning.shop import USUAL_SHOPS
from profilestack.stack import CurvedRun, Rectangle, Round, StraightRun, TurnedRun
from profilestack.units import format_length

MARGIN = 9.0
UNIT_WORDS = {"mm": "mm", "in": "inches"}
MOST_STANDING = 3
"""So many cautions stand on top of a sheet."""

PICTURE = 47.5
LARGEST_PICTURE = 105.0
TWO_PAGES_PICTURE = 82.0
"""Height of the picture of how the blank lies [mm]: it grows where the page has room."""


EXTRA = "--extra"
"""What machine code is told the spare ends by."""


def run_sheets(
    plan: Plan, checks: Sequence[CheckDimension], units: str, paper: str = "A4", extra: str = EXTRA
) -> list[Drawing]:
    """The sheets of a plan, one setup a page; a long one goes on on a second page.

    ``extra`` is what the reader of the sheets knows the command line's ``--extra`` by.
    """
    width, height = PAPERS[paper]
    stays = stays_of(plan)
    shares = [_checks_of(stay, checks, stays) for stay in stays]
    contents = [
        _pages_of(stay, share, width - 2 * MARGIN, height - 2 * MARGIN, units)
        for stay, share in zip(stays, shares, strict=True)
    ]
    count = sum(len(pages) for pages in contents)
    drawings, number = [], 0
    for place, (stay, pages) in enumerate(zip(stays, contents, strict=True), 1):
        for page in pages:
            number += 1
            told = f"setup {place} of {len(stays)} · sheet {number} of {count}"
            marks = _head(stay, told, width, height, _blank(stay, units, extra), units)
            marks += page.at(MARGIN, height - MARGIN - HEAD)
            marks += _foot(width)
            drawings.append(Drawing(width, height, tuple(marks), title_of(plan.document)))
    return drawings


HEAD = 24.5
"""Height of what stands on top of every sheet [mm]."""

FOOT = 7.5
"""Height of the usual cautions below [mm]."""


def _checks_of(
    stay: Lying, checks: Sequence[CheckDimension], stays: Sequence[Lying]
) -> list[CheckDimension]:
    """The check dimensions that are finished in this stay: the last of their passes is cut."""
    last: dict[int, int] = {}
    for place, each in enumerate(stays):
        for step in each.steps:
            if step.document_pass is not None:
                last[step.document_pass] = place
    here = next(place for place, each in enumerate(stays) if each is stay)
    return [
        check for check in checks
        if max((last.get(number, 0) for number in check.passes), default=0) == here
    ]  # fmt: skip


def _head(
    stay: Lying, told: str, width: float, height: float, blank: str, units: str
) -> list[Mark]:
    """Job, how many and how long, wood; the finished blank; the setup."""
    plan = stay.plan
    stack, left, right, top = plan.document, MARGIN, width - MARGIN, height - MARGIN
    room = right - left - text_width(told, WORD, bold=True) - 4.0
    marks: list[Mark] = [
        words((left, top - 4.2), fitted(title_of(stack), TITLE, room, bold=True), TITLE, bold=True),
        words((right, top - 4.2), told, WORD, anchor="end", bold=True),
    ]
    pieces = stack.run.pieces
    said = f"{pieces} piece{'s' if pieces != 1 else ''}"
    if isinstance(stack.run, StraightRun):
        said += f" × {format_length(stack.run.length, units)} long"
    elif isinstance(stack.run, CurvedRun):
        said += f", radius {format_length(stack.run.radius, units)} over {stack.run.angle:g}°"
    said += f" · {plan.species.word}"
    marks.append(words((left, top - 11.6), said, BIG - 3.0, bold=True))
    size = max(TINY, min(NAME, NAME * (right - left) / text_width(blank, NAME)))
    marks.append(words((left, top - 16.6), fitted(blank, size, right - left), size))
    lies = f"Setup: {_how_it_lies(stay)}"
    marks.append(words((left, top - 21.6), fitted(lies, NAME + 1.5, room, bold=True), NAME + 1.5,
                       bold=True))  # fmt: skip
    way = {"each bit": "each bit through all pieces, then the next",
           "each piece": "all bits on each piece, then the next piece"}  # fmt: skip
    told = way.get(plan.through, "")
    marks.append(words((right, top - 11.6), told, WORD, INK, "end"))
    marks.append(words((right, top - 21.6), plan.shop.machine.called, WORD, QUIET_INK, "end"))
    marks.append(line((left, top - HEAD + 1.0), (right, top - HEAD + 1.0), pen=Pen(INK, 0.3)))
    return marks


def _how_it_lies(stay: Lying) -> str:
    """The setup, and which side lies where."""
    setup = stay.plan.stack.setup(stay.steps[0].setup)
    if stay.below:  # the side that would lie up under a spindle lies on the table
        down = {0.0: "face down", 180.0: "face up"}.get(setup.angle % 360.0, "this side down")
        return f"{setup.name}; {down} on the table"
    if setup.copies > 1:
        first = f"first turned by {setup.angle:g}°, " if setup.angle else ""
        return f"{setup.name}; {first}{setup.copies} times round"
    turn = (setup.angle + 180.0) % 360.0 - 180.0
    if turn % 90.0:
        way = "counter-clockwise" if turn > 0.0 else "clockwise"
        return f"{setup.name}, tipped by {abs(turn):g}° {way}"
    lies = setup_text(stay.plan.stack, setup.name)
    return f"{lies}; the left end stays left" if abs(turn) == 180.0 and not stay.turned else lies


def _blank(stay: Lying, units: str, extra: str) -> str:
    plan = stay.plan
    stock = plan.document.blank.stock
    if isinstance(stock, Rectangle) and isinstance(plan.document.run, TurnedRun):
        round_size = number_text(2.0 * stock.thickness, units)
        return f"Turned blank: {round_size} across × {format_length(stock.width, units)} long"
    if isinstance(stock, Rectangle):
        size = f"{number_text(stock.width, units)} × {number_text(stock.thickness, units)}"
    elif isinstance(stock, Round):
        size = f"round {number_text(stock.diameter, units)}"
    else:
        size = "shaped as drawn"
    spare = [format_length(each, units) for each in SPARES[units]]
    text = f"Finished blank, planed: {size} {units}; {spare[0]} to {spare[1]} extra at each end"
    return text if stay.below else f"{text} (machine code: {extra})"


def _pages_of(
    stay: Lying, checks: list[CheckDimension], width: float, height: float, units: str
) -> list[Block]:
    """The pages of one stay: standing cautions, pictures, bits and passes, checks, minutes."""
    room = height - HEAD - FOOT
    parts = [part for visit in visits_of(stay) for part in visit_blocks(visit, width, units)]
    parts.append(_check_block(stay, checks, width, units))
    parts.append(_minutes(stay, width))
    top = [*_standing(stay, width, units), along_block(stay, width, units)]
    spare = room - sum(block.height for block in (*parts, *top)) - 0.1
    least = PICTURE if not stay.below else PICTURE + 6.0
    # what takes a second page anyway need not be small on the first
    high = min(spare, LARGEST_PICTURE) if spare >= least else TWO_PAGES_PICTURE
    top.insert(len(top) - 1, _lies(stay, checks, width, high, units))
    pages: list[list[Block]] = [top]
    used = sum(block.height for block in top)
    for part in parts:
        if used + part.height > room:
            pages.append([])
            used = 0.0
        pages[-1].append(part)
        used += part.height
    return [stacked(blocks) for blocks in pages]


def _standing(stay: Lying, width: float, units: str) -> list[Block]:
    """At most three lines of what is to be minded all the time."""
    plan = stay.plan
    own = {step.pass_number for step in stay.steps}
    general = [c for c in plan.cautions if c.number is None]
    grave = [c for c in plan.cautions if c.severity == "stop" and c.number in own]
    found = [*grave, *(c for c in general if c.severity != "note")]
    found += [c for c in general if c.severity == "note"]
    shown = found[:MOST_STANDING]
    blocks = []
    for caution in shown:
        word = {"stop": "STOP", "warn": "MIND", "note": "NOTE"}[caution.severity]
        about = f" pass {caution.number}:" if caution.number else ""
        text = f"{word}:{about} {caution.say(units)}"
        color = LEFTOVER if caution.severity == "stop" else INK
        bold = caution.severity != "note"
        blocks.append(paragraph(text, width, WORD, color, bold=bold, most=2))
    return blocks


def _lies(
    stay: Lying, checks: Sequence[CheckDimension], width: float, high: float, units: str
) -> Block:
    """The picture, and beside it what it cannot show."""
    aside = 52.0
    picture = lying_block(stay, checks, width - aside, high, units)
    zones = [
        f"{number_text(low, units)} to {number_text(high, units)}"
        for low, high in no_clamp_zones(stay)
    ]
    if stay.below:
        told = [
            "Seen from the left end. The side to be cut lies on the table; the fence is at the "
            f"edge from which offsets run. Lengths in {UNIT_WORDS[units]}.",
            "Zero: table and fence. Heights are of the tip above the table.",
            f"Hands, push blocks and hold-downs stay off {' and '.join(zones)} from the fence.",
        ]
    elif stay.turned:
        told = [
            "Seen from the side; half the section, the bit above. Offsets run along the part from "
            f"its left end. Lengths in {UNIT_WORDS[units]}.",
            "Zero: left end and axis of turning. Set either the depth below the surface or the "
            "radius, not both.",
        ]
    else:
        told = [
            f"Seen from the left end; the spindle is above. Lengths in {UNIT_WORDS[units]}.",
            "Zero: Z on the bed, across on the fence edge. Set either the depth below the face or "
            "the height above the bed, not both.",
            f"Clamps stay off {' and '.join(zones)} from the fence edge, and off both ends of the "
            "run.",
        ]
    if checks:
        told.append("Boxed numbers: check dimensions, below.")
    side = stacked([paragraph(text, aside - 4.0, WORD, INK) for text in told], 1.4)
    marks = [*picture.marks, *side.at(width - aside + 4.0, -2.0)]
    return Block(tuple(marks), width, max(high, side.height + 2.0))


def _check_block(stay: Lying, checks: Sequence[CheckDimension], width: float, units: str) -> Block:
    """Check dimensions with boxes for what is measured."""
    if not checks:
        return Block((), width, 0.0)
    columns = 4
    room = width / columns
    told = (
        "Check on the test piece: radius at a place along, or along from the left end at a radius"
        if stay.turned
        else "Check on the test piece (as drawn, face up): height above the bed at a place across, "
        "or across from the left side at a height"
    )
    marks: list[Mark] = [
        line((0.0, -0.6), (width, -0.6), pen=Pen(INK, 0.3)),
        words((0.0, -4.2), fitted(told, WORD - 0.5, width, bold=True), WORD - 0.5, bold=True),
    ]
    for k, check in enumerate(checks):
        row, column = divmod(k, columns)
        x, y = column * room, -6.2 - row * 7.2
        at = number_text(check.place, units)
        word = "radius" if stay.turned else "height"
        other = "along" if stay.turned else "across"
        what = f"{word} at {at}" if check.kind == "height" else f"{other} at {at}"
        text = str(check.number)
        wide = text_width(text, WORD, bold=True) + 1.6
        marks += box(x, y - 4.6, wide, 3.8, Look(WHITE, (), Pen(INK, 0.25)))
        marks.append(
            words((x + wide / 2.0, y - 2.7), text, WORD, anchor="middle", bold=True, centered=True)
        )
        nominal = f"{machine_number(round(check.nominal, 3), units)}"
        marks.append(words((x + wide + 1.2, y - 2.4), what, TINY, QUIET_INK))
        marks.append(words((x + wide + 1.2, y - 6.2), nominal, NAME + 1.0, bold=True))
        marks += box(x + room - 20.0, y - 6.4, 17.0, 5.6, Look(WHITE, (), Pen(INK, 0.3)))
    rows = -(-len(checks) // columns)
    return Block(tuple(marks), width, 6.6 + rows * 7.2)


def _minutes(stay: Lying, width: float) -> Block:
    plan, pieces = stay.plan, stay.plan.document.run.pieces
    cutting = sum(step.minutes for step in stay.steps)
    each = f" ({cutting / pieces:.1f} a piece)" if pieces > 1 else ""
    minutes = plan.minutes
    figures = "usual figures" if plan.shop in USUAL_SHOPS.values() else "the shop's figures"
    text = (
        f"Cutting here {cutting:.0f} min{each}. Whole job {minutes.total:.0f} min: bits "
        f"{minutes.changes:.0f}, setups and tests {minutes.setups:.0f}, cutting "
        f"{minutes.cutting:.0f}, sanding {minutes.sanding:.0f}; from {figures}."
    )
    block = paragraph(text, width, WORD)
    rule = line((0.0, -0.4), (width, -0.4), pen=Pen(INK, 0.3))
    return Block((rule, *block.at(0.0, -1.2)), width, block.height + 1.6)


def _foot(width: float) -> list[Mark]:
    """The usual cautions."""
    block = paragraph(" ".join(USUAL_CAUTIONS), width - 2 * MARGIN, TINY - 0.4, QUIET_INK, most=2)
    return block.at(MARGIN, MARGIN + max(block.height, 2.0 * line_height(TINY - 0.4)))

"""The answer of ``find`` as a person reads it, in 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from profilestack.finding.options import WORDS, Option
from profilestack.jobs.find import FindResult
from profilestack.jobs.find_words import (
    best_at,
    fine_length,
    no_way,
    proof,
    stretch_place,
    stretch_stays,
)
from profilestack.reports.layout import columns, fixed, paragraph, shortened
from profilestack.reports.text_adapt import adaptation_lines
from profilestack.reports.text_report import SEVERITY_WORDS
from profilestack.units import to_units


def find_text(result: FindResult, units: str) -> str:
    """The result as text; ``units`` are "mm" or "in"."""
    lines = [ways_text(result, units)]
    if result.stopped:
        lines += ["", "Stopped early: the best so far."]
    if result.adaptation is not None:
        lines += ["", *adaptation_lines(result.adaptation, units)]
    if result.options:
        for number, option in enumerate(result.options, 1):
            lines += ["", *_option(number, option, units)]
    lines += _stays(result, units)
    lines += ["", *paragraph(_SURENESS)]
    return "\n".join(lines)


def ways_text(result: FindResult, units: str) -> str:
    """What was asked, and the ways to cut it in a table."""
    request = result.request
    pieces = request.stack.run.pieces
    lines = [*paragraph(request.stack.title or "Untitled stack")]
    lines += paragraph(
        f"{len(request.bits)} bit{'s' if len(request.bits) != 1 else ''} offered; leftover "
        f"{fine_length(request.leftover, units)}, overcut "
        f"{fine_length(request.overcut, units)} allowed; "
        f"{pieces} piece{'s' if pieces != 1 else ''}."
    )
    lines.append("")
    if not result.options:
        lines += paragraph(no_way(result))
    else:
        lines += _table(result, units)
    return "\n".join(lines)


_SURENESS = (
    "Minutes come from usual shop figures, from memory: compare ways by them, promise nothing. "
    "Every way was cut and compared at nominal sizes; make a test cut in scrap. The marks on your "
    "bits, your machine's manual, local rules and a qualified operator come first."
)

_WAY_WIDTHS = (-3, -5, -7, -6, -8, -9, -8, 0, 25)


def _table(result: FindResult, units: str) -> Iterator[str]:
    yield from columns(
        (
            ("", "", "", "rough", "", "leftover", "overcut", "", ""),
            ("way", "bits", "passes", "out", "minutes", units, units, "", "best at"),
        ),
        _WAY_WIDTHS,
    )
    fine = 3 if units == "mm" else 4
    for number, option in enumerate(result.options, 1):
        assembled = option.assembled
        first, *more = textwrap.wrap(best_at(option), _WAY_WIDTHS[-1])
        row = (
            str(number),
            str(len(assembled.bit_ids)),
            str(assembled.finishing),
            str(len(assembled.stack.passes) - assembled.finishing),
            fixed(assembled.minutes.total, 0),
            fixed(to_units(assembled.comparison.leftover_worst, units), fine),
            fixed(to_units(assembled.comparison.overcut_worst, units), fine),
            "",
            first,
        )
        rest = [("",) * 8 + (words,) for words in more]
        yield from columns([row, *rest], _WAY_WIDTHS)


def _option(number: int, option: Option, units: str) -> Iterator[str]:
    yield from paragraph(f"Way {number}: {WORDS[option.objective]}; {proof(option, units)}")
    rows = [
        (
            "",
            str(place),
            shortened(single.bit, 28),
            shortened(single.setup, 10),
            fixed(to_units(single.offset, units), 2 if units == "mm" else 3),
            fixed(to_units(single.depth, units), 2 if units == "mm" else 3),
            "rough out" if single.relief else "",
        )
        for place, single in enumerate(option.assembled.stack.passes, 1)
    ]
    heads = (
        ("", "", "", "", "edge to", "below", ""),
        ("", "pass", "bit", "setup", f"centre {units}", f"face {units}", ""),
    )
    wide = [max(len(row[place]) for row in (*heads, *rows)) for place in range(7)]
    widths = (1, -4, max(wide[2], 18), wide[3], -max(wide[4], 10), -max(wide[5], 8), wide[6])
    yield from columns((*heads, *rows), widths)
    for caution in option.assembled.cautions:
        if caution.severity == "note":
            continue
        place = f"pass {caution.number}: " if caution.number else ""
        lead = f"  {SEVERITY_WORDS[caution.severity]}  "
        yield from paragraph(place + caution.say(units), lead)


def _stays(result: FindResult, units: str) -> Iterator[str]:
    if result.unreached:
        yield ""
        yield "No bit reaches"
        for stretch in result.unreached:
            text = f"{stretch_place(stretch, units)}: {stretch_stays(stretch, units)}"
            yield from paragraph(text, "  ", indent=4)
    if result.buy:
        yield "What would help"
        for each in result.buy:
            yield from paragraph(f"{each.bit.id}: {each.gain}", "  ", indent=4)

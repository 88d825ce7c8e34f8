"""What a measured test cut tells, in the words of a form and of a list."""

from __future__ import annotations

from collections.abc import Iterator

from profilestack.jobs.measure import Measured
from profilestack.planning.check_dimensions import CheckDimension
from profilestack.reports.layout import joined
from profilestack.reports.text_measure import (
    fixed_length,
    mixed_lines,
    off_text,
    other_lines,
    rest_lines,
    summary_lines,
)
from profilestack.session.page_row import PageRow
from profilestack.session.plan_words import unwrapped

LABEL = "Take settings from a test cut"

COLUMNS = (("", ""), ("off by", ""), ("set to", ""))

TABLE_ABOUT = (
    "Off by: + is to the right, and deeper. What the measurements do not tell is in brackets: "
    "there the usual errors speak."
)


def check_said(check: CheckDimension, units: str) -> str:
    """What to measure: the number on the run sheet, what, where, and what it should read."""
    height = check.kind == "height"
    what = "height above the bed" if height else "from the fence edge"
    at = f"{'x' if height else 'z'} {fixed_length(check.place, units)}"
    read = f"{fixed_length(check.nominal, units)} {units}"
    return f"{check.number}: {what} at {at} {units}, should read {read}"


def check_about(check: CheckDimension) -> str:
    """Which passes show in it."""
    numbers = [str(number) for number in check.passes]
    return f"Shows pass{'es' if len(numbers) != 1 else ''} {joined(numbers)}." if numbers else ""


def measured_summary(found: Measured, units: str) -> str:
    """How far off it was, and how well that is explained."""
    return unwrapped(summary_lines(found, units))


def measured_rows(found: Measured, units: str) -> tuple[PageRow, ...]:
    """Each pass with what it is off by and what to set, then what else was found."""
    told = (
        ("How to read it", TABLE_ABOUT),
        ("Bits and wedges", unwrapped(other_lines(found, units))),
        ("Not told apart", unwrapped(mixed_lines(found))),
        ("Next", unwrapped(rest_lines(found, units))),
    )
    return (
        *_passes(found, units),
        *(PageRow("said", head, words) for head, words in told if words),
    )


def _passes(found: Measured, units: str) -> Iterator[PageRow]:
    by_kind = {
        (each.source.kind, place): each
        for each in found.explanation.found
        for place in each.source.passes
    }
    for place, single in enumerate(found.explanation.stack.passes):
        if not single.on:
            continue
        now = found.corrected.passes[place]
        offset, depth = (by_kind[kind, place] for kind in ("offset", "depth"))
        cells = tuple(
            (words, off_text(off, units).replace("+-", "±"), f"{fixed_length(mm, units)} {units}")
            for words, off, mm in (
                ("edge to centre", offset, now.offset), ("below face", depth, now.depth),
            )
        )  # fmt: skip
        head = f"Pass {place + 1}: {single.bit}"
        yield PageRow("pass", head, cells=cells, place=place, columns=COLUMNS, names_columns=True)

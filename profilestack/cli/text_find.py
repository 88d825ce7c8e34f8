"""The answer of ``find`` as a person reads it, in 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from profilestack.cli.text_adapt import adaptation_lines
from profilestack.finding.options import WORDS, Option
from profilestack.jobs.find import FindResult
from profilestack.units import format_length, to_units

WIDTH = 80

PASSES_WORDS = {"passes": "passes", "bits": "bits", "minutes": "min"}


def find_text(result: FindResult, units: str) -> str:
    """The result as text; ``units`` are "mm" or "in"."""
    lines = [ways_text(result, units)]
    if result.adaptation is not None:
        lines += ["", *adaptation_lines(result.adaptation, units)]
    if result.options:
        for number, option in enumerate(result.options, 1):
            lines += ["", *_option(number, option, units)]
    lines += _stays(result, units)
    lines += ["", *textwrap.wrap(_SURENESS, WIDTH)]
    return "\n".join(lines)


def ways_text(result: FindResult, units: str) -> str:
    """What was asked, and the ways to cut it in a table."""
    request = result.request
    pieces = request.stack.run.pieces
    lines = [
        request.stack.title or "Untitled stack",
        f"{len(request.bits)} bits offered; leftover {_length(request.leftover, units)}, overcut "
        f"{_length(request.overcut, units)} allowed; {pieces} piece{'s' if pieces != 1 else ''}",
        "",
    ]
    if not result.options:
        lines.append("No way to cut it was found with these bits, setups and limits.")
    else:
        lines += _table(result, units)
    return "\n".join(lines)


_SURENESS = (
    "Minutes come from usual shop figures, from memory: compare ways by them, promise nothing. "
    "Every way was cut and compared at nominal sizes; make a test cut in scrap."
)


def _table(result: FindResult, units: str) -> Iterator[str]:
    yield f"{'way':>3}  {'bits':>4} {'passes':>6} {'relief':>6} {'minutes':>7} {'leftover':>9} {'overcut':>8}  best at"
    for number, option in enumerate(result.options, 1):
        assembled = option.assembled
        relief = len(assembled.stack.passes) - assembled.finishing
        names = ", ".join(WORDS[name] for name in (option.objective, *option.also))
        leftover = to_units(assembled.comparison.leftover_worst, units)
        overcut = to_units(assembled.comparison.overcut_worst, units)
        digits = 3 if units == "mm" else 4
        first, *more = textwrap.wrap(names, 28) or [""]
        yield (
            f"{number:>3}  {len(assembled.bit_ids):>4} {assembled.finishing:>6} {relief:>6} "
            f"{assembled.minutes.total:>7.0f} {leftover:>9.{digits}f} {overcut:>8.{digits}f}  {first}"
        )
        for line in more:
            yield " " * 52 + line
    yield f"{'':>3}  {'':>4} {'':>6} {'':>6} {'min':>7} {units:>9} {units:>8}"


def _option(number: int, option: Option, units: str) -> Iterator[str]:
    digits = 2 if units == "mm" else 3
    yield f"Way {number}: {WORDS[option.objective]}; {_proof(option, units)}"
    for place, single in enumerate(option.assembled.stack.passes, 1):
        rough = "rough out" if single.relief else ""
        yield (
            f"  {place:>3}  {single.bit:<26} {single.setup:<8} "
            f"{to_units(single.offset, units):>8.{digits}f} "
            f"{to_units(single.depth, units):>8.{digits}f} {units}  {rough}".rstrip()
        )
    for caution in option.assembled.cautions:
        if caution.severity == "note":
            continue
        word = {"stop": "STOP", "warn": "mind"}[caution.severity]
        place = f"pass {caution.number}: " if caution.number else ""
        yield textwrap.fill(
            place + caution.say(units), WIDTH, initial_indent=f"  {word}  ",
            subsequent_indent=" " * 8,
        )  # fmt: skip


def _proof(option: Option, units: str) -> str:
    if option.objective == "leftover":
        return f"no proof (at least {_length(option.bound, units)})" if option.bound else "no proof"
    unit = PASSES_WORDS[option.objective]
    if option.proved:
        return f"proved: nothing under {option.cost:g} {unit} on the grid used"
    return f"not proved: {option.cost:.3g} {unit}, at least {option.bound:.3g}"


def _stays(result: FindResult, units: str) -> Iterator[str]:
    if result.unreached:
        yield ""
        yield "No bit reaches"
        for stretch in result.unreached:
            begin, end = (
                f"({to_units(x, units):.2f}, {to_units(z, units):.2f})"
                for x, z in (stretch.begin, stretch.end)
            )
            place = begin if begin == end else f"{begin} to {end}"
            text = f"{place} {units}: {_length(stretch.leftover, units)} stays; {stretch.why}"
            yield textwrap.fill(text, WIDTH, initial_indent="  ", subsequent_indent="    ")
    if result.buy:
        yield "What would help"
        for each in result.buy:
            yield f"  {each.bit.id}: {each.gain}"


def _length(mm: float, units: str) -> str:
    return format_length(mm, units, 0.001 if units == "mm" else 0.0001)

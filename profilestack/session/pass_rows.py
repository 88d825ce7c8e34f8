"""The passes in cutting order as a table says them, each with what it removes and its cautions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from profilestack.bits.bit import Bit
from profilestack.bits.words import kind_of, short_size, size_text
from profilestack.cutting.caution import Caution
from profilestack.drawing.wording import setup_text
from profilestack.errors import Problem
from profilestack.jobs.cut import CutReport
from profilestack.stack import Pass, Setup, Stack
from profilestack.units import format_length, to_units

SEVERITY_WORDS = {"stop": "STOP", "warn": "mind", "note": "note"}
"""How severe a caution is, in a word; the gravest first."""

BIG_UNITS = {"mm": ("cm³", 10.0), "in": ("in³", 1.0)}
"""Units of volumes by the unit of lengths, and so many of the latter are one of its edges."""


@dataclass(frozen=True, slots=True)
class PassRow:
    """One pass: ``area`` [mm2] and ``volume`` [mm3] are None where nothing is known of them.

    ``share`` is its area beside that of the pass that removes most, 0 to 1.
    """

    number: int
    single: Pass
    setup: Setup
    bit: Bit | None
    area: float | None
    volume: float | None
    share: float
    cautions: tuple[Caution, ...]

    @property
    def severity(self) -> str:
        """The gravest of its cautions; "" where there is none."""
        found = {caution.severity for caution in self.cautions}
        return next((word for word in SEVERITY_WORDS if word in found), "")


def pass_rows(
    stack: Stack, bits: Mapping[str, Bit], report: CutReport | None
) -> tuple[PassRow, ...]:
    """A row for each pass of the stack; ``report`` is None where it cannot be cut."""
    done = {} if report is None else {single.number: single for single in report.cut.passes}
    most = max((single.removed_area for single in done.values()), default=0.0)
    cautions: dict[int, list[Caution]] = {}
    for caution in () if report is None else report.cautions:
        if caution.number is not None:
            cautions.setdefault(caution.number, []).append(caution)
    rows = []
    for number, single in enumerate(stack.passes, 1):
        cut = done.get(number)
        rows.append(
            PassRow(
                number,
                single,
                stack.setup(single.setup),
                bits.get(single.bit),
                cut.removed_area if cut else None,
                cut.removed_volume if cut else None,
                cut.removed_area / most if cut and most > 0.0 else 0.0,
                tuple(cautions.get(number, ())),
            )
        )
    return tuple(rows)


def bit_words(row: PassRow, units: str) -> tuple[str, str]:
    """The bit of a pass on two lines: its size, and its kind or that nobody knows it."""
    if row.bit is None:
        return row.single.bit, "unknown bit"
    return short_size(row.bit, units), kind_of(row.bit)


def bit_second_line(row: PassRow, units: str, lie: str = "") -> str:
    """What stands under the size: off or rough out, how the blank lies, the bit's kind."""
    standing = standing_words(row, units)
    told = ", ".join(word for word in (lie, bit_words(row, units)[1]) if word)
    return f"{standing}; {told}" if standing else told


def bit_about(row: PassRow, units: str) -> str:
    """All that a shop says of the bit, with its id."""
    if row.bit is None:
        return f"No bit is called {row.single.bit!r}."
    return f"{kind_of(row.bit)}, {size_text(row.bit, units)} ({row.bit.id})"


def standing_words(row: PassRow, units: str) -> str:
    """What else is to be known of a pass: off, rough out, repeats, its stretch of the part."""
    single = row.single
    told = [] if single.on else ["off"]
    if single.relief:
        told.append("rough out")
    if single.count > 1:
        told.append(f"{single.count} times, {format_length(abs(single.pitch), units)} apart")
    ends = (("from", single.begin), ("to", single.end))
    if said := [f"{word} {format_length(at, units)}" for word, at in ends if at is not None]:
        told.append(" ".join(said))
    return "; ".join(told)


def lie_words(row: PassRow, stack: Stack) -> str:
    """How the blank lies for the pass, as "edge, turned by 90°"."""
    return setup_text(stack, row.setup.name)


@lru_cache(maxsize=4096)
def area_number(area: float | None, units: str) -> str:
    """An area without its unit; a dash where nothing is known."""
    if area is None:
        return "–"
    digits = 1 if units == "mm" else 3
    # what rounds to nothing has no sign
    return f"{round(area * to_units(1.0, units) ** 2, digits) + 0.0:.{digits}f}"


def area_text(area: float | None, units: str) -> str:
    """An area with its unit; a dash where nothing is known."""
    number = area_number(area, units)
    return number if area is None else f"{number} {units}²"


@lru_cache(maxsize=4096)
def volume_text(volume: float | None, units: str) -> str:
    """A volume with its unit; a dash where nothing is known."""
    if volume is None:
        return "–"
    word, edge = BIG_UNITS[units]
    said = volume * (to_units(1.0, units) / edge) ** 3
    digits = 1 if said < 100.0 else 0
    return f"{round(said, digits) + 0.0:.{digits}f} {word}"


def both_lengths(mm: float) -> str:
    """A length in both units."""
    return f"{format_length(mm, 'mm')} = {format_length(mm, 'in')}"


def caution_text(caution: Caution, units: str) -> str:
    """A caution with the word for its severity and its pass: "STOP, pass 3: ..."."""
    whose = "" if caution.number is None else f", pass {caution.number}"
    return f"{SEVERITY_WORDS[caution.severity]}{whose}: {caution.say(units)}"


def cautions_in_order(report: CutReport | None) -> tuple[Caution, ...]:
    """The gravest first, then by pass; those about the whole before those of a pass."""
    grades = list(SEVERITY_WORDS)
    found = () if report is None else report.cautions
    return tuple(sorted(found, key=lambda one: (grades.index(one.severity), one.number or 0)))


def problem_text(problem: Problem) -> str:
    """A problem, its place in plain words: "Pass 3, bit: ..."."""
    where = problem.where.replace("[", " ").replace("]", "").replace(".", ", ")
    said = f"{where[:1].upper()}{where[1:]}: " if where else ""
    expected = f"; expected {problem.expected}" if problem.expected else ""
    hint = f" ({problem.hint})" if problem.hint else ""
    return f"{said}{problem.text}{expected}{hint}"


def moment_text(stack: Stack, bits: Mapping[str, Bit], moment: int | None, units: str) -> str:
    """What is seen after so many passes; None: when all are cut."""
    count = len(stack.passes)
    if moment is None or moment >= count:
        return "When all are cut" if count else "The blank; there are no passes"
    if moment == 0:
        return "The blank, before the first pass"
    single = stack.passes[moment - 1]
    bit = bits.get(single.bit)
    what = f"{kind_of(bit)} {short_size(bit, units)}" if bit else single.bit
    off = "" if single.on else " (off)"
    return f"After pass {moment} of {count}: {what}{off}"

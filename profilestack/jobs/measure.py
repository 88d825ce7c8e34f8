"""The job of explaining a measured test cut, and of writing corrected settings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path as FilePath

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.errors import InputError, Problem
from profilestack.files.check_values import has_checks, read_checks
from profilestack.files.targets import ReadingWishes
from profilestack.files.targets.isolation import read_tracing
from profilestack.geometry.path import Points
from profilestack.planning.check_dimensions import CheckDimension, check_dimensions
from profilestack.planning.explaining import TRUE_TO, Explanation, explain
from profilestack.planning.usual_errors import ON_A_CNC, UsualErrors
from profilestack.stack import Stack

TABLES = (".csv", ".txt", ".tsv")
"""Endings of files that may hold readings of check dimensions."""


@dataclass(frozen=True, slots=True)
class MeasureWishes:
    """How measurements are taken: ``true_to`` [mm] is their standard deviation.

    ``lies_anywhere``: points are not measured from the blank's lower left. ``errors`` are what is
    usually off, ``reading`` is how a file of points is read.
    """

    true_to: float = TRUE_TO
    lies_anywhere: bool = False
    errors: UsualErrors = ON_A_CNC
    reading: ReadingWishes = field(default_factory=ReadingWishes)

    def __post_init__(self) -> None:
        if not 1e-4 <= self.true_to <= 10.0:
            text = f"{self.true_to!r} mm is impossible"
            raise InputError(Problem("true_to", text, "0.0001 to 10 mm"))


@dataclass(frozen=True, slots=True, eq=False)
class Measured:
    """A test cut, explained.

    ``checks`` are the dimensions and their readings [mm], where those were measured.
    ``corrected`` is the stack with settings that undo what was found.
    """

    explanation: Explanation
    bits: Mapping[str, Bit]
    checks: tuple[tuple[CheckDimension, float], ...]
    corrected: Stack
    notes: tuple[str, ...]


def measure(
    stack: Stack, bits: Mapping[str, Bit], file: FilePath, wishes: MeasureWishes
) -> Measured:
    """Explain points or readings of check dimensions measured on a test cut.

    Raises:
        FileError: the file cannot be read.
        InputError: what is wrong with it, or points that are not of this part.
    """
    if file.suffix.lower() in TABLES and has_checks(file):
        return measure_readings(stack, bits, read_checks(file), wishes, str(file))
    points, notes = _points(file, wishes.reading)
    explained = explain(stack, bits, points, wishes.true_to, wishes.lies_anywhere, wishes.errors)
    return Measured(explained, bits, (), corrected(stack, bits, explained), notes)


def measure_readings(
    stack: Stack,
    bits: Mapping[str, Bit],
    readings: Mapping[int, float],
    wishes: MeasureWishes,
    file: str = "",
) -> Measured:
    """Explain readings [mm] of check dimensions by their numbers; ``file`` is named in messages.

    Raises:
        InputError: a number or a reading that cannot be, or too few of them.
    """
    checks = _checks(stack, bits, readings, file)
    points = np.array([check.point(reading) for check, reading in checks])
    explained = explain(stack, bits, points, wishes.true_to, False, wishes.errors)
    return Measured(explained, bits, checks, corrected(stack, bits, explained), ())


def _points(file: FilePath, wishes: ReadingWishes) -> tuple[Points, tuple[str, ...]]:
    tracing = read_tracing(file, wishes)
    points = np.concatenate([chain.flatten(0.01) for chain in tracing.chains])
    return points, tracing.notes


def _checks(
    stack: Stack, bits: Mapping[str, Bit], readings: Mapping[int, float], file: str
) -> tuple[tuple[CheckDimension, float], ...]:
    # numbered as on the run sheet, whatever is usual on this machine
    known = {check.number: check for check in check_dimensions(stack, bits)}
    found, problems = [], []
    for number, reading in readings.items():
        where = f"check {number}"
        if number not in known:
            text = "is none of this stack's check dimensions"
            problems.append(Problem(where, text, f"1 to {len(known)}", file=file))
        elif abs(reading - known[number].nominal) > 5.0:
            text = f"reads {reading:g} mm where about {known[number].nominal:.2f} is expected"
            hint = "another number, or from the other side?"
            problems.append(Problem(where, text, "the reading in mm", hint, file=file))
        else:
            found.append((known[number], reading))
    if problems:
        raise InputError(problems)
    return tuple(found)


def corrected(stack: Stack, bits: Mapping[str, Bit], explained: Explanation) -> Stack:
    """The settings that undo what was found: offsets and depths less their errors.

    Bits whose diameter the points tell are carried as measured. What the machine sets then is no
    longer what the drawing says: the offsets hold for the machine as it was measured.
    """
    passes = tuple(
        single
        if not single.on
        else replace(
            single,
            offset=round(single.offset - explained.error("offset", place), 3),
            depth=max(0.001, round(single.depth - explained.error("depth", place), 3)),
        )
        for place, single in enumerate(stack.passes)
    )
    carried = {bit.id: bit for bit in stack.bits}
    for each in explained.found:
        if each.source.kind == "diameter" and each.seen:
            bit = bits[each.source.bit]
            size = round(2.0 * largest_radius(bit) + each.error, 3)
            carried[bit.id] = replace(bit, measured=size)
    return replace(stack, passes=passes, bits=tuple(carried.values()))

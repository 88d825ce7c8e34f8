"""Files that were written: reports, and what is said of the size of what was drawn."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.saving import save_text
from profilestack.jobs.cut import CutReport
from profilestack.reports.json_report import cut_json
from profilestack.reports.text_report import cut_text
from profilestack.units import format_length

REPORTS = {".txt": "text", ".json": "JSON"}
"""What a report can be written as, by the ending of its name."""


@dataclass(frozen=True, slots=True)
class WrittenReport:
    """A report that was written: where, as what, how many lines."""

    path: Path
    kind: str
    lines: int


def report_text(report: CutReport, kind: str, units: str) -> str:
    """What ``cut`` answers, as "text" in ``units`` or as "JSON" in mm."""
    return cut_json(report) if kind == "JSON" else cut_text(report, units)


def write_report(report: CutReport, path: Path, units: str) -> WrittenReport:
    """Save the report, whole or not at all; the ending of the name says what it is written as.

    Raises:
        InputError: a name that ends in nothing known.
        FileError: it could not be saved.
    """
    kind = REPORTS.get(path.suffix.lower())
    if kind is None:
        text = f"{path.name!r} is no name for a report"
        hint = nearest_word(path.suffix.lower(), REPORTS)
        raise InputError(Problem("", text, f"a name that ends in {' or '.join(REPORTS)}", hint))
    text = report_text(report, kind, units) + "\n"
    save_text(path, text)
    return WrittenReport(path, kind, text.count("\n"))


def size_said(width: float, height: float) -> str:
    """A size [mm] in both units, as "210 mm x 297 mm, 8.268 in x 11.693 in"."""
    return ", ".join(
        f"{format_length(width, units)} x {format_length(height, units)}" for units in ("mm", "in")
    )

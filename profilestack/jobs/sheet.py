"""The job of writing the run sheet of a plan as a PDF."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from profilestack.bits.bit import Bit
from profilestack.drawing.drawing import Drawing
from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.sheet.sheet import EXTRA, run_sheets
from profilestack.drawing.template.options import PAPERS
from profilestack.drawing.wording import title_of
from profilestack.errors import InputError, Problem, nearest_word
from profilestack.files.saving import save_bytes
from profilestack.planning.check_dimensions import check_dimensions
from profilestack.planning.plan import Plan


@dataclass(frozen=True, slots=True)
class WrittenSheet:
    """A run sheet that was written: pages, paper, length in bytes."""

    path: Path
    pages: int
    paper: str
    size: int


def sheet_bytes(plan: Plan, bits: Mapping[str, Bit], units: str, paper: str) -> tuple[bytes, int]:
    """The run sheet as a PDF, the same bytes every time, and how many pages it has.

    Raises:
        InputError: a paper that nobody knows.
    """
    sheets = sheets_of(plan, bits, units, paper)
    return pages_bytes(sheets, f"{title_of(plan.document)}: run sheet"), len(sheets)


def sheets_of(
    plan: Plan, bits: Mapping[str, Bit], units: str, paper: str, extra: str = EXTRA
) -> list[Drawing]:
    """The sheets as they lie on paper.

    The check dimensions have the numbers that ``profilestack measure`` knows; ``extra`` is what
    the reader knows the command line's ``--extra`` by.

    Raises:
        InputError: a paper that nobody knows.
    """
    if paper not in PAPERS:
        hint = nearest_word(paper, PAPERS)
        problem = Problem("paper", f"{paper!r} is unknown", f"one of {', '.join(PAPERS)}", hint)
        raise InputError(problem)
    checks = check_dimensions(plan.document, bits)
    return run_sheets(plan, checks, units, paper, extra)


def write_sheet(
    plan: Plan, bits: Mapping[str, Bit], path: Path, units: str, paper: str
) -> WrittenSheet:
    """Draw the run sheet and save it, whole or not at all.

    Raises:
        InputError: a name that does not end in .pdf, or a paper that nobody knows.
        FileError: it could not be saved.
    """
    if path.suffix.lower() != ".pdf":
        text = f"{path.name!r} is no name for it"
        raise InputError(Problem("output", text, "a name that ends in .pdf"))
    data, pages = sheet_bytes(plan, bits, units, paper)
    save_bytes(path, data, keeps_former=False)
    return WrittenSheet(path, pages, paper, len(data))

"""The job of writing the full-size section of a cut stack as a PDF."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from profilestack.drawing.pages import pages_bytes
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.template import template_sheets
from profilestack.drawing.wording import title_of
from profilestack.errors import InputError, Problem
from profilestack.files.saving import save_bytes
from profilestack.jobs.cut import CutReport


@dataclass(frozen=True, slots=True)
class TemplateRequest:
    """A cut to be printed at full size: to which file, and how."""

    report: CutReport
    path: Path
    options: TemplateOptions


@dataclass(frozen=True, slots=True)
class WrittenTemplate:
    """A full-size section that was written: sheets, paper and its size [mm], length in bytes."""

    path: Path
    sheets: int
    paper: str
    width: float
    height: float
    size: int


def write_template(request: TemplateRequest) -> WrittenTemplate:
    """Draw the full-size section and save it, whole or not at all.

    Raises:
        InputError: a name that does not end in .pdf, or a section that takes too many sheets.
        FileError: it could not be saved.
    """
    path, report = request.path, request.report
    if path.suffix.lower() != ".pdf":
        text = f"{path.name!r} is no name for it"
        raise InputError(Problem("output", text, "a name that ends in .pdf"))
    sheets = template_sheets(report.cut, report.comparison, report.cautions, request.options)
    data = pages_bytes(sheets, title_of(report.stack))
    save_bytes(path, data, keeps_former=False)
    paper = request.options.paper
    return WrittenTemplate(path, len(sheets), paper, sheets[0].width, sheets[0].height, len(data))

"""The main job end to end on the shipped example."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from profilestack.drawing.template.options import TemplateOptions
from profilestack.errors import FileError, InputError, Problem
from profilestack.files.saving import check_can_save, save_text
from profilestack.files.shipped import SMALL_SHOP, shipped_examples_dir
from profilestack.files.stack_file import read_stack, stack_text
from profilestack.finding.request import RESOLUTIONS, FindRequest
from profilestack.jobs.cut import CutReport
from profilestack.jobs.find import FindResult, bits_for, find, report_of, stack_of
from profilestack.jobs.picture import write_picture
from profilestack.jobs.template import TemplateRequest, write_template
from profilestack.progress import SILENT, Progress

EXAMPLE = Path("cornice") / "crown-target.stack.toml"


@dataclass(frozen=True, slots=True)
class DemoResult:
    """What the demo found, the way it took (counted from 1), and the files it wrote."""

    found: FindResult
    way: int
    report: CutReport
    stack: Path
    picture: Path
    template: Path


def run_demo(
    folder: Path,
    units: str | None = None,
    libraries: Sequence[str] = (),
    progress: Progress = SILENT,
) -> DemoResult:
    """Find the bits for the bookcase's crown, draw the quickest way, print its full-size section.

    The bits are the small shop's, unless ``libraries`` are given. All goes into ``folder``.

    Raises:
        FileError: the folder cannot be made or written to; nothing is written then.
        InputError: a library with problems, or one whose bits cannot make the crown at all.
    """
    _check_folder(folder)
    stack = read_stack(shipped_examples_dir() / EXAMPLE)
    bits = bits_for(stack, libraries or (SMALL_SHOP,))
    tolerance = stack.tolerance
    request = FindRequest(
        stack, bits, tolerance.leftover, tolerance.overcut, RESOLUTIONS[stack.units]
    )
    found = find(request, progress)
    if not found.options:
        problem = Problem("--bits", "with these bits there is no way to cut the crown", "more bits")
        raise InputError(problem)
    # what may not be cut is no way to show, however quick
    good = [option for option in found.options if report_of(option).is_good] or found.options
    quickest = min(good, key=lambda option: option.assembled.minutes.total)
    report = report_of(quickest)
    shown = units or stack.units
    result = DemoResult(
        found=found,
        way=found.options.index(quickest) + 1,
        report=report,
        stack=folder / "crown.stack.toml",
        picture=folder / "crown.png",
        template=folder / "crown-template.pdf",
    )
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(f"{folder}: cannot be made: {error.strerror}") from error
    for path in (result.stack, result.picture, result.template):
        check_can_save(path)
    if not result.stack.exists():  # a copy that somebody has worked on stays as it is
        save_text(result.stack, stack_text(stack_of(quickest, found.strange, stack)))
    write_picture(report, result.picture, shown)
    write_template(TemplateRequest(report, result.template, TemplateOptions(units=shown)))
    return result


def _check_folder(folder: Path) -> None:
    """Look whether the folder can be there, before the long work.

    Raises:
        FileError: it, or a folder that it would lie in, is a file.
    """
    for place in (folder, *folder.parents):
        if place.is_dir():
            return
        if place.exists():
            raise FileError(f"{place}: is a file; choose a folder, or a new name")

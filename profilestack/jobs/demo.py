"""The main job end to end on the shipped example."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from profilestack.drawing.template.options import TemplateOptions
from profilestack.errors import FileError
from profilestack.files.saving import check_can_save, save_text
from profilestack.files.shipped import shipped_examples_dir
from profilestack.jobs.cut import CutReport, cut_and_judge
from profilestack.jobs.opening import open_stack
from profilestack.jobs.picture import write_picture
from profilestack.jobs.template import TemplateRequest, write_template

EXAMPLE = Path("cornice") / "crown.stack.toml"


@dataclass(frozen=True, slots=True)
class DemoResult:
    """The demo's report and the files it wrote."""

    report: CutReport
    notes: tuple[str, ...]
    stack: Path
    picture: Path
    template: Path


def run_demo(folder: Path, units: str | None = None, libraries: Sequence[str] = ()) -> DemoResult:
    """Cut the bookcase's crown, draw it and print its full-size section into ``folder``.

    ``libraries`` are looked in for its bits as by :func:`open_stack`.

    Raises:
        FileError: the folder cannot be made or written to; nothing is written then.
        InputError: a library with problems.
    """
    source = shipped_examples_dir() / EXAMPLE
    opened = open_stack(source, libraries)
    report = cut_and_judge(opened.stack, opened.bits)
    shown = units or opened.stack.units
    result = DemoResult(
        report=report,
        notes=opened.notes,
        stack=folder / source.name,
        picture=folder / "crown.png",
        template=folder / "crown-template.pdf",
    )
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise FileError(f"{folder}: is a file; choose a folder, or a new name") from None
    except OSError as error:
        raise FileError(f"{folder}: cannot be made: {error.strerror}") from error
    for path in (result.stack, result.picture, result.template):
        check_can_save(path)
    if not result.stack.exists():  # a copy that somebody has worked on stays as it is
        save_text(result.stack, source.read_text(encoding="utf-8"))
    write_picture(report, result.picture, shown)
    write_template(TemplateRequest(report, result.template, TemplateOptions(units=shown)))
    return result

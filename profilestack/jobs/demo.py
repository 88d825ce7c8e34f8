"""The main job end to end on the shipped example."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from profilestack.drawing.template.options import TemplateOptions
from profilestack.errors import FileError
from profilestack.files.saving import save_text
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
    stack: Path
    picture: Path
    template: Path


def run_demo(folder: Path, units: str | None = None) -> DemoResult:
    """Cut the bookcase's crown, draw it and print its full-size section into ``folder``.

    Raises:
        FileError: the folder cannot be made or written to.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise FileError(f"{folder}: cannot be made: {error.strerror}") from error
    source = shipped_examples_dir() / EXAMPLE
    stack_file = folder / source.name
    if not stack_file.exists():  # a copy that somebody has worked on stays as it is
        save_text(stack_file, source.read_text(encoding="utf-8"))
    opened = open_stack(source)
    report = cut_and_judge(opened.stack, opened.bits)
    shown = units or opened.stack.units
    picture = write_picture(report, folder / "crown.png", shown)
    options = TemplateOptions(units=shown)
    template = write_template(TemplateRequest(report, folder / "crown-template.pdf", options))
    return DemoResult(report, stack_file, picture.path, template.path)

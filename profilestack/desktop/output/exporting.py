"""Writing files off the window's thread; nothing is replaced unasked."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.notices import Notice, Notices
from profilestack.drawing.template.options import TemplateOptions
from profilestack.errors import ProfilestackError
from profilestack.jobs.cut import CutReport
from profilestack.jobs.picture import write_picture
from profilestack.jobs.template import TemplateRequest, write_template
from profilestack.progress import Progress
from profilestack.reports.written import REPORTS, size_said, write_report

ABOUT = "output"
"""Of the notices that are shown here."""


@dataclass(frozen=True, slots=True)
class Export:
    """Something that can be written to a file.

    ``endings``: those that its name may have; the first is put on where there is none of them.
    ``write`` writes it and gives words on what was written.
    """

    what: str
    endings: tuple[str, ...]
    write: Callable[[Path], str]

    def named(self, path: Path) -> Path:
        """The file's name with a known ending."""
        if path.suffix.lower() in self.endings:
            return path
        return path.with_name(path.name + self.endings[0])


def picture_export(report: CutReport, units: str) -> Export:
    """The picture of a cut."""

    def write(path: Path) -> str:
        written = write_picture(report, path, units)
        size = size_said(written.width, written.height)
        return f"{written.path.name}: {written.kind.upper()}, {size}"

    return Export("The picture", (".png", ".svg", ".pdf"), write)


def template_export(report: CutReport, options: TemplateOptions) -> Export:
    """The full-size section of a cut."""

    def write(path: Path) -> str:
        written = write_template(TemplateRequest(report, path, options))
        sheets = f"{written.sheets} sheet{'s' if written.sheets != 1 else ''} {written.paper}"
        size = size_said(written.width, written.height)
        return f"{written.path.name}: {sheets}, each {size}. Print at 100 %, measure the bars."

    return Export("The full-size section", (".pdf",), write)


def report_export(report: CutReport, units: str) -> Export:
    """What is said of a cut."""

    def write(path: Path) -> str:
        written = write_report(report, path, units)
        return f"{written.path.name}: {written.kind}, {written.lines} lines"

    return Export("The report", tuple(REPORTS), write)


class Exporting(QObject):
    """Writes one thing at a time, and says in ``notices`` what stands in the way."""

    written = Signal(str)
    """Words on what was written."""

    def __init__(self, document: Document, notices: Notices, owner: QObject) -> None:
        super().__init__(owner)
        self._document, self._notices = document, notices
        self._export: Export | None = None
        self._path = Path()
        self._background = Background(self)
        self._background.done.connect(self._hear)
        self._background.failed.connect(self._hear_trouble)

    @property
    def is_busy(self) -> bool:
        """Whether something is being written."""
        return self._background.is_busy

    def save(self, export: Export, chosen: Path) -> None:
        """Write it under a name that was just chosen, where replacing was asked for already.

        A name that only gets its ending here may be that of another file: that is asked for now.
        """
        path = export.named(chosen)
        if path != chosen and path.exists():
            text = f"{export.what} is not written yet: {path.name} is there already."
            choices = (("Replace it", partial(self.write, export, path)),)
            self._notices.show_notice(Notice(ABOUT, text, choices=choices))
            return
        self.write(export, path)

    def write(self, export: Export, path: Path) -> None:
        """Write it, whatever is there."""
        self._notices.dismiss(ABOUT)
        self._export, self._path = export, path
        self._document.said.emit(f"Writing {path.name} …")
        self._background.run(_write, (export, path))

    def _hear(self, words: str) -> None:
        self._document.said.emit(f"Written: {words}")
        self.written.emit(words)

    def _hear_trouble(self, error: ProfilestackError) -> None:
        export = self._export
        assert export is not None, "something was being written"
        lines = str(error).splitlines()
        text = f"{export.what} is not written. {lines[0]}"
        choices = (("Try again", partial(self.write, export, self._path)),)
        notice = Notice(ABOUT, text, tuple(lines[1:]), choices, grave=True)
        self._notices.show_notice(notice)


def _write(task: tuple[Export, Path], progress: Progress) -> str:
    del progress  # a file is written whole: there is no half of it to be had sooner
    export, path = task
    return export.write(path)

"""The window of the run sheet: what is taken along to the machine, as it will lie on paper."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtGui import QCloseEvent, QShowEvent
from PySide6.QtWidgets import QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Choice, Labelled, Trouble
from profilestack.desktop.machine.after_rest import AfterRest, Task, task_of
from profilestack.desktop.machine.export_form import EXTRA
from profilestack.desktop.machine.papers import fill_papers
from profilestack.desktop.output.exporting import Export
from profilestack.desktop.output.sheets_window import SheetsWindow
from profilestack.desktop.paragraph import Paragraph
from profilestack.drawing.drawing import Drawing
from profilestack.jobs.plan import is_good, plan_for
from profilestack.jobs.sheet import sheets_of, write_sheet
from profilestack.progress import Progress
from profilestack.reports.written import size_said
from profilestack.session.plan_words import why_no_plan

WORKING = "Being drawn …"
NOT_GOOD = "A tolerance is broken or a caution says stop: the plan says which."
IN_THE_APP = f"Output, Export: {EXTRA}"
"""Where the app asks for the spare ends; a file that is saved has the command line's word."""

TEST = "Test in scrap, well held."


class SheetWindow(SheetsWindow):
    """Shows the sheets of what the document shows; prints them, or saves them as a PDF."""

    def __init__(
        self, document: Document, ask_file: Callable[[QWidget], Path | None], parent: QWidget
    ) -> None:
        super().__init__("Run sheet", document, ask_file, parent)
        self.paper = Choice("Paper")
        self.paper.setToolTip("The paper in your printer")
        fill_papers(self.paper, document)
        self.warning = Paragraph("Warning", bold=True)
        self.trouble = Trouble()
        self.work = AfterRest(document, _sheets, self, self._wishes)
        self.print.setToolTip("Print the sheets")
        self.save.setToolTip("Save the sheets as a PDF")
        self.lay_out_sheets(Labelled("Paper", self.paper), self.warning, self.words, self.trouble)
        self.work.changed.connect(self.refresh)
        self.paper.currentIndexChanged.connect(self.work.again)
        document.units_changed.connect(self.work.again)
        self.refresh()

    @property
    def is_busy(self) -> bool:
        """Whether sheets are being drawn, painted, printed or written."""
        return (
            self.work.is_busy or self.view.is_busy or self.is_printing
            or self.exporting.is_busy
        )  # fmt: skip

    def refresh(self) -> None:
        """Show the sheets that are known now."""
        sheets, good = self.work.answer or ([], True)
        fresh = self.work.is_fresh
        self.trouble.say(why_no_plan(self.document.stack) or self.work.trouble if fresh else "")
        if sheets != list(self.view.sheets):
            self.view.show_sheets(sheets)
        self._enable()
        self.warning.say(NOT_GOOD if fresh and not good else "")
        if not fresh and not self._printing.is_busy:
            self.words.say(WORKING if self.work.is_busy else "")
        elif sheets and self._printer is None:
            one, count = sheets[0], len(sheets)
            size = size_said(one.width, one.height)
            self.words.say(f"{count} sheet{'s' if count != 1 else ''}, each {size}. {TEST}")

    def showEvent(self, event: QShowEvent) -> None:
        """Draw what is seen now."""
        super().showEvent(event)
        self.work.want("window", True)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Nothing goes on behind a closed window but printing that has begun."""
        self.work.want("window", False)
        event.accept()

    def _wishes(self) -> tuple[str, str]:
        return self.document.units, self.paper.currentData()

    def _is_ready(self) -> bool:
        return self.work.is_fresh and super()._is_ready()

    def _save(self) -> None:
        task, path = task_of(self.document, self._wishes()), self.ask_file(self)
        if task is not None and path is not None:
            self.exporting.save(sheet_export(task), path)


def sheet_export(task: Task) -> Export:
    """The run sheet of a task, as the command line writes it."""
    units, paper = task.wishes

    def write(path: Path) -> str:
        plan = plan_for(task.stack, task.bits, task.shop)
        written = write_sheet(plan, task.bits, path, units, paper)
        pages = f"{written.pages} page{'s' if written.pages != 1 else ''}"
        return f"{written.path.name}: {pages} {written.paper}, {written.size:,} bytes. {TEST}"

    return Export("The run sheet", (".pdf",), write)


def _sheets(task: Task, progress: Progress) -> tuple[list[Drawing], bool]:
    del progress  # a second's work
    units, paper = task.wishes
    plan = plan_for(task.stack, task.bits, task.shop)
    return sheets_of(plan, task.bits, units, paper, IN_THE_APP), is_good(plan)

"""The window of the run sheet: what is taken along to the machine, as it will lie on paper."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QKeyEvent, QShowEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Choice, Labelled, Trouble
from profilestack.desktop.machine.after_rest import AfterRest, Task, task_of
from profilestack.desktop.machine.papers import fill_papers
from profilestack.desktop.machine.words import Paragraph
from profilestack.desktop.notices import Notice, Notices
from profilestack.desktop.output.exporting import ABOUT, Export, Exporting
from profilestack.desktop.output.laying import lay_out_sheets
from profilestack.desktop.output.printing import print_sheets
from profilestack.desktop.output.sheets_view import SheetsView
from profilestack.desktop.output.slices import Slices
from profilestack.drawing.drawing import Drawing
from profilestack.errors import ProfilestackError
from profilestack.jobs.plan import is_good, plan_for
from profilestack.jobs.sheet import sheets_of, write_sheet
from profilestack.progress import Progress
from profilestack.reports.written import size_said

WORKING = "Being drawn …"
NOT_GOOD = "A tolerance is broken or a caution says stop: the plan says which."
TEST = "Test in scrap, well held."


class SheetWindow(QWidget):
    """Shows the sheets of what the document shows; prints them, or saves them as a PDF."""

    def __init__(
        self, document: Document, ask_file: Callable[[QWidget], Path | None], parent: QWidget
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.document, self.ask_file = document, ask_file
        self.ask_printer: Callable[[QPrinter], bool] = self._ask_printer
        self.notices = Notices()
        self.paper = Choice("Paper")
        fill_papers(self.paper, document)
        self.words = Paragraph("About the sheets")
        self.warning = Paragraph("Warning", bold=True)
        self.trouble = Trouble()
        self.view = SheetsView()
        self.print, self.save = QPushButton("&Print …"), QPushButton("&Save as PDF …")
        self.exporting = Exporting(document, self.notices, self)
        self.work = AfterRest(document, _sheets, self, self._wishes)
        self._printing = Slices(self)
        self._printer: QPrinter | None = None
        self._build()
        self.work.changed.connect(self.refresh)
        self.paper.currentIndexChanged.connect(self.work.again)
        document.units_changed.connect(self.work.again)
        self.exporting.written.connect(self._written)
        self._printing.finished.connect(self._printed)
        self._printing.failed.connect(self._not_printed)
        self.print.clicked.connect(self._print)
        self.save.clicked.connect(self._save)
        self.refresh()

    @property
    def is_busy(self) -> bool:
        """Whether sheets are being drawn, painted, printed or written."""
        return (
            self.work.is_busy or self.view.is_busy or self._printing.is_busy
            or self._printer is not None or self.exporting.is_busy
        )  # fmt: skip

    def refresh(self) -> None:
        """Show the sheets that are known now."""
        sheets, good = self.work.answer or ([], True)
        fresh = self.work.is_fresh
        self.trouble.say(self.work.trouble if fresh else "")
        if sheets != list(self.view.sheets):
            self.view.show_sheets(sheets)
        for button in (self.print, self.save):
            button.setEnabled(fresh and bool(sheets) and self._printer is None)
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

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes the window."""
        if event.key() == Qt.Key.Key_Escape:
            self.close()
            return
        super().keyPressEvent(event)

    def _wishes(self) -> tuple[str, str]:
        return self.document.units, self.paper.currentData()

    def _build(self) -> None:
        self.setWindowTitle("Run sheet")
        self.setAccessibleName("Run sheet")
        self.paper.setToolTip("The paper in your printer")
        self.print.setToolTip("Print the sheets")
        self.save.setToolTip("Save the sheets as a PDF")
        side = QVBoxLayout()
        side.setSpacing(16)
        for part in (Labelled("Paper", self.paper), self.warning, self.words, self.trouble):
            side.addWidget(part)
        side.addStretch()
        side.addWidget(self.print)
        side.addWidget(self.save)
        lay_out_sheets(self, self.notices, side, self.view)

    def _save(self) -> None:
        task, path = task_of(self.document, self._wishes()), self.ask_file(self)
        if task is not None and path is not None:
            self.exporting.save(sheet_export(task), path)

    def _written(self, words: str) -> None:
        self.words.say(f"Written: {words}")

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setDocName(self.document.session.name)
        if not self.ask_printer(printer):
            return
        self.notices.dismiss(ABOUT)
        self._printer = printer
        self.words.say("Printing …")
        self._printing.run(print_sheets(printer, self.view.sheets))
        self.refresh()

    def _printed(self) -> None:
        self._printer = None
        self.refresh()
        self.words.say(f"{len(self.view.sheets)} sheets are with the printer.")

    def _not_printed(self, error: ProfilestackError) -> None:
        self._printer = None
        self.refresh()
        text = f"The run sheet is not printed: {error}"
        choices = (("Try again", self._print),)
        self.notices.show_notice(Notice(ABOUT, text, choices=choices, grave=True))

    def _ask_printer(self, printer: QPrinter) -> bool:
        dialog = QPrintDialog(printer, self)
        dialog.setWindowTitle("Print the run sheet")
        return dialog.exec() == QDialog.DialogCode.Accepted


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
    return sheets_of(plan, task.bits, units, paper), is_good(plan)

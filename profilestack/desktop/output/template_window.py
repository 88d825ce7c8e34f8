"""The window of the full-size section: how it is printed, and the sheets as they will lie."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QCloseEvent, QKeyEvent
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QLabel, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.notices import Notice, Notices
from profilestack.desktop.output.exporting import ABOUT, Exporting, template_export
from profilestack.desktop.output.laying import lay_out_sheets
from profilestack.desktop.output.printing import print_sheets
from profilestack.desktop.output.sheets_view import SheetsView
from profilestack.desktop.output.slices import Slices
from profilestack.desktop.output.template_form import TemplateForm
from profilestack.drawing.drawing import Drawing
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.template import template_sheets
from profilestack.errors import ProfilestackError
from profilestack.jobs.cut import CutReport
from profilestack.progress import Progress
from profilestack.reports.written import size_said

REST = 150
"""The document has to lie still for so long before the sheets are drawn anew [ms]."""


class TemplateWindow(QWidget):
    """Shows the sheets of what the document shows; prints them, or saves them as a PDF."""

    def __init__(
        self, document: Document, ask_file: Callable[[QWidget], Path | None], parent: QWidget
    ) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.document = document
        self.ask_file = ask_file
        self.ask_printer: Callable[[QPrinter], bool] = self._ask_printer
        self.notices = Notices()
        self.form = TemplateForm(document)
        self.view = SheetsView()
        self.words = QLabel()
        self.print = QPushButton("&Print …")
        self.save = QPushButton("&Save as PDF …")
        self.exporting = Exporting(document, self.notices, self)
        self._drawing = Background(self)
        self._printing = Slices(self)
        self._printer: QPrinter | None = None
        self._wanted: tuple[CutReport, TemplateOptions] | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self._build()
        self._connect()
        self.refresh()

    @property
    def is_busy(self) -> bool:
        """Whether sheets are being drawn, painted or printed."""
        return (
            self._rest.isActive() or self._drawing.is_busy or self.view.is_busy
            or self._printing.is_busy or self._printer is not None
        )  # fmt: skip

    def refresh(self) -> None:
        """Draw the sheets anew, if they are other ones."""
        report = self.document.report
        if report is None:
            trouble = self.document.session.trouble
            self._show([], f"There is nothing to print: {trouble[0] if trouble else 'no cut'}")
            self._wanted = None
            return
        wanted = (report, self.form.options)
        if wanted != self._wanted:
            self._wanted = wanted
            self._drawing.run(_sheets, wanted)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Nothing goes on behind a closed window but printing that has begun."""
        self._rest.stop()
        self._drawing.drop()
        self._wanted = None
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes the window."""
        if event.key() == Qt.Key.Key_Escape:
            self.close()
            return
        super().keyPressEvent(event)

    def _build(self) -> None:
        self.setWindowTitle("Full-size section")
        self.setAccessibleName("Full-size section")
        self.words.setWordWrap(True)
        self.words.setAccessibleName("About the sheets")
        self.print.setToolTip("Print the sheets at true scale (1 : 1)")
        self.save.setToolTip("Save the sheets as a PDF at true scale")
        side = QVBoxLayout()
        side.setSpacing(16)
        side.addWidget(self.form)
        side.addWidget(self.words)
        side.addStretch()
        side.addWidget(self.print)
        side.addWidget(self.save)
        lay_out_sheets(self, self.notices, side, self.view)

    def _connect(self) -> None:
        self._drawing.done.connect(self._hear)
        self._drawing.failed.connect(self._hear_trouble)
        self._printing.finished.connect(self._printed)
        self._printing.failed.connect(self._not_printed)
        self._rest.timeout.connect(self.refresh)
        self.form.changed.connect(self._rest.start)
        self.document.changed.connect(self._document_changed)
        self.document.units_changed.connect(self._rest.start)
        self.exporting.written.connect(lambda words: self._say(f"Written: {words}"))
        self.print.clicked.connect(self._print)
        self.save.clicked.connect(self._save)

    def _document_changed(self) -> None:
        if self.isVisible():
            self._rest.start()

    def _hear(self, sheets: list[Drawing]) -> None:
        one = sheets[0]
        count = f"{len(sheets)} sheet{'s' if len(sheets) != 1 else ''}"
        self._show(sheets, f"{count}, each {size_said(one.width, one.height)}")
        if self._printer is not None and not self._printing.is_busy:
            self._begin_printing()

    def _hear_trouble(self, error: ProfilestackError) -> None:
        self._show([], str(error))
        self._printer = None

    def _show(self, sheets: list[Drawing], words: str) -> None:
        self.view.show_sheets(sheets)
        self._say(words)
        for button in (self.print, self.save):
            button.setEnabled(bool(sheets))

    def _say(self, words: str) -> None:
        self.words.setText(words)

    def _save(self) -> None:
        report, path = self.document.report, self.ask_file(self)
        if report is not None and path is not None:
            self.exporting.save(template_export(report, self.form.options), path)

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setDocName(self.document.session.name)
        if not self.ask_printer(printer):
            return
        self.notices.dismiss(ABOUT)
        self._printer = printer
        self._rest.stop()
        self.refresh()
        # what was typed a moment ago is still being drawn: it is what has to be printed
        if not self._drawing.is_busy:
            self._begin_printing()

    def _begin_printing(self) -> None:
        assert self._printer is not None, "a printer was chosen"
        self._say("Printing …")
        self.print.setEnabled(False)
        self._printing.run(print_sheets(self._printer, self.view.sheets))

    def _printed(self) -> None:
        self._printer = None
        self.print.setEnabled(True)
        count = len(self.view.sheets)
        self._say(f"{count} sheets are with the printer. Measure the bars before you trust them.")

    def _not_printed(self, error: ProfilestackError) -> None:
        self._printer = None
        self.print.setEnabled(True)
        text = f"The full-size section is not printed: {error}"
        choices = (("Try again", self._print),)
        self.notices.show_notice(Notice(ABOUT, text, choices=choices, grave=True))

    def _ask_printer(self, printer: QPrinter) -> bool:
        dialog = QPrintDialog(printer, self)
        dialog.setWindowTitle("Print the full-size section")
        return dialog.exec() == QDialog.DialogCode.Accepted


def _sheets(wanted: tuple[CutReport, TemplateOptions], progress: Progress) -> list[Drawing]:
    del progress  # drawn in a moment
    report, options = wanted
    return template_sheets(report.cut, report.comparison, report.cautions, options)

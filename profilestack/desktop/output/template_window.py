"""The window of the full-size section: how it is printed, and the sheets as they will lie."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QTimer
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QWidget

from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.output.exporting import template_export
from profilestack.desktop.output.sheets_window import SheetsWindow
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


class TemplateWindow(SheetsWindow):
    """Shows the sheets of what the document shows; prints them, or saves them as a PDF."""

    AFTER_PRINTING = "Measure the bars before you trust them."

    def __init__(
        self, document: Document, ask_file: Callable[[QWidget], Path | None], parent: QWidget
    ) -> None:
        super().__init__("Full-size section", document, ask_file, parent)
        self.form = TemplateForm(document)
        self._drawing = Background(self)
        self._wanted: tuple[CutReport, TemplateOptions] | None = None
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST)
        self.print.setToolTip("Print the sheets at true scale (1 : 1)")
        self.save.setToolTip("Save the sheets as a PDF at true scale")
        self.lay_out_sheets(self.form, self.words)
        self._connect()
        self.refresh()

    @property
    def is_busy(self) -> bool:
        """Whether sheets are being drawn, painted or printed."""
        return (
            self._rest.isActive() or self._drawing.is_busy or self.view.is_busy
            or self.is_printing
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

    def _connect(self) -> None:
        self._drawing.done.connect(self._hear)
        self._drawing.failed.connect(self._hear_trouble)
        self._rest.timeout.connect(self.refresh)
        self.form.changed.connect(self._rest.start)
        self.document.changed.connect(self._document_changed)
        self.document.units_changed.connect(self._rest.start)

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
        self._printer = None
        self._show([], str(error))

    def _show(self, sheets: list[Drawing], words: str) -> None:
        self.view.show_sheets(sheets)
        self.words.say(words)
        self._enable()

    def _save(self) -> None:
        report, path = self.document.report, self.ask_file(self)
        if report is not None and path is not None:
            self.exporting.save(template_export(report, self.form.options), path)

    def _print_when_drawn(self) -> None:
        self._rest.stop()
        self.refresh()
        # what was typed a moment ago is still being drawn: it is what has to be printed
        if not self._drawing.is_busy:
            self._begin_printing()


def _sheets(wanted: tuple[CutReport, TemplateOptions], progress: Progress) -> list[Drawing]:
    del progress  # drawn in a moment
    report, options = wanted
    return template_sheets(report.cut, report.comparison, report.cautions, options)

"""A window of sheets: what is asked at the left, the sheets beside it, to be printed or saved."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.notices import Notice
from profilestack.desktop.output.exporting import ABOUT, Exporting
from profilestack.desktop.output.output_window import OutputWindow
from profilestack.desktop.output.printing import print_sheets
from profilestack.desktop.output.sheets_view import SheetsView
from profilestack.desktop.output.slices import Slices
from profilestack.desktop.paragraph import Paragraph
from profilestack.errors import ProfilestackError


class SheetsWindow(OutputWindow):
    """Shows sheets and prints them; what they are and how they are saved, its kinds know.

    ``title`` is also what messages call the sheets, with an article before it.
    """

    AFTER_PRINTING = ""
    """What is to be minded of sheets that come from the printer."""

    def __init__(
        self,
        title: str,
        document: Document,
        ask_file: Callable[[QWidget], Path | None],
        parent: QWidget,
    ) -> None:
        super().__init__(title, document, parent)
        self.ask_file = ask_file
        self.ask_printer: Callable[[QPrinter], bool] = self._ask_printer
        self.view = SheetsView()
        self.words = Paragraph("About the sheets")
        self.print, self.save = QPushButton("&Print …"), QPushButton("&Save as PDF …")
        self.exporting = Exporting(document, self.notices, self)
        self._name = title[0].lower() + title[1:]
        self._printing = Slices(self)
        self._printer: QPrinter | None = None
        self._printing.finished.connect(self._printed)
        self._printing.failed.connect(self._not_printed)
        self.exporting.written.connect(lambda words: self.words.say(f"Written: {words}"))
        self.print.clicked.connect(self._print)
        self.save.clicked.connect(self._save)

    @property
    def is_printing(self) -> bool:
        """Whether sheets go to a printer, or soon will."""
        return self._printing.is_busy or self._printer is not None

    def lay_out_sheets(self, *asked: QWidget) -> None:
        """What is ``asked`` at the left, the buttons below, and the sheets beside it."""
        side, across = QVBoxLayout(), QHBoxLayout()
        side.setSpacing(16)
        for part in asked:
            side.addWidget(part)
        side.addStretch()
        side.addWidget(self.print)
        side.addWidget(self.save)
        across.addLayout(side, 1)
        across.addWidget(self.view, 3)
        self.lay_out(across)
        self.resize(1000, 720)

    def _is_ready(self) -> bool:
        """Whether the sheets shown are those to be printed and saved."""
        return bool(self.view.sheets)

    def _enable(self) -> None:
        ready = self._is_ready()
        self.print.setEnabled(ready and self._printer is None)
        self.save.setEnabled(ready)

    def _save(self) -> None:
        raise NotImplementedError

    def _print(self) -> None:
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setDocName(self.document.session.name)
        if self.ask_printer(printer):
            self.notices.dismiss(ABOUT)
            self._printer = printer
            self._print_when_drawn()

    def _print_when_drawn(self) -> None:
        self._begin_printing()

    def _begin_printing(self) -> None:
        assert self._printer is not None, "a printer was chosen"
        self.words.say("Printing …")
        self._printing.run(print_sheets(self._printer, self.view.sheets))
        self._enable()

    def _printed(self) -> None:
        self._printer = None
        self._enable()
        told = f"{len(self.view.sheets)} sheets are with the printer."
        self.words.say(f"{told} {self.AFTER_PRINTING}".strip())

    def _not_printed(self, error: ProfilestackError) -> None:
        self._printer = None
        self._enable()
        text = f"The {self._name} is not printed: {error}"
        choices = (("Try again", self._print),)
        self.notices.show_notice(Notice(ABOUT, text, choices=choices, grave=True))

    def _ask_printer(self, printer: QPrinter) -> bool:
        dialog = QPrintDialog(printer, self)
        dialog.setWindowTitle(f"Print the {self._name}")
        return dialog.exec() == QDialog.DialogCode.Accepted

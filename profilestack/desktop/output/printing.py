"""Sheets to a printer at true scale."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from profilestack.desktop.output.painting import paint_steps
from profilestack.drawing.drawing import Drawing
from profilestack.errors import FileError
from profilestack.units import INCH


def layout_of(sheet: Drawing) -> QPageLayout:
    """The page for a sheet: of its own size, without margins: the sheet has its own."""
    upright = QSizeF(min(sheet.width, sheet.height), max(sheet.width, sheet.height))
    wide = sheet.width > sheet.height
    return QPageLayout(
        QPageSize(upright, QPageSize.Unit.Millimeter),
        QPageLayout.Orientation.Landscape if wide else QPageLayout.Orientation.Portrait,
        QMarginsF(),
        QPageLayout.Unit.Millimeter,
    )


def print_sheets(printer: QPrinter, sheets: Sequence[Drawing]) -> Iterator[None]:
    """Print sheets step by step, each on a page of its size, a mm of it on a mm of paper.

    The scale comes from the printer's own dots: nothing is fitted to anything. What a printer
    cannot reach at the edge of the paper is left out; the sheets keep their margins free.

    Raises:
        FileError: the printer does not begin, or gives up.
    """
    painter = QPainter()
    try:
        for number, sheet in enumerate(sheets):
            printer.setFullPage(True)
            printer.setPageLayout(layout_of(sheet))
            if not (printer.newPage() if number else painter.begin(printer)):
                raise FileError("the printer cannot be started; is it switched on?")
            yield from paint_steps(painter, sheet, printer.resolution() / float(INCH))
        if printer.printerState() in (QPrinter.PrinterState.Aborted, QPrinter.PrinterState.Error):
            raise FileError("the printer gave up")
    finally:
        if painter.isActive():
            painter.end()

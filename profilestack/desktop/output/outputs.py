"""All that can leave a window: its full-size section, picture and report."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QMimeData, QObject
from PySide6.QtGui import QGuiApplication, QImage
from PySide6.QtWidgets import QFileDialog, QWidget

from profilestack.desktop.background import Background
from profilestack.desktop.notices import Notice
from profilestack.desktop.output.exporting import ABOUT, Exporting, picture_export
from profilestack.desktop.output.report_window import ReportWindow
from profilestack.desktop.output.template_window import TemplateWindow
from profilestack.drawing.picture import picture_bytes
from profilestack.drawing.section_picture import section_picture
from profilestack.errors import ProfilestackError
from profilestack.jobs.cut import CutReport
from profilestack.progress import Progress

if TYPE_CHECKING:
    from profilestack.desktop.window import Window

PICTURES = "PNG picture (*.png);;SVG drawing (*.svg);;PDF page (*.pdf)"
SHEETS = "PDF (*.pdf)"
REPORTS = "Text (*.txt);;JSON (*.json)"


class Outputs(QObject):
    """The outputs of one window. Its windows are made when they are first wanted."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self.ask_file: Callable[[QWidget, str, str, str], str] = _ask_file
        self.exporting = Exporting(window.document, window.notices, self)
        self.template: TemplateWindow | None = None
        self.report: ReportWindow | None = None
        self._copying = Background(self)
        self._copying.done.connect(self._put_on_clipboard)
        self._copying.failed.connect(self._hear_trouble)

    @property
    def is_busy(self) -> bool:
        """Whether something is being written or copied."""
        return self.exporting.is_busy or self._copying.is_busy

    def why_not(self) -> str:
        """Why nothing can be written now; "" where it can."""
        return "" if self._window.document.report else "the stack cannot be cut as it is"

    def show_template(self) -> None:
        """Show the full-size section, to be printed or saved."""
        if self.template is None:
            ask = self._asking("Save the full-size section as", SHEETS, ".pdf")
            self.template = TemplateWindow(self._window.document, ask, self._window)
        self.template.come_forward()
        self.template.refresh()

    def show_report(self) -> None:
        """Show the report."""
        if self.report is None:
            ask = self._asking("Save the report as", REPORTS, ".txt")
            self.report = ReportWindow(self._window.document, ask, self._window)
        self.report.come_forward()

    def save_picture(self) -> None:
        """Ask for a file and draw the cut into it."""
        document = self._window.document
        path = self._asking("Save the picture as", PICTURES, ".png")(self._window)
        if document.report is not None and path is not None:
            self.exporting.save(picture_export(document.report, document.units), path)

    def copy_picture(self) -> None:
        """Put the picture on the clipboard."""
        document = self._window.document
        if document.report is not None:
            self._copying.run(_drawn, (document.report, document.units))

    def _put_on_clipboard(self, data: bytes) -> None:
        image = QImage.fromData(data)
        carried = QMimeData()
        carried.setImageData(image)
        carried.setData("image/png", data)
        QGuiApplication.clipboard().setMimeData(carried)
        size = f"{image.width()} x {image.height()} pixels"
        self._window.document.said.emit(f"The picture is on the clipboard, {size}")

    def _hear_trouble(self, error: ProfilestackError) -> None:
        text = f"The picture is not on the clipboard: {error}"
        self._window.notices.show_notice(Notice(ABOUT, text, grave=True))

    def file_to_write(self, parent: QWidget, title: str, kinds: str, ending: str) -> Path | None:
        """The file that is chosen, named as the document with this ending at first.

        Replacing one was asked for then.
        """
        session, desk = self._window.document.session, self._window.desk
        folder = desk.folder("output") or (str(session.path.parent) if session.path else "")
        name = session.name.removesuffix(".stack.toml") + ending
        chosen = self.ask_file(parent, title, os.path.join(folder, name), kinds)
        if not chosen:
            return None
        desk.remember_folder("output", Path(chosen))
        return Path(chosen)

    def _asking(self, title: str, kinds: str, ending: str) -> Callable[[QWidget], Path | None]:
        return lambda parent: self.file_to_write(parent, title, kinds, ending)


def _ask_file(parent: QWidget, title: str, name: str, kinds: str) -> str:
    """The file that is chosen; replacing one is asked for."""
    return QFileDialog.getSaveFileName(parent, title, name, kinds)[0]


def _drawn(task: tuple[CutReport, str], progress: Progress) -> bytes:
    del progress  # a picture is whole or nothing
    report, units = task
    drawing = section_picture(report.cut, report.comparison, report.cautions, units)
    return picture_bytes(drawing, "png")

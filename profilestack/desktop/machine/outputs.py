"""What leaves the window for the machine: run sheet and exports."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QWidget

if TYPE_CHECKING:
    from profilestack.desktop.machine.export_window import ExportWindow
    from profilestack.desktop.machine.sheet_window import SheetWindow
    from profilestack.desktop.window import Window

SHEETS = "PDF (*.pdf)"


class MachineOutputs(QObject):
    """The windows of the run sheet and of the exports, made when they are first wanted."""

    def __init__(self, window: Window) -> None:
        super().__init__(window)
        self._window = window
        self.sheet: SheetWindow | None = None
        self.export: ExportWindow | None = None

    def show_sheet(self) -> None:
        """Show the run sheet, to be printed or saved."""
        if self.sheet is None:
            # what draws sheets and writes files is loaded only now: the window is up sooner
            from profilestack.desktop.machine.sheet_window import SheetWindow

            self.sheet = SheetWindow(self._window.document, self._ask_sheet, self._window)
        self.sheet.come_forward()

    def show_export(self) -> None:
        """Show what can be written for other programs and machines."""
        if self.export is None:
            from profilestack.desktop.machine.export_window import ExportWindow

            ask = self._window.outputs.file_to_write
            self.export = ExportWindow(self._window.document, ask, self._window)
        self.export.come_forward()

    def _ask_sheet(self, parent: QWidget) -> Path | None:
        ask = self._window.outputs.file_to_write
        return ask(parent, "Save the run sheet as", SHEETS, "-sheet.pdf")

"""What leaves the window for the machine: run sheet and exports."""

from __future__ import annotations

import os
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
        _come_forward(self.sheet)

    def show_export(self) -> None:
        """Show what can be written for other programs and machines."""
        if self.export is None:
            from profilestack.desktop.machine.export_window import ExportWindow

            self.export = ExportWindow(self._window.document, self._ask, self._window)
        _come_forward(self.export)

    def _ask_sheet(self, parent: QWidget) -> Path | None:
        return self._ask(parent, "Save the run sheet as", SHEETS, "-sheet.pdf")

    def _ask(self, parent: QWidget, title: str, kinds: str, ending: str) -> Path | None:
        """The file that is chosen; replacing one was asked for then."""
        session, desk = self._window.document.session, self._window.desk
        folder = desk.folder("output") or (str(session.path.parent) if session.path else "")
        name = session.name.removesuffix(".stack.toml") + ending
        ask = self._window.outputs.ask_file
        chosen = ask(parent, title, os.path.join(folder, name), kinds)
        if not chosen:
            return None
        desk.remember_folder("output", Path(chosen))
        return Path(chosen)


def _come_forward(window: QWidget) -> None:
    window.show()
    window.raise_()
    window.activateWindow()

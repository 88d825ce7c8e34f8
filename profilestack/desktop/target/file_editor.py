"""A wanted profile that follows a file: only where it lies can be changed here."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from profilestack.desktop.number_field import NumberField
from profilestack.desktop.target.editing import Editing
from profilestack.desktop.target.placing_form import PlacingForm
from profilestack.stack import FileTarget


class FileEditor(QWidget):
    """The file's name, and where its profile lies."""

    def __init__(self, editing: Editing) -> None:
        super().__init__()
        self._editing = editing
        self.name = QLabel()
        self.name.setWordWrap(True)
        self.placing = PlacingForm(editing.document)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.name)
        box.addWidget(self.placing)
        self.placing.edited.connect(self._place)

    def refresh(self) -> None:
        """Show the document's target."""
        target = self._target
        self.name.setText(
            f"Read from {target.file} whenever the document is opened. Take it as lines and arcs "
            "to edit it here."
        )
        self.placing.show_placed(target)

    @property
    def _target(self) -> FileTarget:
        target = self._editing.target
        assert isinstance(target, FileTarget), "the target is a file"
        return target

    def _place(self, edit: tuple[NumberField | None, dict[str, Any]], label: str) -> None:
        field, changes = edit
        self._editing.commit(lambda: (replace(self._target, **changes), label), field, label)

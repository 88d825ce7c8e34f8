"""The panel "Wanted profile"."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.stack import FileTarget, MemberTarget


class TargetPanel(QWidget):
    """Builds, draws, imports and places the wanted profile."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName("Wanted profile")
        self._words = QLabel()
        self._words.setWordWrap(True)
        box = QVBoxLayout(self)
        box.addWidget(self._words)
        box.addStretch()
        document.changed.connect(self._refresh)
        self._refresh()

    def import_file(self, path: Path) -> None:
        """Make the wanted profile from a drawing, measured points or a picture."""
        self.document.said.emit(f"{path.name} is not read yet")

    def _refresh(self) -> None:
        target = self.document.stack.target
        if target is None:
            self._words.setText("No wanted profile yet.")
        elif isinstance(target, MemberTarget):
            self._words.setText(f"{len(target.column.members)} members")
        elif isinstance(target, FileTarget):
            self._words.setText(f"From {target.file}")
        else:
            self._words.setText(f"{len(target.typed.steps)} lines and arcs")

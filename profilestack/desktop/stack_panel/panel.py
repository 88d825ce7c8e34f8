"""The passes in cutting order, and what they come to."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from profilestack.desktop.document import Document


class StackPanel(QWidget):
    """The stack of a document."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName("Stack")
        self._count = QLabel()
        QVBoxLayout(self).addWidget(self._count)
        document.changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the document as it is now."""
        self._count.setText(f"{len(self.document.stack.passes)} passes")

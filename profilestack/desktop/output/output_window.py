"""What every window of an output has: a name, messages on top, Escape to close it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.notices import Notices


class OutputWindow(QWidget):
    """A window of its own, beside that of the document."""

    def __init__(self, title: str, document: Document, parent: QWidget) -> None:
        super().__init__(parent, Qt.WindowType.Window)
        self.document = document
        self.notices = Notices()
        self.setWindowTitle(title)
        self.setAccessibleName(title)

    def come_forward(self) -> None:
        """Show it, before all others."""
        self.show()
        self.raise_()
        self.activateWindow()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes the window."""
        if event.key() == Qt.Key.Key_Escape:
            self.close()
            return
        super().keyPressEvent(event)

    def lay_out(self, inner: QBoxLayout, spacing: int = 16) -> None:
        """Messages on top, and ``inner`` under them, away from the edges."""
        inner.setContentsMargins(16, 16, 16, 16)
        inner.setSpacing(spacing)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.notices)
        box.addLayout(inner, 1)

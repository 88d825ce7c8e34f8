"""What the piece is made of and how it lies."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.drawing.wording import blank_text


class PiecePanel(QWidget):
    """The blank, the run, the setups and the tolerances of a document."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName("Piece")
        self._blank = QLabel()
        QVBoxLayout(self).addWidget(self._blank)
        document.changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the document as it is now."""
        self._blank.setText(blank_text(self.document.stack.blank, self.document.units))

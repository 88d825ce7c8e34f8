"""The panel "Ways to cut it"."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.background import Background
from profilestack.desktop.document import Document


class FindPanel(QWidget):
    """Asks the finder for ways to cut the wanted profile, and shows them."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.background = Background(self)
        self.setAccessibleName("Ways to cut it")
        self._find = QPushButton("Find ways to cut it")
        self._words = QLabel()
        self._words.setWordWrap(True)
        box = QVBoxLayout(self)
        box.addWidget(self._find)
        box.addWidget(self._words)
        box.addStretch()
        document.changed.connect(self._refresh)
        self._refresh()

    def _refresh(self) -> None:
        has_target = self.document.stack.target is not None
        self._find.setEnabled(has_target)
        self._words.setText("" if has_target else "Draw the wanted profile first.")

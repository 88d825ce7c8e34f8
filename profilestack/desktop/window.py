"""The window of one document: the section in the middle, panels at both sides, words at the foot."""

from __future__ import annotations

from PySide6.QtWidgets import QMainWindow, QVBoxLayout, QWidget

from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document
from profilestack.desktop.notices import Notices
from profilestack.desktop.panels import dock_panels


class Window(QMainWindow):
    """One document, seen and edited."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.axis = Axis(self)
        self.notices = Notices()
        middle = QWidget()
        box = QVBoxLayout(middle)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.notices)
        box.addStretch()
        self.setCentralWidget(middle)
        self.docks = dock_panels(self, document)
        self.statusBar()
        document.said.connect(lambda text: self.statusBar().showMessage(text, 8000))
        document.file_changed.connect(self._retitle)
        self.resize(1280, 800)
        self._retitle()

    def _retitle(self) -> None:
        self.setWindowTitle(f"{self.document.session.name}[*]")
        self.setWindowModified(self.document.session.is_modified)

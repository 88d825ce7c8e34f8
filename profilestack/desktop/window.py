"""The window: the drawer left, the section between its strips, the stack right."""

from __future__ import annotations

from PySide6.QtWidgets import QMainWindow

from profilestack.desktop.axis import Axis
from profilestack.desktop.document import Document


class Window(QMainWindow):
    """One document, seen and edited."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.axis = Axis(self)
        self.setWindowTitle("profilestack")

"""Which of the bits are shown: shape, size, words."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from profilestack.bits.library import Library, filtered
from profilestack.bits.shapes import SHAPES
from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField


class Filters(QWidget):
    """Fields that narrow down a library."""

    changed = Signal()
    """Other bits are wanted."""

    finished = Signal()
    """Enter in the search: on to the bits."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.search = QLineEdit()
        self.shape = QComboBox()
        self.smallest = LengthField(
            document, "Smallest diameter", low=0.0, optional=True,
            about="Only bits that cut this wide or wider.",
        )  # fmt: skip
        self.largest = LengthField(
            document, "Largest diameter", low=0.0, optional=True,
            about="Only bits that cut this wide or narrower.",
        )  # fmt: skip
        self._build()

    def applied_to(self, library: Library) -> Library:
        """The bits of the library that are wanted."""
        word = self.shape.currentData()
        shapes = () if word is None else (word,)
        sizes = (self.smallest.value, self.largest.value)
        return filtered(library, shapes, *sizes, self.search.text())

    @property
    def is_set(self) -> bool:
        """Whether anything is filtered out."""
        sizes = (self.smallest.value, self.largest.value)
        return bool(self.search.text() or self.shape.currentData() or any(sizes))

    def clear(self) -> None:
        """Want all bits again."""
        self.search.clear()
        self.shape.setCurrentIndex(0)
        self.smallest.value = self.largest.value = None
        self.changed.emit()

    def _build(self) -> None:
        self.search.setAccessibleName("Search bits")
        self.search.setPlaceholderText("Search, as 3/8 cove or half-round")
        self.search.setToolTip(
            "Words of a bit's name, kind or note; the other usual names of a thing count too"
        )
        self.search.setClearButtonEnabled(True)
        self.shape.setAccessibleName("Shape")
        self.shape.setToolTip("Only bits of this shape")
        self.shape.addItem("All shapes", None)
        for word in SHAPES:
            self.shape.addItem(word.replace("-", " "), word)
        self.smallest.setPlaceholderText("from")
        self.largest.setPlaceholderText("to")
        self.search.textChanged.connect(self.changed)
        self.search.returnPressed.connect(self.finished)
        self.shape.currentIndexChanged.connect(self.changed)
        for field in (self.smallest, self.largest):
            # a field takes its number only after its listeners have had their say
            field.committed.connect(self.changed, Qt.ConnectionType.QueuedConnection)
            field.cleared.connect(self.changed)
        line = QHBoxLayout()
        line.addWidget(self.shape, 2)
        line.addWidget(self.smallest, 1)
        line.addWidget(self.largest, 1)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(8)
        box.addWidget(self.search)
        box.addLayout(line)

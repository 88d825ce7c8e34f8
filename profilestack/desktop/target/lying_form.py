"""How a molding of members lies on the bed, and how thick it is."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import AngleField, LengthField
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.desktop.number_field import NumberField
from profilestack.targets.member_shapes.base import LARGEST
from profilestack.targets.members import LIES, MemberColumn

SAID = {
    "upright": "upright, as installed",
    "head-down": "head down, its top on the bed",
    "flat": "flat on its back",
    "sprung": "sprung, its sloping back on the bed",
}


class LyingForm(QWidget):
    """The lie, the wood behind, and what a sprung molding has besides."""

    lie_chosen = Signal(str)

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.lie = Choice()
        self.back = LengthField(
            document, "Wood behind", low=0.0, high=LARGEST,
            about="Thickness of the wood behind the least projection",
        )  # fmt: skip
        self.spring = AngleField(
            "Spring angle", low=1.0, high=89.0, optional=True,
            about="Between the sloping back and the wall: 45 or 38 as a rule",
        )  # fmt: skip
        self.bottom = LengthField(
            document, "Width of the bottom", low=0.0, high=LARGEST, optional=True,
            about="From the wall to the face where that is nearest; empty: as thick as the back",
        )  # fmt: skip
        for lie in LIES:
            self.lie.addItem(SAID.get(lie, lie), lie)
        self.lie.setToolTip("How the molding lies on the bed while it is cut")
        self.numbers: dict[str, NumberField] = {
            "back": self.back, "spring": self.spring, "bottom": self.bottom,
        }  # fmt: skip
        self._sprung = [Labelled(f.accessibleName(), f) for f in (self.spring, self.bottom)]
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(Labelled("How it lies", self.lie), 0, 0, 1, 2)
        grid.addWidget(Labelled("Wood behind", self.back), 1, 0, 1, 2)
        for place, row in enumerate(self._sprung):
            grid.addWidget(row, 2, place, alignment=Qt.AlignmentFlag.AlignBottom)
        self.lie.activated.connect(lambda: self.lie_chosen.emit(self.lie.currentData()))

    def show_column(self, column: MemberColumn) -> None:
        """Show how a column lies."""
        self.lie.setCurrentIndex(self.lie.findData(column.lie))
        for row in self._sprung:
            row.setVisible(column.lie == "sprung")
        self.back.value = column.back
        self.spring.value, self.bottom.value = column.spring, column.bottom

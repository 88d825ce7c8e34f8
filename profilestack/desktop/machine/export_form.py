"""What is exported, and how: a plain form of the order's options."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.desktop.machine.after_rest import Task
from profilestack.desktop.machine.papers import fill_papers
from profilestack.jobs.exports import EXPORTS
from profilestack.jobs.exports.order import MOST_EXTRA, ExportOrder

VERSIONS = {"R2010": "R2010", "R2000": "R2000", "R12": "R12, for old programs"}
SHOWN = {"both": "section and axes", "section": "the section", "plan": "the axes in plan"}
ZEROS = {"bed": "on the bed under the blank", "face": "on the face on top of the blank"}
EXTRA = "Wood beyond each end"
UNITS = {"mm": "millimetres", "in": "inches"}

OPTIONS = {
    ".dxf": ("units", "version", "show", "polylines"),
    ".svg": ("show",),
    ".csv": ("units",),
    ".pdf": ("units", "paper"),
    ".nc": ("units", "zero", "extra", "per_bit"),
}
"""Which options a kind of file has."""


class ExportForm(QWidget):
    """A choice of the kind of file, and under it what can be chosen about it."""

    changed = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.kind = Choice("Kind of file")
        for ending, kind in EXPORTS.items():
            self.kind.addItem(f"{ending[1:].upper()}: {kind.about}", ending)
        self.units = _choice("Units", UNITS, "Of the numbers in the file")
        self.units.setCurrentIndex(self.units.findData(document.units))
        self.version = _choice("Version", VERSIONS, "Of the DXF; old programs read R12")
        self.show_what = _choice("Drawn", SHOWN, "What is drawn")
        self.polylines = QCheckBox("Arcs as straight pieces (within 0.001 mm)")
        self.polylines.setToolTip("For programs that know no arcs in polylines")
        self.paper = Choice("Paper")
        self.paper.setToolTip("The paper of the report")
        fill_papers(self.paper, document)
        self.zero = _choice("Height 0", ZEROS, "Where z is 0 on your machine")
        self.extra = LengthField(
            document, EXTRA, low=0.0, high=MOST_EXTRA,
            about="Bits start and stop beyond it.",
        )  # fmt: skip
        self.extra.value = 0.0
        self.per_bit = QCheckBox("A file for each bit, no changes in it")
        self.per_bit.setToolTip("Otherwise one file a setup, with a stop for each change of bit")
        self.kind.setToolTip("What is written")
        self.rows: dict[str, QWidget] = {
            "units": Labelled("Units", self.units),
            "version": Labelled("Version", self.version),
            "show": Labelled("Drawn", self.show_what),
            "polylines": self.polylines,
            "paper": Labelled("Paper", self.paper),
            "zero": Labelled("Height 0", self.zero),
            "extra": Labelled(EXTRA, self.extra),
            "per_bit": self.per_bit,
        }
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(8)
        box.addWidget(Labelled("Kind of file", self.kind))
        for row in self.rows.values():
            box.addWidget(row)
        self.kind.currentIndexChanged.connect(self._kind_changed)
        document.units_changed.connect(self._units_changed)
        self._kind_changed()

    @property
    def ending(self) -> str:
        """The ending of the file that is wanted."""
        ending: str = self.kind.currentData()
        return ending

    @property
    def trouble(self) -> str:
        """What is wrong in the form."""
        return self.extra.trouble if "extra" in OPTIONS[self.ending] else ""

    def order(self, task: Task, path: Path) -> ExportOrder:
        """What is asked for; options that the kind does not have are as usual."""
        asked: dict[str, Any] = {
            "version": self.version.currentData(),
            "polylines": self.polylines.isChecked(),
            "show": self.show_what.currentData(),
            "paper": self.paper.currentData(),
            "zero": self.zero.currentData(),
            "per_bit": self.per_bit.isChecked(),
            "extra": self.extra.value or 0.0,
        }
        own = {key: value for key, value in asked.items() if key in OPTIONS[self.ending]}
        units = self.units.currentData()
        return ExportOrder(task.stack, task.bits, path, units, shop=task.shop, **own)

    def _kind_changed(self) -> None:
        for name, row in self.rows.items():
            row.setVisible(name in OPTIONS[self.ending])
        self.changed.emit()

    def _units_changed(self) -> None:
        self.units.setCurrentIndex(self.units.findData(self._document.units))


def _choice(name: str, words: dict[str, str], about: str) -> Choice:
    choice = Choice(name)
    for key, said in words.items():
        choice.addItem(said, key)
    choice.setToolTip(about)
    return choice

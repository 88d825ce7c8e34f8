"""The papers that can be chosen."""

from __future__ import annotations

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Choice
from profilestack.drawing.template.options import PAPERS


def fill_papers(choice: Choice, document: Document) -> None:
    """All papers; at first the one that the command line takes: Letter for a stack in inches."""
    for paper, (width, height) in PAPERS.items():
        choice.addItem(f"{paper}, {width:.0f} x {height:.0f} mm", paper)
    choice.setCurrentIndex(choice.findData("Letter" if document.stack.units == "in" else "A4"))

"""What the piece is made of, how it runs and how it lies, as plain forms."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.piece.blank_form import BlankForm, HeadForm, RunForm, ToleranceForm
from profilestack.desktop.piece.setups_form import SetupsForm
from profilestack.stack import Stack


class PiecePanel(QScrollArea):
    """The blank, the run, the setups, the tolerances and the units of a document.

    Each field that is entered is one step that can be undone; what the engine refuses stays in
    its field, with the reason below.
    """

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.setAccessibleName("Piece")
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.head, self.blank = HeadForm(document), BlankForm(document)
        self.run, self.setups = RunForm(document), SetupsForm(document)
        self.tolerance = ToleranceForm(document)
        self.forms = (self.head, self.blank, self.run, self.setups, self.tolerance)
        inner = QWidget()
        box = QVBoxLayout(inner)
        box.setContentsMargins(16, 8, 16, 8)
        box.setSpacing(8)
        for form in self.forms:
            box.addWidget(form)
        box.addStretch()
        self.setWidget(inner)
        self._units = document.stack.units
        self._shown: tuple[object, ...] = (None,) * len(self.forms)
        document.changed.connect(self.refresh)
        document.units_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Show the document as it is now; a form that shows nothing new is left alone."""
        stack = self.document.stack
        if stack.units != self._units:
            # who changes the document's units wants to see it in them
            self._units = stack.units
            self.document.set_units(stack.units)
        told = _told(stack, self.document.units)
        for form, new, old in zip(self.forms, told, self._shown, strict=True):
            if new != old:
                form.refresh()
        self._shown = told


def _told(stack: Stack, units: str) -> tuple[object, ...]:
    """What each form tells, so that a moving hand does not refresh what stays."""
    used = tuple(single.setup for single in stack.passes)
    return (
        (stack.title, stack.units, stack.blank.species),
        (stack.blank, units),
        stack.run,
        (stack.setups, type(stack.run), used),
        stack.tolerance,
    )

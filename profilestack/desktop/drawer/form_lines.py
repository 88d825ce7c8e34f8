"""All lines of a bit's form, one under the other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtWidgets import QGridLayout, QScrollArea, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.drawer.form_row import FormRow
from profilestack.errors import Problem
from profilestack.session.bit_form import form_keys


class FormLines(QScrollArea):
    """The lines for the keys of a shape; each says itself what is wrong with its value."""

    changed = Signal(str)
    """The value of a key is another one."""

    drawing_wanted = Signal()
    """An outline is to be read from a drawing."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.rows: dict[str, FormRow] = {}
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # the fields take the focus, their frame does not
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)

    def show_shape(self, filled: Mapping[str, Any]) -> None:
        """Lay out the lines of a shape anew, with what is filled in."""
        page = QWidget()
        grid = QGridLayout(page)
        grid.setContentsMargins(0, 0, 8, 0)
        grid.setColumnStretch(1, 1)
        self.rows = {}
        for line, key in enumerate(form_keys(filled["shape"])):
            row = FormRow(self._document, key, page)
            row.put(filled.get(key.word))
            row.changed.connect(self.changed)
            row.pressed.connect(self.drawing_wanted)
            grid.addWidget(row.label, 2 * line, 0)
            grid.addWidget(row.field, 2 * line, 1)
            grid.addWidget(row.problem, 2 * line + 1, 0, 1, 2)
            self.rows[key.word] = row
        grid.setRowStretch(2 * len(self.rows), 1)
        self.setWidget(page)

    def say_nothing(self) -> None:
        """Leave only what a field itself does not understand."""
        for row in self.rows.values():
            row.say(getattr(row.field, "trouble", ""))

    def say(self, problems: Iterable[Problem], *, missing_too: bool) -> list[Problem]:
        """Say problems at their keys; those that have none here are given back.

        What is not filled in yet is no mistake before somebody wants to keep the bit.
        """
        loose = []
        for problem in problems:
            row = self.rows.get(problem.where.partition(".")[0].partition("[")[0])
            if row is None:
                loose.append(problem)
            elif missing_too or row.touched or row.value is not None:
                expected = f"; expected {problem.expected}" if problem.expected else ""
                row.say(problem.text + expected)
        return loose

    def go_to_problem(self) -> bool:
        """Go to the first line that something is wrong with, if there is one."""
        wrong = [row for row in self.rows.values() if row.said]
        if wrong:
            wrong[0].field.setFocus(Qt.FocusReason.OtherFocusReason)
            self.ensureWidgetVisible(wrong[0].field)
        return bool(wrong)

    def changeEvent(self, event: QEvent) -> None:
        """Another theme: what is wrong is said in its colour."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            for row in self.rows.values():
                row.say(row.said)

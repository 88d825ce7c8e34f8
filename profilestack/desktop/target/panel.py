"""The panel "Wanted profile"."""

from __future__ import annotations

import operator
from dataclasses import replace
from pathlib import Path

from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import (
    QFileDialog,
    QGridLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Trouble
from profilestack.desktop.scrolling import scrolled
from profilestack.desktop.target.editing import Editing
from profilestack.desktop.target.file_editor import FileEditor
from profilestack.desktop.target.import_view import ImportView
from profilestack.desktop.target.members_editor import MembersEditor
from profilestack.desktop.target.path_drawing import PathDrawing
from profilestack.desktop.target.path_editor import PathEditor
from profilestack.files.targets import READERS
from profilestack.geometry.path import Path as Drawn
from profilestack.session.member_edits import first_column
from profilestack.session.path_edits import as_lines, first_path
from profilestack.session.target_fit import (
    FittedBlank,
    target_trouble,
    with_fitting_blank,
    with_snug_blank,
)
from profilestack.stack import FileTarget, MemberTarget, PathTarget, Stack, Target

NONE, MEMBERS, PATH, FILE = "none", "members", "path", "file"

SAID = {
    NONE: "There is no wanted profile yet. Make one of",
    MEMBERS: "Made of classical members",
    PATH: "Made of lines and arcs",
    FILE: "Follows a file",
}


class TargetPanel(QWidget):
    """Builds, draws, imports and places the wanted profile."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.document = document
        self.editing = Editing(document, self)
        self.setAccessibleName("Wanted profile")
        self.made_of = QLabel()
        self.build, self.draw = QPushButton("Members"), QPushButton("Lines and arcs")
        self.load = QPushButton("Import\N{HORIZONTAL ELLIPSIS}")
        self.remove = QPushButton("Clear profile")
        self.load.setToolTip("From DXF, SVG, measured points (CSV) or a picture")
        self.drawing = PathDrawing(document)
        self.trouble = Trouble()
        self.fit_blank = QPushButton()
        self.members = MembersEditor(self.editing)
        self.path = PathEditor(self.editing, self.drawing)
        self.file = FileEditor(self.editing)
        self.importing = ImportView(document)
        self._said = ""
        self._seen: tuple[object, ...] = ()
        self._lay_out()
        self.build.clicked.connect(
            lambda: self._put(MemberTarget(first_column()), "Begin with members")
        )
        self.draw.clicked.connect(self._as_lines)
        self.load.clicked.connect(self._choose_file)
        self.remove.clicked.connect(lambda: self._put(None, "Clear the wanted profile"))
        self.fit_blank.clicked.connect(self._fit_blank)
        self.importing.left.connect(self._refresh)
        self.editing.troubled.connect(self._tell)
        document.changed.connect(self._refresh)
        document.units_changed.connect(self._refresh)
        self._refresh()

    def import_file(self, path: Path) -> None:
        """Make the wanted profile from a drawing, measured points or a picture."""
        self.importing.open_file(path)
        self._refresh()

    def hideEvent(self, event: QHideEvent) -> None:
        """A panel that is not seen previews nothing."""
        super().hideEvent(event)
        self.editing.abandon()

    def _lay_out(self) -> None:
        self._head = QWidget()
        head = QVBoxLayout(self._head)
        head.setContentsMargins(0, 0, 0, 0)
        self.made_of.setWordWrap(True)
        head.addWidget(self.made_of)
        grid = QGridLayout()
        for place, button in enumerate((self.build, self.draw, self.load, self.remove)):
            grid.addWidget(button, place // 2, place % 2)
        head.addLayout(grid)
        scroll = scrolled(
            self._head, self.drawing, self.trouble, self.fit_blank, self.members,
            self.path, self.file, self.importing,
        )  # fmt: skip
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scroll)

    def _refresh(self) -> None:
        stack, settled = self.document.stack, self.document.session.settled
        is_importing = self.importing.file is not None
        seen = (settled, stack.target, stack.blank, self.document.units, is_importing)
        if len(seen) == len(self._seen) and all(map(operator.is_, seen, self._seen)):
            return  # while a pass is dragged nothing changes here
        self._seen = seen
        kind = _kind(settled.target)
        self._head_for(kind)
        shown = {
            self._head: not is_importing,
            self.drawing: not is_importing and kind != NONE,
            self.members: not is_importing and kind == MEMBERS,
            self.path: not is_importing and kind == PATH,
            self.file: not is_importing and kind == FILE,
            self.importing: is_importing,
        }
        for widget, is_shown in shown.items():
            widget.setVisible(is_shown)
        path: Drawn | None = None if stack.target is None else stack.target.path()
        self.drawing.show_path(stack.blank, path, kind == PATH)
        if stack is settled or stack.target == settled.target:
            if kind == MEMBERS:
                self.members.refresh()
            elif kind == PATH:
                self.path.refresh()
            elif kind == FILE:
                self.file.refresh()
            self._said = ""
        self._tell(self._said)

    def _tell(self, said: str) -> None:
        """Say what could not be done, and what is wrong with where the profile lies."""
        self._said = said
        stack = self.document.session.settled
        is_importing = self.importing.file is not None
        lies = "" if is_importing else target_trouble(stack)
        self.trouble.say("" if is_importing else "\n".join(text for text in (said, lies) if text))
        fitted = None if is_importing else _fitted(stack)
        self.fit_blank.setVisible(fitted is not None)
        if fitted is not None:
            self.fit_blank.setText(fitted.label(self.document.units))
            self.fit_blank.setToolTip(
                "So that it holds the profile" if lies else "So that no more has to be roughed out"
            )

    def _head_for(self, kind: str) -> None:
        self.made_of.setText(SAID[kind])
        self.remove.setEnabled(kind != NONE)
        self.remove.setToolTip(
            "Have no wanted profile; it can be undone" if kind != NONE else "There is none"
        )
        self.build.setEnabled(kind != MEMBERS)
        self.build.setToolTip(
            {
                NONE: "Begin with classical members, one under the other",
                MEMBERS: "It is made of members already",
            }.get(kind, "Begin anew with classical members in its place; it can be undone")
        )
        self.draw.setEnabled(kind != PATH)
        self.draw.setToolTip(
            {
                NONE: "Begin with a line across the blank",
                PATH: "It is made of lines and arcs already",
            }.get(kind, "Keep its shape, but edit it as lines and arcs")
        )

    def _as_lines(self) -> None:
        stack = self.document.session.settled
        if stack.target is None:
            self._put(first_path(stack.blank), "Begin with lines")
        else:
            self._put(as_lines(stack.target), "Take it as lines and arcs")

    def _put(self, target: Target | None, label: str) -> None:
        self.document.edit(replace(self.document.session.settled, target=target), label)

    def _fit_blank(self) -> None:
        fitted = _fitted(self.document.session.settled)
        if fitted is not None:
            self.document.edit(fitted.stack, "Fit the blank to the profile")

    def _choose_file(self) -> None:
        kinds = " ".join(f"*{ending}" for ending in READERS)
        name, _ = QFileDialog.getOpenFileName(
            self, "Import a profile", "", f"Drawings, points, pictures ({kinds})"
        )
        if name:
            self.import_file(Path(name))


def _fitted(stack: Stack) -> FittedBlank | None:
    """A blank that suits the profile better: one that holds it, or that is no larger."""
    return with_fitting_blank(stack) if target_trouble(stack) else with_snug_blank(stack)


def _kind(target: Target | None) -> str:
    if target is None:
        return NONE
    if isinstance(target, MemberTarget):
        return MEMBERS
    if isinstance(target, FileTarget):
        return FILE
    assert isinstance(target, PathTarget), "there are three kinds of target"
    return PATH

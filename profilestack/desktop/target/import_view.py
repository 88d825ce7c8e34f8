"""A profile from another file: previewed with what is asked about it, then taken or left."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Trouble
from profilestack.desktop.target.chain_sheet import ChainSheet
from profilestack.desktop.target.fit_drawing import FitDrawing
from profilestack.desktop.target.import_form import ImportForm
from profilestack.desktop.target.reading_wait import ReadingWait
from profilestack.errors import InputError, ProfilestackError
from profilestack.files.targets.isolation import read_view
from profilestack.files.targets.picture_view import PictureView
from profilestack.jobs.target import TargetReport, make_target
from profilestack.session.import_words import all_told, fault_told, note_told, several_told
from profilestack.session.target_import import (
    on_screen,
    problems_on_screen,
    summary,
    with_imported,
)
from profilestack.targets.choosing import SeveralChains
from profilestack.targets.tracing import Chain

DOING = {
    "picture": "Reading and tracing the picture",
    "table": "Reading the points",
    "drawing": "Reading the drawing",
}
"""What is said while a file of each kind is read."""


class ImportView(QWidget):
    """Reads the file anew whenever another answer is given."""

    left = Signal()
    """The file was taken, or left alone."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.background, self.looking = Background(self), Background(self)
        self.file: Path | None = None
        self.report: TargetReport | None = None
        self._chains: tuple[Chain, ...] = ()
        self.form = ImportForm(document)
        self.marks, self.sheet = self.form.marks, ChainSheet()
        self.title, self.told = QLabel(), QLabel()
        self.drawing, self.trouble = FitDrawing(), Trouble()
        self.take_it, self.leave = QPushButton("Take it"), QPushButton("Leave it")
        self.wait = ReadingWait(self.background, self.looking)
        self._lay_out()
        self.form.changed.connect(self.read)
        self.form.way_changed.connect(self._look)
        self.sheet.picked.connect(self.form.pick)
        self.looking.done.connect(self._looked)
        self.looking.failed.connect(self._failed)
        self.take_it.clicked.connect(self.take)
        self.leave.clicked.connect(self.close_file)
        self.background.done.connect(self._read)
        self.background.failed.connect(self._failed)
        self.wait.cancelled.connect(self._cancelled)
        self.wait.again.connect(self._again)
        document.units_changed.connect(self._show)

    def open_file(self, file: Path) -> None:
        """Begin with a file."""
        self.looking.drop()
        self.wait.clear()
        self.file, self.report, self._chains = file, None, ()
        self.title.setText(f"From {file.name}")
        self.title.setToolTip(str(file))
        self.form.ask_about(file)
        self.trouble.say("")
        self._look()
        self._show()
        self.read()

    def read(self) -> None:
        """Read the file with what the form says."""
        if self.file is None:
            return
        try:
            request = self.form.request(self.file)
        except InputError as error:
            self.background.drop()
            self._failed(error)
            return
        if request is not None:
            self.wait.begin(DOING[self.form.kind])
            self.background.run(make_target, request)
            self._show_ready()
            return
        # what was read with other answers is no answer any more
        self.background.drop()
        if self.form.is_scaled_by_points:
            self.report = None
            self.form.forget_problems()
            self.trouble.say("")
        self._show()

    def take(self) -> None:
        """Make what was read the wanted profile, as one step that can be undone."""
        if self.report is None or self.file is None or self.background.is_busy:
            return
        stack = with_imported(self.document.session.settled, self.report)
        self.document.edit(stack, f"Import {self.file.name}")
        self.document.said.emit(f"{self.file.name}: {summary(self.report, self.document.units)}")
        self.close_file()

    def close_file(self) -> None:
        """Have no file any more."""
        self.background.drop()
        self.looking.drop()
        self.wait.clear()
        self.file = None
        self.left.emit()

    def _look(self) -> None:
        """Show the picture once two points are to be put on it."""
        is_wanted = self.form.is_scaled_by_points
        self.marks.setVisible(is_wanted)
        if is_wanted and self.file is not None and not self.marks.picture.has_picture:
            self.wait.begin("Reading the picture")
            self.looking.run(read_view, self.file)

    def _again(self) -> None:
        self.wait.clear()
        self._look()
        self.read()

    def _cancelled(self) -> None:
        """What was read with other answers is no answer any more."""
        self.report = None
        self._show()

    def _looked(self, view: PictureView) -> None:
        self.marks.show_picture(view)

    def _read(self, report: TargetReport) -> None:
        self.report = report
        is_picked = self.form.numbers["pick"].value is not None
        self._chains = report.chains if is_picked else ()
        self.form.forget_problems()
        self.trouble.say("")
        self._show()

    def _failed(self, error: ProfilestackError) -> None:
        self.report = None
        if isinstance(error, SeveralChains):
            self._chains = error.chains
        elif self.form.numbers["pick"].value is None:
            self._chains = ()
        self.form.forget_problems()
        self.trouble.say(self._told(error))
        self._show()

    def _told(self, error: ProfilestackError) -> str:
        """What is wrong and belongs to no field; the fields are told theirs."""
        kind = self.form.kind
        if not isinstance(error, InputError):
            assert self.file is not None, "it is the file that cannot be read"
            return on_screen(fault_told(str(error), self.file, kind))
        if isinstance(error, SeveralChains) and self.form.numbers["pick"].value is None:
            return several_told(len(error.chains), kind)
        return all_told(self.form.refuse(problems_on_screen(error)), kind)

    def _show(self) -> None:
        report = self.report
        self.drawing.show_report(report)
        picked = self.form.numbers["pick"].value
        is_to_choose = len(self._chains) > 1
        if is_to_choose:
            number = None if picked is None else round(picked)
            self.sheet.show_chains(self._chains, number, self.document.units)
        self.sheet.setVisible(is_to_choose)
        self.drawing.setVisible(report is not None)
        self._show_ready()
        if report is None:
            self._tell("")
            return
        lines = [
            summary(report, self.document.units),
            *map(note_told, map(on_screen, report.notes)),
        ]
        self._tell("\n".join(lines))

    def _show_ready(self) -> None:
        """Whether there is something to take."""
        is_busy = self.background.is_busy
        is_ready = self.report is not None and not is_busy
        why = "The file is still being read" if is_busy else "Nothing is read yet"
        self.take_it.setEnabled(is_ready)
        self.take_it.setToolTip("Make it the wanted profile" if is_ready else why)

    def _tell(self, text: str) -> None:
        self.told.setText(text)
        self.told.setVisible(bool(text))

    def _lay_out(self) -> None:
        font = self.title.font()
        font.setBold(True)
        self.title.setFont(font)
        for label in (self.title, self.told):
            label.setWordWrap(True)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        for widget in (
            self.title, self.wait, self.marks, self.sheet, self.drawing, self.told, self.trouble,
        ):  # fmt: skip
            box.addWidget(widget)
        row = QHBoxLayout()
        row.addWidget(self.take_it)
        row.addWidget(self.leave)
        box.addLayout(row)
        box.addWidget(self.form)

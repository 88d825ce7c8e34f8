"""The page "Test cut": what was measured on a test cut, what explains it, and new settings."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QModelIndex, Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QFileDialog,
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from profilestack.desktop.background import Background
from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.desktop.labelled import Labelled, Trouble
from profilestack.desktop.machine.after_rest import AfterRest, Task, task_of
from profilestack.desktop.machine.page_list import PageList
from profilestack.desktop.machine.readings_form import ReadingsForm
from profilestack.desktop.paragraph import Paragraph
from profilestack.desktop.scrolling import scrolled
from profilestack.errors import ProfilestackError
from profilestack.jobs.measure import Measured, MeasureWishes, measure, measure_readings
from profilestack.planning.check_dimensions import CheckDimension, check_dimensions
from profilestack.planning.explaining import TRUE_TO
from profilestack.planning.usual_errors import errors_on
from profilestack.progress import Progress
from profilestack.session.measure_words import LABEL, measured_rows, measured_summary

ABOUT = (
    "Cut a test piece, measure it where the run sheet has its numbered boxes, and type what you "
    "read; leave out what you did not measure."
)
NOTHING = "Nothing to measure: the stack cuts no face that a gauge could read."
WORKING = "Being worked out …"
POINTS = "Measured points or readings (*.csv *.txt *.tsv *.xyz *.dxf *.svg);;All files (*)"


@dataclass(frozen=True, slots=True)
class Asked:
    """A document and what was measured on its test cut: readings, or a file."""

    task: Task
    wishes: MeasureWishes
    readings: dict[int, float]
    file: Path | None = None


class TestCutPage(QWidget):
    """The form above, the explanation below."""

    __test__ = False  # its name is the shop's, not that of a test

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.document = document
        self.ask_file: Callable[[QWidget], str] = _ask_file
        self.work = AfterRest(document, _checks, self)
        self.found: Measured | None = None
        self._asked: Asked | None = None
        self.explaining = Background(self)
        self.form = ReadingsForm(document)
        self.true_to = LengthField(
            document, "Readings are true to", low=1e-4, high=10.0,
            about="One standard deviation of what you measure (common practice for a gauge).",
        )  # fmt: skip
        self.true_to.value = TRUE_TO
        self.anywhere = QCheckBox("Points of a file lie anywhere")
        self.anywhere.setToolTip(
            "They are not measured from the blank's lower left: lay them over the section"
        )
        self.state, self.summary = Paragraph("State", quiet=True), Paragraph("Explanation")
        self.trouble = Trouble()
        self.explain = QPushButton("&Explain the readings")
        self.from_file = QPushButton("Points from a &file …")
        self.list = PageList("What explains the test cut", "Choosing a pass chooses it")
        self.take = QPushButton("&Take these settings")
        self.lower_half = QWidget()
        self._lay_out()
        self._connect()
        self.refresh()

    def refresh(self) -> None:
        """Show what is known now."""
        checks: tuple[CheckDimension, ...] | None = self.work.answer
        fresh = self.work.is_fresh
        if checks is not None:
            self.form.show_checks(checks)
        none = fresh and not checks
        if self.document.report is None:
            self.state.say("There is nothing to measure: the stack cannot be cut as it is.")
        else:
            self.state.say(NOTHING if none else ABOUT if fresh else WORKING)
        self._show_found()
        self._enable()

    def explain_file(self, path: Path) -> None:
        """Explain the points or readings of a file."""
        self._start({}, path)

    def _start(self, readings: dict[int, float], path: Path | None) -> None:
        task = task_of(self.document)
        self.trouble.say("")
        self.found = None
        if task is None:
            return
        true_to = TRUE_TO if self.true_to.value is None else self.true_to.value
        errors = errors_on(task.shop.machine)
        wishes = MeasureWishes(true_to, self.anywhere.isChecked(), errors)
        self._asked = Asked(task, wishes, readings, path)
        self.explaining.run(_explained, self._asked)
        self._show_found()
        self._enable()

    def _explain(self) -> None:
        for field in (self.true_to, self.form):
            field.commit()
        if not (self.form.trouble or self.true_to.trouble):
            self._start(self.form.readings, None)

    def _ask(self) -> None:
        name = self.ask_file(self)
        if name:
            self.explain_file(Path(name))

    def _hear(self, found: Measured) -> None:
        self.found = found
        self._show_found()
        self._enable()

    def _hear_trouble(self, error: ProfilestackError) -> None:
        self.trouble.say(str(error))
        self._show_found()
        self._enable()

    def _show_found(self) -> None:
        found, units = self.found, self.document.units
        busy = self.explaining.is_busy
        self.lower_half.setVisible(found is not None or busy or not self.trouble.isHidden())
        if found is None:
            self.summary.say(WORKING if busy else "")
            self.list.rows.show_rows(())
            return
        told = measured_summary(found, units)
        if not self._holds():
            told = f"Before the last edit: {told}"
        self.summary.say(" ".join((told, *found.notes)))
        self.list.rows.show_rows(measured_rows(found, units))

    def _holds(self) -> bool:
        """Whether what was found is of the stack that is shown."""
        return self.found is not None and self.found.explanation.stack is self.document.stack

    def _enable(self) -> None:
        many = len(self.form.readings)
        able = self.work.is_fresh and many >= 2 and not self.explaining.is_busy
        self.explain.setEnabled(able)
        about = "Find the offsets, depths and diameters that explain the readings best"
        self.explain.setToolTip(about if able else f"{about}. It takes two readings at least.")
        can = task_of(self.document) is not None and not self.explaining.is_busy
        self.from_file.setEnabled(can)
        self.from_file.setToolTip(
            "A table with the columns check and measured_mm, points with x and z, or a drawing"
        )
        self.take.setEnabled(self._holds())
        about = "Set offsets and depths so that what was off is undone, as one step for Undo"
        why = "Explain a test cut of this stack first."
        self.take.setToolTip(about if self._holds() else f"{about}. {why}")

    def _take(self) -> None:
        if self.found is not None and self._holds():
            self.document.edit(self.found.corrected, LABEL)

    def _chosen(self, current: QModelIndex, _before: QModelIndex) -> None:
        row = self.list.row(current)
        if self._holds() and row is not None and row.place is not None:
            self.document.choose((row.place,))

    def _connect(self) -> None:
        self.work.changed.connect(self.refresh)
        self.document.units_changed.connect(self.refresh)
        self.form.changed.connect(self._enable)
        self.explain.clicked.connect(self._explain)
        self.from_file.clicked.connect(self._ask)
        self.take.clicked.connect(self._take)
        self.explaining.done.connect(self._hear)
        self.explaining.failed.connect(self._hear_trouble)
        self.explaining.ended.connect(self._enable)
        self.list.selectionModel().currentChanged.connect(self._chosen)

    def _lay_out(self) -> None:
        true_to = Labelled("Readings are true to", self.true_to)
        upper = QWidget()
        buttons = QHBoxLayout()
        buttons.setContentsMargins(8, 0, 8, 0)
        buttons.setSpacing(8)
        buttons.addWidget(self.explain)
        buttons.addWidget(self.from_file)
        top, bottom = QVBoxLayout(upper), QVBoxLayout(self.lower_half)
        for box in (top, bottom):
            box.setSpacing(8)
        top.setContentsMargins(0, 0, 0, 8)
        top.addWidget(scrolled(self.state, self.form, true_to, self.anywhere), 1)
        top.addLayout(buttons)
        bottom.setContentsMargins(8, 8, 8, 8)
        for part in (self.trouble, self.summary):
            bottom.addWidget(part)
        bottom.addWidget(self.list, 1)
        bottom.addWidget(self.take)
        halves = QSplitter(Qt.Orientation.Vertical)
        halves.setChildrenCollapsible(False)
        halves.addWidget(upper)
        halves.addWidget(self.lower_half)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(halves)


def _checks(task: Task, progress: Progress) -> tuple[CheckDimension, ...]:
    del progress  # a moment's work
    return check_dimensions(task.stack, task.bits)


def _explained(asked: Asked, progress: Progress) -> Measured:
    del progress  # a moment's work
    task = asked.task
    if asked.file is not None:
        return measure(task.stack, task.bits, asked.file, asked.wishes)
    return measure_readings(task.stack, task.bits, asked.readings, asked.wishes)


def _ask_file(parent: QWidget) -> str:
    return QFileDialog.getOpenFileName(parent, "What was measured", "", POINTS)[0]

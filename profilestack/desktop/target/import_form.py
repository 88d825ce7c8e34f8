"""What is asked about a file that a profile is read from."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLineEdit, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.desktop.target.import_fields import (
    CHOICES,
    NAMES,
    OWN_BLANK,
    WIDE,
    asked_about,
    number_fields,
)
from profilestack.desktop.target.marks_form import MarksForm
from profilestack.errors import InputError, Problem
from profilestack.files.targets import PictureWishes, ReadingWishes
from profilestack.jobs.target import Laying, TargetRequest
from profilestack.session.import_words import told
from profilestack.session.target_import import kind_of_file, laid_on
from profilestack.units import format_length

DELAY = 150
"""A change is followed when nothing more was changed for so long [ms]."""


class ImportForm(QWidget):
    """Fields for one kind of file; :attr:`changed` when another answer is given.

    ``marks`` is a part of it that has its own place, beside what is previewed.
    """

    changed = Signal()

    way_changed = Signal()
    """A picture's scale is given another way."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.kind = "drawing"
        self.choices = {key: Choice() for key in CHOICES}
        for key, items in CHOICES.items():
            for text, data in items:
                self.choices[key].addItem(text, data)
        self.layer, self.columns = QLineEdit(), QLineEdit()
        self.layer.setPlaceholderText("all")
        self.layer.setToolTip("Only these layers of a DXF or groups of an SVG, parted by commas")
        self.columns.setPlaceholderText("x and z by their heads")
        self.columns.setToolTip("The two columns by number or name, as 1,3 or x,z")
        self.numbers = number_fields(document)
        self.marks = MarksForm(document)
        self.mirror = QCheckBox("Left and right swapped")
        self.light = QCheckBox("The wood is lighter than the background")
        self.rows: dict[str, Labelled] = {}
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(DELAY)
        self._timer.timeout.connect(self.changed)
        self._lay_out()
        self._connect()

    def ask_about(self, file: Path) -> None:
        """Show the fields for a file, without what was said of another one's lines and marks."""
        self.kind = kind_of_file(file)
        self.numbers["pick"].restore()
        self.numbers["pick"].value = None
        self.marks.forget()
        self._show_rows()
        blanks = self.choices["blank"]
        blanks.clear()
        if self.kind == "drawing":
            blanks.addItem(*OWN_BLANK)
        for text, data in CHOICES["blank"]:
            blanks.addItem(text, data)
        board = laid_on(self._document.session.settled)
        if board is not None:
            units = self._document.units
            sides = " by ".join(format_length(side, units) for side in board)
            blanks.addItem(f"this board, {sides}", "own")

    @property
    def asked(self) -> tuple[str, ...]:
        """The fields that are shown."""
        return asked_about(self.kind, self.choices["way"].currentData())

    @property
    def is_scaled_by_points(self) -> bool:
        """Whether a picture's scale is given by two points."""
        return self.kind == "picture" and self.choices["way"].currentData() == "points"

    def pick(self, number: int) -> None:
        """Take one of several outlines."""
        self.numbers["pick"].restore()
        self.numbers["pick"].value = float(number)
        self._timer.stop()
        self.changed.emit()

    def request(self, file: Path) -> TargetRequest | None:
        """What the job is asked; None where a field holds no number, or a mark is missing.

        Raises:
            InputError: answers that contradict each other.
        """
        self._timer.stop()
        numbers = {key: field for key, field in self.numbers.items() if key in self.asked}
        for key, field in numbers.items():
            field.commit()
            if not field.trouble:
                self.rows[key].refuse("")
        picture = _picture_of(self) if self.kind == "picture" else PictureWishes()
        if picture is None or any(field.trouble for field in numbers.values()):
            return None
        width, thickness = None, None
        blank = self.choices["blank"].currentData()
        if blank == "own":
            width, thickness = laid_on(self._document.session.settled) or (None, None)
        pick = self.numbers["pick"].value
        return TargetRequest(
            file,
            reading=self._reading(picture),
            pick=None if pick is None else round(pick),
            tolerance=self.numbers["tolerance"].value,
            laying=Laying(
                mirror=self.mirror.isChecked(),
                scale=self.numbers["scale"].value or 1.0,
                rotation=self.numbers["rotation"].value or 0.0,
                width=width,
                thickness=thickness,
                wood=self.choices["wood"].currentData(),
                own_blank=blank == "file",
            ),
        )

    def refuse(self, problems: Iterable[Problem]) -> list[Problem]:
        """Show problems at their fields; returns those that belong to none."""
        places = {"width": "blank", "thickness": "blank", "at": "blank"}
        left = []
        for problem in problems:
            key = places.get(problem.where, problem.where)
            if key == "points" and self.is_scaled_by_points:
                self.marks.refuse(told(problem, self.kind))
            elif key in self.rows and key in self.asked:
                # the text of a field is no mistake of typing here: it is told below it
                self.rows[key].trouble.say(told(problem, self.kind))
            else:
                left.append(problem)
        return left

    def forget_problems(self) -> None:
        """Nothing is wrong any more."""
        for row in self.rows.values():
            row.trouble.say("")
        self.marks.refuse("")

    def _reading(self, picture: PictureWishes) -> ReadingWishes:
        words = [word.strip() for word in self.columns.text().split(",") if word.strip()]
        layers = [word.strip() for word in self.layer.text().split(",") if word.strip()]
        is_table = self.kind == "table"
        return ReadingWishes(
            units=None if self.kind == "picture" else self.choices["units"].currentData(),
            layers=tuple(layers) if self.kind == "drawing" else (),
            columns=(words[0], words[1]) if is_table and len(words) == 2 else None,
            order=self.choices["order"].currentData() if is_table else "file",
            picture=picture,
        )

    def _show_rows(self) -> None:
        """The fields that are asked for, in pairs."""
        asked = self.asked
        for key, row in self.rows.items():
            self._grid.removeWidget(row)
            row.setVisible(key in asked)
            row.refuse("")
        place = 0
        for key in asked:
            line, column = divmod(place + (place % 2 if key in WIDE else 0), 2)
            span = 2 if key in WIDE else 1
            self._grid.addWidget(self.rows[key], line, column, 1, span)
            self._grid.setAlignment(self.rows[key], Qt.AlignmentFlag.AlignTop)
            place = 2 * line + column + span
        self.light.setVisible(self.kind == "picture")

    def _change_way(self) -> None:
        self._show_rows()
        self.way_changed.emit()

    def _lay_out(self) -> None:
        fields: dict[str, QWidget] = {
            **self.choices, "layer": self.layer, "columns": self.columns, **self.numbers,
        }  # fmt: skip
        for key, field in fields.items():
            self.rows[key] = Labelled(NAMES.get(key) or field.accessibleName(), field)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        self._grid = QGridLayout()
        self._grid.setColumnStretch(0, 1)
        self._grid.setColumnStretch(1, 1)
        box.addLayout(self._grid)
        box.addWidget(self.light)
        box.addWidget(self.mirror)
        for row in self.rows.values():
            row.setParent(self)

    def _connect(self) -> None:
        self.choices["way"].currentIndexChanged.connect(self._change_way)
        self.marks.changed.connect(self._timer.start)
        for box in self.choices.values():
            box.activated.connect(self._timer.start)
        for line in (self.layer, self.columns):
            line.textEdited.connect(self._timer.start)
        for field in self.numbers.values():
            field.committed.connect(self._timer.start)
            field.cleared.connect(self._timer.start)
        for tick in (self.mirror, self.light):
            tick.clicked.connect(self._timer.start)


def _picture_of(form: ImportForm) -> PictureWishes | None:
    """How a picture is read; None where two points are to give its scale and do not yet."""
    way, numbers = form.choices["way"].currentData(), form.numbers
    points, distance = None, None
    if way == "points":
        scale = form.marks.scale()
        if scale is None:
            return None
        points, distance = scale
    across = numbers["across"].value if way == "across" else None
    if way == "across" and across is None:
        raise InputError(
            Problem("across", "is not given", "a length such as 82 mm or 3 1/4 in",
                    "measure the piece from its leftmost place to its rightmost")
        )  # fmt: skip
    return PictureWishes(
        dpi=numbers["dpi"].value if way == "dpi" else None,
        across=across,
        points=points,
        distance=distance,
        threshold=numbers["threshold"].value,
        trace=form.choices["trace"].currentData(),
        light=form.light.isChecked(),
        smooth=numbers["smooth"].value or 0.0,
    )

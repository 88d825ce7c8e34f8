"""What is asked about a file that a profile is read from."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLineEdit, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import AngleField, LengthField, WholeField
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.desktop.number_field import NumberField
from profilestack.desktop.target.placing_form import FactorField
from profilestack.errors import Problem
from profilestack.files.targets import PictureWishes, ReadingWishes
from profilestack.jobs.target import Laying, TargetRequest
from profilestack.session.target_import import kind_of_file, laid_on
from profilestack.targets.placement import SCALES
from profilestack.units import format_length

DELAY = 150
"""A change is followed when nothing more was changed for so long [ms]."""

ASKED = {
    "drawing": ("units", "layer", "pick", "wood", "blank", "scale", "rotation", "tolerance"),
    "table": (
        "units", "columns", "order", "pick", "wood", "blank", "scale", "rotation", "tolerance",
    ),
    "picture": (
        "dpi", "across", "trace", "threshold", "smooth", "pick", "wood", "blank", "scale",
        "rotation", "tolerance",
    ),
}  # fmt: skip
"""The fields that belong to each kind of file."""

CHOICES = {
    "units": (("as the file says", None), ("mm", "mm"), ("inches", "in")),
    "order": (("as in the file", "file"), ("by x", "x"), ("each the nearest next", "nearest")),
    "trace": (("the edge of what is dark", "edge"), ("the middle of a line", "line")),
    "wood": (("below", "below"), ("above", "above"), ("left", "left"), ("right", "right")),
    "blank": (("as large as the profile", "fitted"),),
}
WIDE = ("trace", "blank")
"""Choices whose words need the whole width."""

NAMES = {
    "units": "Its numbers are", "order": "Order of points", "trace": "Follow",
    "wood": "The wood lies", "blank": "Blank", "layer": "Layers", "columns": "Columns",
}  # fmt: skip


class ImportForm(QWidget):
    """Fields for one kind of file; :attr:`changed` when another answer is given."""

    changed = Signal()

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
        self.numbers: dict[str, NumberField] = {
            "pick": WholeField("Number of the outline", low=1.0, high=9999.0, optional=True),
            "dpi": FactorField("Dots per inch", low=1.0, high=20_000.0, optional=True),
            "across": LengthField(
                document, "Width of the outline", low=0.001, high=1e6, optional=True,
                about="Gives the scale where dots per inch are not known",
            ),
            "threshold": WholeField(
                "Tone between wood and ground", low=0.0, high=255.0, optional=True,
                about="0 is black, 255 is white; empty: where the tones part best",
            ),
            "smooth": FactorField("Blur, pixels", low=0.0, high=50.0),
            "scale": FactorField("Scale", low=SCALES[0], high=SCALES[1]),
            "rotation": AngleField("Turned", low=-360.0, high=360.0),
            "tolerance": LengthField(
                document, "Tolerance", low=1e-4, high=100.0, optional=True,
                about="How far the lines and arcs may leave what was read",
            ),
        }  # fmt: skip
        for key, text in (
            ("pick", "the only one"), ("dpi", "as the picture says"), ("across", "not given"),
            ("threshold", "where tones part best"), ("tolerance", "as suits the file"),
        ):  # fmt: skip
            self.numbers[key].setPlaceholderText(text)
        self.numbers["scale"].value, self.numbers["rotation"].value = 1.0, 0.0
        self.numbers["smooth"].value = 0.0
        self.mirror = QCheckBox("Left and right swapped")
        self.light = QCheckBox("The wood is lighter than its ground")
        self.rows: dict[str, Labelled] = {}
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.setInterval(DELAY)
        self._timer.timeout.connect(self.changed)
        self._lay_out()
        self._connect()

    def ask_about(self, file: Path) -> None:
        """Show the fields for a file, empty but for what the document says."""
        self.kind = kind_of_file(file)
        asked = ASKED[self.kind]
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
        blanks = self.choices["blank"]
        while blanks.count() > 1:
            blanks.removeItem(1)
        board = laid_on(self._document.session.settled)
        if board is not None:
            units = self._document.units
            sides = " by ".join(format_length(side, units) for side in board)
            blanks.addItem(f"this board, {sides}", "own")

    def request(self, file: Path) -> TargetRequest | None:
        """What the job is asked; None where a field holds no number.

        Raises:
            InputError: answers that contradict each other.
        """
        self._timer.stop()
        asked = ASKED[self.kind]
        numbers = {key: field for key, field in self.numbers.items() if key in asked}
        for key, field in numbers.items():
            field.commit()
            if not field.trouble:
                self.rows[key].refuse("")
        if any(field.trouble for field in numbers.values()):
            return None
        width, thickness = None, None
        if self.choices["blank"].currentData() == "own":
            width, thickness = laid_on(self._document.session.settled) or (None, None)
        pick = self.numbers["pick"].value
        return TargetRequest(
            file,
            reading=self._reading(),
            pick=None if pick is None else round(pick),
            tolerance=self.numbers["tolerance"].value,
            laying=Laying(
                mirror=self.mirror.isChecked(),
                scale=self.numbers["scale"].value or 1.0,
                rotation=self.numbers["rotation"].value or 0.0,
                width=width,
                thickness=thickness,
                wood=self.choices["wood"].currentData(),
            ),
        )

    def refuse(self, problems: Iterable[Problem]) -> list[Problem]:
        """Show problems at their fields; returns those that belong to none."""
        places = {"width": "blank", "thickness": "blank", "at": "blank"}
        left = []
        for problem in problems:
            key = places.get(problem.where, problem.where)
            if key in self.rows and key in ASKED[self.kind]:
                # the text of a field is no mistake of typing here: it is told below it
                self.rows[key].trouble.say(_told(problem))
            else:
                left.append(problem)
        return left

    def forget_problems(self) -> None:
        """Nothing is wrong any more."""
        for row in self.rows.values():
            row.trouble.say("")

    def _reading(self) -> ReadingWishes:
        words = [word.strip() for word in self.columns.text().split(",") if word.strip()]
        layers = [word.strip() for word in self.layer.text().split(",") if word.strip()]
        is_picture, is_table = self.kind == "picture", self.kind == "table"
        picture = PictureWishes()
        if is_picture:
            picture = PictureWishes(
                dpi=self.numbers["dpi"].value,
                across=self.numbers["across"].value,
                threshold=self.numbers["threshold"].value,
                trace=self.choices["trace"].currentData(),
                light=self.light.isChecked(),
                smooth=self.numbers["smooth"].value or 0.0,
            )
        return ReadingWishes(
            units=None if is_picture else self.choices["units"].currentData(),
            layers=tuple(layers) if self.kind == "drawing" else (),
            columns=(words[0], words[1]) if is_table and len(words) == 2 else None,
            order=self.choices["order"].currentData() if is_table else "file",
            picture=picture,
        )

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
        for box in self.choices.values():
            box.activated.connect(self._timer.start)
        for line in (self.layer, self.columns):
            line.textEdited.connect(self._timer.start)
        for field in self.numbers.values():
            field.committed.connect(self._timer.start)
            field.cleared.connect(self._timer.start)
        for tick in (self.mirror, self.light):
            tick.clicked.connect(self._timer.start)


def _told(problem: Problem) -> str:
    expected = f"; expected {problem.expected}" if problem.expected else ""
    return f"{problem.text}{expected}{f' ({problem.hint})' if problem.hint else ''}"

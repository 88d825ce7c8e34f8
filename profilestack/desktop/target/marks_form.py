"""A picture's scale by two points: the picture with its marks, their numbers, their distance."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QEvent, QObject, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField, PlainField
from profilestack.desktop.labelled import Labelled, Trouble
from profilestack.desktop.number_field import NumberField
from profilestack.desktop.target.picture_marks import PictureMarks
from profilestack.desktop.target.step_keys import step_of
from profilestack.errors import InputError
from profilestack.files.targets.picture_scale import LONGEST, SHORTEST, TwoPlaces
from profilestack.files.targets.picture_view import PictureView
from profilestack.geometry.path import Point
from profilestack.session.mark_steps import MarkSteps, Said
from profilestack.session.picture_marks import LETTERS, Marks, length_label, scale_words

SIDES = ("from the left", "from the top")

NO_STEP = {
    "back": "No change of the marks is left to be taken back.",
    "again": "No change of the marks was taken back.",
}


class MarksForm(QWidget):
    """The marks stand in the fields: what the hand does on the picture is written there."""

    changed = Signal()
    """Another scale: a mark was moved, or another distance given."""

    def __init__(self, document: Document) -> None:
        super().__init__()
        self._document = document
        self.picture = PictureMarks()
        self.words, self.trouble = QLabel(), Trouble()
        self.words.setWordWrap(True)
        self.places: tuple[tuple[NumberField, NumberField], ...] = tuple(
            (self._place_field(letter, SIDES[0]), self._place_field(letter, SIDES[1]))
            for letter in LETTERS
        )
        self.distance = LengthField(
            document, "True distance from A to B", low=SHORTEST, high=LONGEST, optional=True,
            about="As measured on the piece, or read off a ruler in the picture",
        )  # fmt: skip
        self.distance.setPlaceholderText("as measured, such as 100 mm")
        self.distance_row = Labelled(self.distance.accessibleName(), self.distance)
        self.steps = MarkSteps(self._said())
        self._lay_out()
        self.picture.mark_put.connect(self._put)
        self.picture.step_asked.connect(self._go)
        for field in self._fields:
            field.committed.connect(partial(self._committed, field))
            field.cleared.connect(self._typed)
            field.installEventFilter(self)
        self.distance.textEdited.connect(lambda _: self._show())
        document.units_changed.connect(self._show)
        self._show()

    @property
    def marks(self) -> Marks:
        """The marks as the fields say them."""
        return Marks(*(_place(x.value, y.value) for x, y in self.places))

    def show_picture(self, view: PictureView | None) -> None:
        """The picture that the marks are put on."""
        self.picture.show_picture(view)
        if view is not None:
            for across, down in self.places:
                across.high, down.high = float(view.width), float(view.height)

    def forget(self) -> None:
        """No marks and no distance: another picture comes."""
        self.show_picture(None)
        for field in self._fields:
            field.restore()
            field.value = None
        self.steps = MarkSteps(self._said())
        self.refuse("")
        self._show()

    def scale(self) -> tuple[TwoPlaces, float] | None:
        """Both places and their distance [mm]; None where something is missing or no number."""
        for field in self._fields:
            field.commit()
        points, distance = self.marks.points, self.distance.value
        if points is None or distance is None or any(field.trouble for field in self._fields):
            return None
        return points, distance

    def refuse(self, text: str) -> None:
        """Say what is wrong with where the marks lie; "" when nothing is."""
        self.trouble.say(text)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """In the fields too a step is taken back by keys, once nothing typed is left to be."""
        kinds = (QEvent.Type.ShortcutOverride, QEvent.Type.KeyPress)
        if event.type() in kinds and isinstance(event, QKeyEvent):
            step = step_of(event)
            field = next((one for one in self._fields if one is watched), None)
            if step is not None and field is not None and not field.isModified():
                event.accept()
                if event.type() == QEvent.Type.KeyPress:
                    self._go(step)
                return True
        return super().eventFilter(watched, event)

    @property
    def _fields(self) -> tuple[NumberField, ...]:
        return (*self.places[0], *self.places[1], self.distance)

    def _said(self) -> Said:
        return tuple(field.value for field in self._fields)

    def _go(self, step: str) -> None:
        """Take the last change back, or do it again."""
        said = self.steps.take_back() if step == "back" else self.steps.do_again()
        if said is None:
            self._document.said.emit(NO_STEP[step])
            return
        before = self.marks.places
        for field, value in zip(self._fields, said, strict=True):
            field.restore()
            field.value = value
        self._tell()
        for which, place in enumerate(self.marks.places):
            if place is not None and place != before[which]:
                self.picture.show_place(place)

    def _put(self, which: int, place: Point | None) -> None:
        marks = self.marks.put(which, place, self.picture.picture_size)
        for field, value in zip(self.places[which], marks.places[which] or (None, None),
                                strict=True):  # fmt: skip
            field.restore()
            field.value = value
        self._typed(f"hand {self.picture.moves}")

    def _committed(self, field: NumberField, number: float) -> None:
        field.value = number  # it tells of its number before it holds it
        self._typed(field.accessibleName() if field.stepping else "")

    def _typed(self, run: str = "") -> None:
        self.steps.change(self._said(), run)
        self._tell()

    def _tell(self) -> None:
        self.refuse("")
        self._show()
        self.changed.emit()

    def _show(self) -> None:
        distance, units = self._distance_now(), self._document.units
        self.words.setText(scale_words(self.marks, distance, units))
        self.picture.show_marks(self.marks, length_label(self.marks, distance, units))

    def _distance_now(self) -> float | None:
        """The distance, even while it is still being typed."""
        field = self.distance
        if not field.isModified():
            return field.value
        try:
            number = field.read(field.text().strip())
        except InputError:
            return None
        return number if SHORTEST <= number <= LONGEST else None

    def _place_field(self, letter: str, side: str) -> NumberField:
        return PlainField(
            f"{letter} {side}", unit="px", low=0.0, high=1e6, optional=True,
            about=f"Where mark {letter} lies, in pixels of the picture {side}",
        )  # fmt: skip

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        for widget in (self.picture, self.words, self.trouble, self.distance_row):
            box.addWidget(widget)
        grid = QGridLayout()
        for line, pair in enumerate(self.places):
            for column, field in enumerate(pair):
                field.setPlaceholderText("not placed")
                grid.addWidget(Labelled(field.accessibleName(), field), line, column)
        box.addLayout(grid)


def _place(x: float | None, y: float | None) -> Point | None:
    return None if x is None or y is None else (x, y)

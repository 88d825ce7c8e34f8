"""The piece's words, its blank, its run and its tolerances as forms."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtWidgets import QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import AngleField, LengthField, NumberField, WholeField
from profilestack.desktop.number_field import refusal_words
from profilestack.desktop.piece.form import Form, KeyChoice, take
from profilestack.desktop.piece.plan_view import PlanView
from profilestack.desktop.piece.text_field import TextField
from profilestack.drawing.wording import blank_text
from profilestack.errors import InputError
from profilestack.session import piece_edits
from profilestack.session.pass_edits import Edited
from profilestack.stack import Stack

Edit = Callable[[Stack, str, float], Edited]


class HeadForm(Form):
    """Title, units, wood."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, "Piece", parent)
        self.heading = TextField("Title", "What the piece is; it stands on every sheet.")
        self.species = TextField("Wood", "The species, as it stands on sheets.")
        self.add_field("title", "Title", self.heading)
        units = {"mm": "mm", "in": "inches"}
        about = "What bare numbers mean in this document; no length changes."
        self.units = self.add_choice("units", "Units", units, about, self._take_units)
        self.add_field("species", "Wood", self.species)
        for field, edit in (
            (self.heading, piece_edits.with_title),
            (self.species, piece_edits.with_species),
        ):
            field.committed.connect(partial(self._take_words, field, edit))

    def refresh(self) -> None:
        """Show the document."""
        stack = self.document.stack
        self.heading.value = stack.title
        self.species.value = stack.blank.species or ""
        self.units.show_key(stack.units)

    def _take_units(self, units: str) -> None:
        self.document.edit(*piece_edits.with_units(self.document.stack, units))

    def _take_words(
        self, field: TextField, edit: Callable[[Stack, str], Edited], words: str
    ) -> None:
        take(self.document, field, lambda: edit(self.document.stack, words))


class NumbersForm(Form):
    """A form whose fields are numbers of one part of the stack."""

    def __init__(self, document: Document, title: str, edit: Edit) -> None:
        super().__init__(document, title)
        self.fields: dict[str, NumberField] = {}
        self._edit = edit

    def add_number(self, key: str, word: str, field: NumberField) -> None:
        """A row for a number of the part, named by its key."""
        self.fields[key] = field
        field.committed.connect(partial(self._take_number, field, key))
        self.add_field(key, word, field)

    def show_numbers(self, part: object) -> tuple[str, ...]:
        """Show the numbers that a part of the stack has; their keys."""
        keys = tuple(key for key in self.fields if hasattr(part, key))
        for key in keys:
            self.fields[key].value = float(getattr(part, key))
        return keys

    def take_choice(self, choice: KeyChoice, edit: Callable[[], Edited]) -> None:
        """Make an edit for a choice, or say beside it why it cannot be made."""
        try:
            stack, label = edit()
        except InputError as error:
            self.refresh()
            if choice.reason is not None:
                choice.reason.say(refusal_words(error))
            return
        self.document.edit(stack, label)

    def _take_number(self, field: NumberField, key: str, value: float) -> None:
        def edit() -> Edited:
            return self._edit(self.document.stack, key, value)

        take(self.document, field, edit, f"{self.accessibleName()} {key}")


class BlankForm(NumbersForm):
    """The blank: rectangle or round; an outline is only shown."""

    def __init__(self, document: Document) -> None:
        super().__init__(document, "Blank", piece_edits.with_blank_size)
        kinds = {"rectangle": "rectangle", "round": "round"}
        about = "The blank's form across its length, as planed."
        self.kind = self.add_choice("kind", "Form", kinds, about, self._take_kind)
        for key, about in (
            ("width", "Across the blank, planed."),
            ("thickness", "From its back to its face, planed."),
            ("diameter", "Across the round."),
        ):
            field = LengthField(document, f"Blank's {key}", about=about)
            self.add_number(key, key.capitalize(), field)
        self.outline = self.add_words("outline", "Size")

    def refresh(self) -> None:
        """Show the document."""
        stack = self.document.stack
        kind = piece_edits.blank_kind(stack)
        is_listed = self.kind.findData("outline") >= 0
        if kind == "outline" and not is_listed:
            self.kind.addItem("outline", "outline")
        elif kind != "outline" and is_listed:
            self.kind.removeItem(self.kind.findData("outline"))
        self.kind.show_key(kind)
        self.outline.setText(blank_text(stack.blank, self.document.units))
        keys = self.show_numbers(stack.blank.stock)
        self.show_rows(("kind", *keys, *(("outline",) if kind == "outline" else ())))

    def _take_kind(self, kind: str) -> None:
        stack = self.document.stack
        self.take_choice(self.kind, lambda: piece_edits.with_blank_kind(stack, kind))


class RunForm(NumbersForm):
    """The run: straight, radius or turned; how many pieces; drawn in plan."""

    def __init__(self, document: Document) -> None:
        super().__init__(document, "Run", piece_edits.with_run_value)
        about = "How the section becomes a part: straight, bent in plan, or turned."
        words = piece_edits.RUN_WORDS
        self.kind = self.add_choice("kind", "Kind", words, about, self._take_kind)
        length = LengthField(document, "Length of a piece", about="Along the part.")
        radius = LengthField(
            document, "Radius of the run", about="In plan, to the blank's left side."
        )
        angle = AngleField("Angle of the run", about="How far round it goes, 360 for a ring.")
        pieces = WholeField("Pieces", low=1, high=100_000, about="How many are made alike.")
        self.add_number("length", "Length", length)
        self.add_number("radius", "Radius", radius)
        self.add_number("angle", "Angle", angle)
        self.add_number("pieces", "Pieces", pieces)
        self.plan = PlanView(document)
        self.add_wide(self.plan)

    def refresh(self) -> None:
        """Show the document."""
        run = self.document.stack.run
        self.kind.show_key(run.kind)
        self.show_rows(("kind", *self.show_numbers(run)))

    def _take_kind(self, kind: str) -> None:
        stack = self.document.stack
        self.take_choice(self.kind, lambda: piece_edits.with_run_kind(stack, kind))


class ToleranceForm(NumbersForm):
    """How much may stand proud, and how much may be missing."""

    def __init__(self, document: Document) -> None:
        super().__init__(document, "Tolerances", piece_edits.with_tolerance)
        for key, word, about in (
            ("leftover", "Leftover (proud)", "So much stock may stand above the wanted profile."),
            ("overcut", "Overcut (gouge)", "So much of the wanted profile may be cut away."),
        ):
            field = LengthField(document, f"Tolerance of {word.lower()}", about=about)
            self.add_number(key, word, field)

    def refresh(self) -> None:
        """Show the document."""
        self.show_numbers(self.document.stack.tolerance)

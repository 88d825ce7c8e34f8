"""How the editors of the wanted profile change the document, and where problems are told."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from profilestack.desktop.document import Document
from profilestack.desktop.number_field import NumberField, refusal_words
from profilestack.errors import GeometryError, InputError
from profilestack.stack import Target

Make = Callable[[], tuple[Target, str]]
"""Makes a target, and says what the edit is called; raises InputError or GeometryError."""


class Editing(QObject):
    """Changes of the target, previewed and committed. A problem goes to its field, or is said."""

    troubled = Signal(str)
    """What is wrong and belongs to no field; "" when nothing is."""

    def __init__(self, document: Document, parent: QObject) -> None:
        super().__init__(parent)
        self.document = document
        self._is_previewing = False

    @property
    def target(self) -> Target | None:
        """The target of the document, without what is only previewed."""
        return self.document.session.settled.target

    def commit(self, make: Make, field: NumberField | None = None, merging: str = "") -> bool:
        """Make the change one step that can be undone; whether it was possible.

        Changes in a row that come from keys or the wheel of one field are one step.
        """
        self._is_previewing = False
        try:
            target, label = make()
        except (InputError, GeometryError) as error:
            self.document.abandon()
            self._refuse(error, field)
            return False
        self.troubled.emit("")
        stack = replace(self.document.session.settled, target=target)
        self.document.edit(stack, label, merging if field is None or field.stepping else "")
        return True

    def preview(self, make: Make) -> None:
        """Draw what the change would make; nothing where it is impossible."""
        try:
            target, _ = make()
        except (InputError, GeometryError):
            self.abandon()
            return
        self._is_previewing = True
        self.document.preview(replace(self.document.session.settled, target=target))

    def abandon(self) -> None:
        """Let go of what was only previewed."""
        if self._is_previewing:
            self._is_previewing = False
            self.document.abandon()

    def follow(self, field: NumberField, make: Callable[[float | None], Make], name: str) -> None:
        """Preview what is typed into a field, and commit it when it is entered.

        ``make`` is given the number, None where an optional field is emptied; ``name`` tells its
        edits from those of other fields.
        """

        def typed() -> None:
            text = field.text().strip()
            if not field.isModified():
                self.abandon()
                return
            try:
                number = None if not text and field.optional else field.read(text)
            except InputError:
                self.abandon()
                return
            self.preview(make(number))

        field.textChanged.connect(typed)
        field.committed.connect(lambda number: self.commit(make(number), field, name))
        field.cleared.connect(lambda: self.commit(make(None), field, name))

    def _refuse(self, error: InputError | GeometryError, field: NumberField | None) -> None:
        if field is not None:
            field.refuse(refusal_words(error) if isinstance(error, InputError) else str(error))
        else:
            self.troubled.emit(str(error))

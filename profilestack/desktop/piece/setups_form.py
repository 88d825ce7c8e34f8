"""The setups as a list of rows: name, angle, copies; added and removed with undo."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import AngleField, WholeField
from profilestack.desktop.labelled import Trouble
from profilestack.desktop.piece.form import Field, Form, take
from profilestack.desktop.piece.text_field import TextField
from profilestack.session import piece_edits
from profilestack.session.pass_edits import Edited
from profilestack.stack import FACE, Setup, Stack

HEADS = ("Name", "Turned by", "Copies", "")


class SetupRow:
    """The widgets of one setup; the form owns them."""

    def __init__(self, form: SetupsForm, place: int) -> None:
        self.form, self.place = form, place
        number = place + 1
        self.name = TextField(f"Name of setup {number}", "A word such as edge, back or tipped.")
        self.angle = AngleField(
            f"Angle of setup {number}",
            low=-360.0,
            high=360.0,
            about="The blank is turned counter-clockwise by so much: 90 brings the right side up.",
        )
        about = "Each pass is cut so often, the blank turned about its middle between."
        self.copies = WholeField(f"Copies of setup {number}", low=1, high=360, about=about)
        self.used = QLabel()
        self.used.setForegroundRole(QPalette.ColorRole.PlaceholderText)
        self.remove = QPushButton("Remove")
        self.reason = Trouble()
        for field in (self.name, self.angle, self.copies):
            field.trouble_changed.connect(self._show_reason)
        self.name.committed.connect(self._rename)
        self.angle.committed.connect(partial(self._take_number, self.angle, "angle"))
        self.copies.committed.connect(partial(self._take_number, self.copies, "copies"))
        self.remove.clicked.connect(self._remove)

    @property
    def parts(self) -> tuple[QWidget, ...]:
        """The widgets of the row, from the left."""
        return (self.name, self.angle, self.copies, self.remove)

    def show_setup(self, stack: Stack) -> None:
        """Show the document's setup of this place."""
        setup: Setup = stack.setups[self.place]
        self.name.value = setup.name
        self.angle.value = setup.angle
        self.copies.value = float(setup.copies)
        users = piece_edits.setup_users(stack, setup.name)
        self.used.setText(f"Used by {users}." if users else "Not used by any pass.")
        self.remove.setEnabled(not users)
        self.remove.setAccessibleName(f"Remove the setup {setup.name}")
        why = f": it is used by {users}." if users else "; Undo brings it back."
        self.remove.setToolTip(f"Remove the setup {setup.name}{why}")

    def _rename(self, words: str) -> None:
        self._take(self.name, lambda stack: piece_edits.with_setup_name(stack, self.place, words))

    def _take_number(self, field: AngleField | WholeField, key: str, value: float) -> None:
        place = self.place
        self._take(field, lambda stack: piece_edits.with_setup_value(stack, place, key, value), key)

    def _take(self, field: Field, edit: Callable[[Stack], Edited], key: str = "") -> None:
        document = self.form.document
        take(document, field, lambda: edit(document.stack), f"setup {self.place} {key}")

    def _remove(self) -> None:
        document = self.form.document
        document.edit(*piece_edits.without_setup(document.stack, self.place))

    def _show_reason(self) -> None:
        troubles = (self.name.trouble, self.angle.trouble, self.copies.trouble)
        self.reason.say("; ".join(word for word in troubles if word))


class SetupsForm(Form):
    """How the blank lies while passes are cut."""

    def __init__(self, document: Document) -> None:
        super().__init__(document, "Setups")
        face = QLabel(f"{FACE.name}: as drawn, the top up; it always exists.")
        face.setWordWrap(True)
        self.add_wide(face)
        self.table = QWidget()
        self.lines = QGridLayout(self.table)
        self.lines.setContentsMargins(0, 0, 0, 0)
        self.lines.setHorizontalSpacing(8)
        self.lines.setVerticalSpacing(4)
        for column, share in enumerate((3, 2, 1, 0)):
            self.lines.setColumnStretch(column, share)
        for column, head in enumerate(HEADS):
            self.lines.addWidget(QLabel(head), 0, column)
        self.add_wide(self.table)
        self.rows: list[SetupRow] = []
        self.add = QPushButton("Add a setup")
        self.add.clicked.connect(self._add_setup)
        self.add_wide(self.add)

    def refresh(self) -> None:
        """As many rows as there are setups."""
        stack = self.document.stack
        while len(self.rows) > len(stack.setups):
            self._drop_row()
        while len(self.rows) < len(stack.setups):
            self._make_row()
        for row in self.rows:
            row.show_setup(stack)
        self.table.setVisible(bool(self.rows))
        refusal = piece_edits.setup_refusal(stack)
        self.add.setEnabled(not refusal)
        self.add.setToolTip(refusal or "Another way for the blank to lie; then name and turn it.")

    def _add_setup(self) -> None:
        self.document.edit(*piece_edits.with_setup_added(self.document.stack))
        self.rows[-1].name.setFocus()
        self.rows[-1].name.selectAll()

    def _make_row(self) -> None:
        row = SetupRow(self, len(self.rows))
        line = 3 * len(self.rows) + 1
        for column, part in enumerate(row.parts):
            self.lines.addWidget(part, line, column)
        self.lines.addWidget(row.reason, line + 1, 0, 1, len(HEADS))
        self.lines.addWidget(row.used, line + 2, 0, 1, len(HEADS))
        for part in (*row.parts, row.used):
            part.show()  # at once, so that the focus can go there
        self.rows.append(row)

    def _drop_row(self) -> None:
        row = self.rows.pop()
        for part in (*row.parts, row.reason, row.used):
            self.lines.removeWidget(part)
            part.hide()
            part.deleteLater()

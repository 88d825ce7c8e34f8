"""The measures of one member of the wanted profile."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.fields import LengthField
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.errors import InputError
from profilestack.session.member_edits import keys_of
from profilestack.targets.member import LENGTHS
from profilestack.targets.member_shapes import MEMBERS
from profilestack.targets.member_shapes.base import LARGEST
from profilestack.targets.members import Member


def fill_with_members(box: Choice) -> None:
    """Offer all members, each with what it is."""
    for word, shape in MEMBERS.items():
        box.addItem(word, word)
        box.setItemData(box.count() - 1, shape.about, Qt.ItemDataRole.ToolTipRole)


class MemberForm(QWidget):
    """Which member it is, how it is struck, and the lengths that it takes."""

    kind_chosen = Signal(str)
    variant_chosen = Signal(object)

    def __init__(self, document: Document) -> None:
        super().__init__()
        self.kind, self.variant = Choice(), Choice()
        self.about = QLabel()
        self.about.setWordWrap(True)
        self.lengths = {
            key: LengthField(document, key.capitalize(), low=-LARGEST, high=LARGEST)
            for key in LENGTHS
        }
        fill_with_members(self.kind)
        self.kind.setToolTip("What the chosen member is; its size is kept")
        self.variant.setToolTip("How the member's curve is struck")
        self.rows = {
            "kind": Labelled("Member", self.kind),
            "variant": Labelled("Struck as", self.variant),
            **{key: Labelled(field.accessibleName(), field) for key, field in self.lengths.items()},
        }
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        grid = QGridLayout()
        for column in range(2):  # a field stays in its place when the one beside it goes
            grid.setColumnStretch(column, 1)
        for place, row in enumerate(self.rows.values()):
            grid.addWidget(row, place // 2, place % 2, alignment=Qt.AlignmentFlag.AlignTop)
        box.addLayout(grid)
        box.addWidget(self.about)
        self.kind.activated.connect(lambda: self.kind_chosen.emit(self.kind.currentData()))
        self.variant.activated.connect(lambda: self.variant_chosen.emit(self.variant.currentData()))

    def show_member(self, member: Member) -> None:
        """Show the fields that the member has, and what they hold."""
        shape = MEMBERS[member.member]
        self.kind.setCurrentIndex(self.kind.findData(member.member))
        self.about.setText(shape.about)
        if self.variant.property("of") != shape.word:
            self.variant.setProperty("of", shape.word)
            self.variant.clear()
            self.variant.addItem("as usual", None)
            for word in shape.variants:
                self.variant.addItem(word, word)
        self.variant.setCurrentIndex(max(0, self.variant.findData(member.variant)))
        self.rows["variant"].setVisible(bool(shape.variants))
        keys = keys_of(member.member)
        for key, field in self.lengths.items():
            self.rows[key].setVisible(key in keys)
            field.optional = key not in shape.required
            field.setPlaceholderText("its own rule" if field.optional else "")
            field.value = getattr(member, key)

    def restore(self) -> None:
        """Forget what was typed and not taken."""
        for field in self.lengths.values():
            field.restore()

    def waiting(self, but: str) -> dict[str, float]:
        """Numbers that were typed and not taken as yet, beside that of one key."""
        found = {}
        for key, field in self.lengths.items():
            if key != but and field.isVisible() and field.trouble:
                try:
                    found[key] = field.read(field.text().strip())
                except InputError:  # no number: it goes on waiting
                    continue
        return found

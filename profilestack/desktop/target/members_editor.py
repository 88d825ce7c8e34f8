"""A wanted profile built from classical members."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import suppress
from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from profilestack.desktop.fields import AngleField, LengthField
from profilestack.desktop.labelled import Choice, Labelled
from profilestack.desktop.number_field import NumberField
from profilestack.desktop.target.editing import Editing, Make
from profilestack.desktop.target.member_list import MemberList
from profilestack.desktop.target.placing_form import PlacingForm
from profilestack.errors import InputError
from profilestack.session.member_edits import (
    Edited,
    as_other,
    keys_of,
    new_member,
    with_lie,
    with_member,
    with_member_added,
    with_member_changed,
    with_member_doubled,
    with_member_moved,
    without_member,
)
from profilestack.stack import MemberTarget
from profilestack.targets.member import LENGTHS
from profilestack.targets.member_shapes import MEMBERS
from profilestack.targets.member_shapes.base import LARGEST
from profilestack.targets.members import LIES, Member, MemberColumn

LIES_SAID = {
    "upright": "upright, as installed",
    "head-down": "head down, its top on the bed",
    "flat": "flat on its back",
    "sprung": "sprung, its sloping back on the bed",
}


class MembersEditor(QWidget):
    """A list of members, the chosen one's measures, and how all of them lie."""

    def __init__(self, editing: Editing) -> None:
        super().__init__()
        self._editing = editing
        document = editing.document
        self.list = MemberList()
        self.to_add = Choice("Member to add")
        self.add = QPushButton("Add")
        self.buttons = {
            word: _narrow_button(text)
            for word, text in (
                ("remove", "Remove"), ("duplicate", "Duplicate"), ("up", "Up"), ("down", "Down"),
            )
        }  # fmt: skip
        self.kind, self.variant = Choice(), Choice()
        self.about = QLabel()
        self.about.setWordWrap(True)
        self.lengths = {
            key: LengthField(document, key.capitalize(), low=-LARGEST, high=LARGEST)
            for key in LENGTHS
        }
        self.lie = Choice()
        self.back = LengthField(
            document, "Wood behind", low=0.0, high=LARGEST,
            about="Thickness of the wood behind the least projection",
        )  # fmt: skip
        self.spring = AngleField(
            "Spring angle", low=1.0, high=89.0, optional=True,
            about="Between the sloping back and the wall: 45 or 38 as a rule",
        )  # fmt: skip
        self.bottom = LengthField(
            document, "Width of the bottom", low=0.0, high=LARGEST, optional=True,
            about="From the wall to the face where that is nearest; empty: as thick as the back",
        )  # fmt: skip
        self.placing = PlacingForm(document)
        self._rows: dict[str, Labelled] = {}
        self._before: tuple[Member, Member] | None = None
        self._fill_choices()
        self._lay_out()
        self._connect()

    @property
    def column(self) -> MemberColumn:
        """The column of the document, without what is only previewed."""
        target = self._editing.target
        assert isinstance(target, MemberTarget), "the target is made of members"
        return target.column

    @property
    def at(self) -> int:
        """The place of the chosen member."""
        return min(max(0, self.list.currentRow()), len(self.column.members) - 1)

    def refresh(self) -> None:
        """Show the document's column."""
        units = self._editing.document.units
        self.list.show_members(self.column.members, units)
        self._show_member()
        self.lie.setCurrentIndex(self.lie.findData(self.column.lie))
        is_sprung = self.column.lie == "sprung"
        for key in ("spring", "bottom"):
            self._rows[key].setVisible(is_sprung)
        self.back.value = self.column.back
        self.spring.value, self.bottom.value = self.column.spring, self.column.bottom
        self.placing.show_placed(self.column)

    def choose(self, place: int) -> None:
        """Choose a member."""
        self.list.setCurrentRow(place)

    def _show_member(self) -> None:
        if not isinstance(self._editing.target, MemberTarget):
            return
        member = self.column.members[self.at]
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
        self._rows["variant"].setVisible(bool(shape.variants))
        keys = keys_of(member.member)
        for key, field in self.lengths.items():
            self._rows[key].setVisible(key in keys)
            field.optional = key not in shape.required
            field.setPlaceholderText("its own rule" if field.optional else "")
            field.value = getattr(member, key)
        count = len(self.column.members)
        for word, allowed, why in (
            ("remove", count > 1, "The last member cannot go: remove the wanted profile instead"),
            ("up", self.at > 0, "It is the first already"),
            ("down", self.at < count - 1, "It is the last already"),
        ):
            self.buttons[word].setEnabled(allowed)
            self.buttons[word].setToolTip("" if allowed else why)

    def _fill_choices(self) -> None:
        for box in (self.to_add, self.kind):
            for word, shape in MEMBERS.items():
                box.addItem(word, word)
                box.setItemData(box.count() - 1, shape.about, Qt.ItemDataRole.ToolTipRole)
        for lie in LIES:
            self.lie.addItem(LIES_SAID.get(lie, lie), lie)
        self.to_add.setToolTip("A member to put below the chosen one")
        self.add.setToolTip("Put it below the chosen member, in usual proportions")
        self.variant.setToolTip("How the member's curve is struck")
        self.kind.setToolTip("What the chosen member is; its size is kept")
        self.lie.setToolTip("How the molding lies on the bed while it is cut")

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.list)
        row = QHBoxLayout()
        row.addWidget(self.to_add, 1)
        row.addWidget(self.add)
        box.addLayout(row)
        row = QHBoxLayout()
        for button in self.buttons.values():
            row.addWidget(button)
        box.addLayout(row)
        for key, name, field in (
            ("kind", "Member", self.kind), ("variant", "Struck as", self.variant),
            *((key, field.accessibleName(), field) for key, field in self.lengths.items()),
            ("lie", "How it lies", self.lie), ("back", "Wood behind", self.back),
            ("spring", "Spring angle", self.spring), ("bottom", "Width of the bottom", self.bottom),
        ):  # fmt: skip
            self._rows[key] = Labelled(name, field)
        grid = QGridLayout()
        bottom = Qt.AlignmentFlag.AlignBottom
        for place, key in enumerate(("kind", "variant", *LENGTHS)):
            grid.addWidget(self._rows[key], place // 2, place % 2, alignment=bottom)
        box.addLayout(grid)
        box.addWidget(self.about)
        grid = QGridLayout()
        grid.addWidget(self._rows["lie"], 0, 0, 1, 2)
        grid.addWidget(self._rows["back"], 1, 0, 1, 2)
        grid.addWidget(self._rows["spring"], 2, 0, alignment=bottom)
        grid.addWidget(self._rows["bottom"], 2, 1, alignment=bottom)
        box.addLayout(grid)
        box.addWidget(self.placing)

    def _connect(self) -> None:
        self.list.currentRowChanged.connect(self._chosen)
        self.list.asked.connect(self._do)
        self.list.dragged.connect(self._move)
        self.add.clicked.connect(self._add)
        for word, button in self.buttons.items():
            button.clicked.connect(lambda _=False, word=word: self._do(word))
        self.kind.activated.connect(self._change_kind)
        self.variant.activated.connect(self._change_variant)
        self.lie.activated.connect(
            lambda: self._commit(lambda column: with_lie(column, self.lie.currentData()), "lie")
        )
        for key, field in self.lengths.items():
            self._editing.follow(field, partial(self._measure, key), key)
        laid: dict[str, NumberField] = {
            "back": self.back, "spring": self.spring, "bottom": self.bottom,
        }  # fmt: skip
        for key, number in laid.items():
            self._editing.follow(number, partial(self._laid, key), key)
        self.placing.edited.connect(self._place)

    def _chosen(self) -> None:
        for field in self.lengths.values():
            field.restore()
        self._editing.abandon()
        self._show_member()

    def _measure(self, key: str, value: float | None) -> Make:
        """A measure of the chosen member, with others that wait for it: height after projection."""
        changes: dict[str, Any] = {key: value}
        for other, field in self.lengths.items():
            if other != key and field.isVisible() and field.trouble:
                with suppress(InputError):
                    changes[other] = field.read(field.text().strip())

        def change(column: MemberColumn) -> Edited:
            try:
                return with_member_changed(column, self.at, **changes)
            except InputError:
                return with_member_changed(column, self.at, **{key: value})

        return self._made(change)

    def _laid(self, key: str, value: float | None) -> Make:
        """A measure of the column."""
        said = {"back": "Change the wood behind", "spring": "Change the spring angle"}

        def change(column: MemberColumn) -> Edited:
            changes: dict[str, Any] = {key: value}
            return replace(column, **changes), said.get(key, "Change the bottom")

        return self._made(change)

    def _made(self, change: Callable[[MemberColumn], Edited]) -> Make:
        def make() -> tuple[MemberTarget, str]:
            column, label = change(self.column)
            return MemberTarget(column), label

        return make

    def _commit(self, change: Callable[[MemberColumn], Edited], merging: str = "") -> bool:
        return self._editing.commit(self._made(change), merging=merging)

    def _add(self) -> None:
        member, place = new_member(self.to_add.currentData()), self.at + 1
        if self._commit(lambda column: with_member_added(column, member, place)):
            self.choose(place)

    def _do(self, word: str) -> None:
        at, count = self.at, len(self.column.members)
        if word == "remove" and count > 1:
            self._commit(lambda column: without_member(column, at))
        elif word == "duplicate" and self._commit(lambda column: with_member_doubled(column, at)):
            self.choose(at + 1)
        elif word == "up" and at > 0:
            self._move(at, at - 1)
        elif word == "down" and at < count - 1:
            self._move(at, at + 1)

    def _move(self, at: int, to: int) -> None:
        if self._commit(lambda column: with_member_moved(column, at, to)):
            self.choose(to)
        else:  # a dragged line goes back
            self.list.clear()
            self.refresh()

    def _change_kind(self) -> None:
        at, word = self.at, self.kind.currentData()
        now = self.column.members[at]
        if word == now.member:
            return
        # arrow keys go through the kinds in between: each begins with what there was at first
        first = self._before[1] if self._before is not None and self._before[0] is now else now
        member = first if first.member == word else as_other(first, word)
        label = f"Change member {at + 1}"
        if self._commit(lambda column: (with_member(column, at, member), label), f"kind of {at}"):
            self._before = (member, first)
        self.refresh()

    def _change_variant(self) -> None:
        at, word = self.at, self.variant.currentData()
        self._commit(
            lambda column: with_member_changed(column, at, variant=word), f"variant of {at}"
        )
        self.refresh()

    def _place(self, edit: tuple[NumberField | None, dict[str, Any]], label: str) -> None:
        field, changes = edit
        self._editing.commit(
            self._made(lambda column: (replace(column, **changes), label)), field, label
        )


def _narrow_button(text: str) -> QToolButton:
    """A button as wide as its word."""
    button = QToolButton()
    button.setText(text)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    button.setSizePolicy(QSizePolicy.Policy.MinimumExpanding, QSizePolicy.Policy.Fixed)
    return button

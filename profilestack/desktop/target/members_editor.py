"""A wanted profile built from classical members."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from profilestack.desktop.labelled import Choice
from profilestack.desktop.number_field import NumberField
from profilestack.desktop.target.editing import Editing, Make
from profilestack.desktop.target.lying_form import LyingForm
from profilestack.desktop.target.member_form import MemberForm, fill_with_members
from profilestack.desktop.target.member_list import MemberList
from profilestack.desktop.target.placing_form import PlacingForm
from profilestack.errors import InputError
from profilestack.session.member_edits import (
    Edited,
    as_other,
    measured,
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
from profilestack.targets.members import Member, MemberColumn

MEASURES = {
    "back": "Change the wood behind",
    "spring": "Change the spring angle",
    "bottom": "Change the bottom",
}

COMMANDS = {
    "remove": ("Remove member", "Without the chosen member (Delete)"),
    "duplicate": ("Duplicate", "The chosen member once more (Ctrl+D)"),
    "up": ("Up", "The chosen member one place up (Alt+Up)"),
    "down": ("Down", "The chosen member one place down (Alt+Down)"),
}
"""What is done with a member: the word on the button, and more of it."""


class MembersEditor(QWidget):
    """A list of members, the chosen one's measures, and how all of them lie."""

    def __init__(self, editing: Editing) -> None:
        super().__init__()
        self._editing = editing
        self._before: tuple[Member, Member] | None = None
        self.list = MemberList()
        self.to_add, self.add = Choice("Member to add"), QPushButton("Add")
        self.buttons = {word: QPushButton(said) for word, (said, _) in COMMANDS.items()}
        self.member = MemberForm(editing.document)
        self.lying = LyingForm(editing.document)
        self.placing = PlacingForm(editing.document)
        fill_with_members(self.to_add)
        self.to_add.setToolTip("A member to put below the chosen one")
        self.add.setToolTip("Put it below the chosen member, in usual proportions")
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
        self.list.show_members(self.column.members, self._editing.document.units)
        self._show_member()
        self.lying.show_column(self.column)
        self.placing.show_placed(self.column)

    def choose(self, place: int) -> None:
        """Choose a member."""
        self.list.setCurrentRow(place)

    def _show_member(self) -> None:
        if not isinstance(self._editing.target, MemberTarget):
            return
        self.member.show_member(self.column.members[self.at])
        count = len(self.column.members)
        self.buttons["duplicate"].setToolTip(COMMANDS["duplicate"][1])
        for word, allowed, why in (
            ("remove", count > 1, "The last member cannot go: clear the profile instead"),
            ("up", self.at > 0, "It is the first already"),
            ("down", self.at < count - 1, "It is the last already"),
        ):
            self.buttons[word].setEnabled(allowed)
            self.buttons[word].setToolTip(COMMANDS[word][1] if allowed else why)

    def _lay_out(self) -> None:
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(self.list)
        row = QHBoxLayout()
        row.addWidget(self.to_add, 1)
        row.addWidget(self.add)
        box.addLayout(row)
        grid = QGridLayout()
        for place, button in enumerate(self.buttons.values()):
            grid.addWidget(button, place // 2, place % 2)
        box.addLayout(grid)
        for form in (self.member, self.lying, self.placing):
            box.addWidget(form)

    def _connect(self) -> None:
        self.list.currentRowChanged.connect(self._chosen)
        self.list.asked.connect(self._do)
        self.list.dragged.connect(self._move)
        self.add.clicked.connect(self._add)
        for word, button in self.buttons.items():
            button.clicked.connect(partial(self._do, word))
        self.member.kind_chosen.connect(self._change_kind)
        self.member.variant_chosen.connect(self._change_variant)
        self.lying.lie_chosen.connect(self._lie)
        for key, field in self.member.lengths.items():
            self._editing.follow(field, partial(self._measure, key), key)
        for key, number in self.lying.numbers.items():
            self._editing.follow(number, partial(self._laid, key), key)
        self.placing.edited.connect(self._place)

    def _chosen(self) -> None:
        self.member.restore()
        self._editing.abandon()
        self._show_member()

    def _measure(self, key: str, value: float | None) -> Make:
        """A measure of the chosen member, with others that wait for it: height after projection."""
        waiting = self.member.waiting(key)

        def change(column: MemberColumn) -> Edited:
            alone = measured(column.members[self.at], key, value)
            try:
                return with_member_changed(column, self.at, **{**alone, **waiting})
            except InputError:
                return with_member_changed(column, self.at, **alone)

        return self._made(change)

    def _laid(self, key: str, value: float | None) -> Make:
        """A measure of the column."""
        changes: dict[str, Any] = {key: value}
        return self._made(lambda column: (replace(column, **changes), MEASURES[key]))

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

    def _do(self, word: str, *_: object) -> None:
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

    def _change_kind(self, word: str) -> None:
        at = self.at
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

    def _change_variant(self, word: str | None) -> None:
        at = self.at
        merging = f"variant of {at}"
        self._commit(lambda column: with_member_changed(column, at, variant=word), merging)
        self.refresh()

    def _lie(self, lie: str) -> None:
        self._commit(lambda column: with_lie(column, lie), "lie")
        self.refresh()

    def _place(self, edit: tuple[NumberField | None, dict[str, Any]], label: str) -> None:
        field, changes = edit
        make = self._made(lambda column: (replace(column, **changes), label))
        self._editing.commit(make, field, label)

"""The wanted profile is built from members: numbers, kinds, order, lie and placing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.target.panel import TargetPanel
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.stack_file import read_stack
from profilestack.session.new_board import new_board
from profilestack.stack import MemberTarget, Rectangle
from profilestack.targets.members import Member, MemberColumn
from tests.gui.target_hands import Keys, column_of, document_with, shown


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return document_with()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


def test_fields_of_a_member_stay_in_their_places(panel: TargetPanel, qtbot: QtBot) -> None:
    keys, form = Keys(qtbot, panel), panel.members.member
    keys.push(panel.build)
    keys.push(panel.members.add)
    keys.choose(form.kind, "ovolo")
    height, projection = form.lengths["height"], form.lengths["projection"]

    def place(field: QWidget) -> QPoint:
        QApplication.processEvents()
        return field.mapTo(form, QPoint())

    before = {field: place(field) for field in (height, projection)}
    keys.enter(projection, "wide")
    assert {field: place(field) for field in before} == before, "the reason is below"
    keys.press(Qt.Key.Key_Escape)
    keys.choose(form.kind, "setback")
    assert not height.isVisible()
    assert place(projection) == before[projection]


def test_a_quarter_stays_one_when_its_height_is_typed(
    panel: TargetPanel, document: Document, qtbot: QtBot
) -> None:
    keys, editor = Keys(qtbot, panel), panel.members
    keys.push(panel.build)
    keys.choose(editor.to_add, "ovolo")
    keys.push(editor.add)
    keys.enter(editor.member.lengths["height"], "12.7")
    assert column_of(document).members[1] == Member("ovolo", 12.7, 12.7)
    assert editor.member.lengths["projection"].text() == "12.7 mm"
    keys.enter(editor.member.lengths["projection"], "10")
    assert column_of(document).members[1] == Member("ovolo", 12.7, 10.0)


def test_example_is_built_by_keyboard_alone(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    wanted = read_stack(shipped_examples_dir() / "base" / "cap.stack.toml").target
    assert isinstance(wanted, MemberTarget)
    keys, editor = Keys(qtbot, panel), panel.members
    keys.push(panel.build)
    qtbot.waitUntil(editor.isVisible)
    keys.enter(editor.member.lengths["height"], "4")
    for member in wanted.column.members[1:]:
        keys.choose(editor.to_add, member.member)
        keys.push(editor.add)
        for key, field in editor.member.lengths.items():
            number = getattr(member, key)
            if number is not None:
                keys.enter(field, f"{number} mm")
    keys.choose(editor.lying.lie, "flat")
    keys.enter(editor.lying.back, "8.125")
    assert column_of(document) == wanted.column
    # the board is too thin for it: the panel says so, and offers one that holds it
    assert "leaves the blank" in panel.trouble.text()
    keys.push(panel.fit_blank)
    assert panel.trouble.isHidden()
    assert document.report is not None
    # and then one that is no wider than the profile
    assert panel.fit_blank.text() == "Make the blank 34.4 by 24 mm"
    keys.push(panel.fit_blank)
    assert document.session.settled.blank.stock == Rectangle(34.4, 24.0)
    assert panel.fit_blank.isHidden()
    for _ in range(60):
        if document.session.undo_label is None:
            break
        document.undo()
    assert document.session.settled == new_board("mm")


def test_crown_is_built_with_its_spring(qtbot: QtBot, document: Document) -> None:
    wanted = read_stack(shipped_examples_dir() / "cornice" / "crown-target.stack.toml")
    assert isinstance(wanted.target, MemberTarget)
    column = wanted.target.column
    upright = replace(column, lie="upright", spring=None, bottom=None, back=20.0)
    document.edit(replace(wanted, target=MemberTarget(upright)), "Begin")
    host, panel = shown(qtbot, document)
    keys, editor = Keys(qtbot, panel), panel.members
    assert not editor.lying.spring.isVisible()
    keys.choose(editor.lying.lie, "sprung")
    qtbot.waitUntil(editor.lying.spring.isVisible)
    keys.enter(editor.lying.spring, "45")
    keys.enter(editor.lying.bottom, "7")
    keys.enter(editor.lying.back, "9.732")
    assert column_of(document) == column
    assert panel.trouble.isHidden()
    finish_under(host)


def test_typing_is_drawn_and_is_one_step_when_entered(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    document.edit(
        replace(
            document.stack, target=MemberTarget(MemberColumn((Member("fillet", 10.0),), back=9.0))
        ),
        "Begin",
    )
    field = panel.members.member.lengths["height"]
    field.setFocus()
    field.selectAll()
    before = document.session.settled
    qtbot.keyClicks(field, "15")
    assert document.stack != before
    assert isinstance(document.stack.target, MemberTarget)
    assert document.stack.target.column.height == 15.0
    assert document.session.settled is before
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert document.stack == before
    field.selectAll()
    qtbot.keyClicks(field, "15")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert column_of(document).height == 15.0
    assert document.session.undo_label == "Change member 1"
    document.undo()
    assert document.session.settled is before
    assert field.text() == "10 mm"


def test_wrong_number_keeps_its_text_and_says_why(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    ovolo = MemberTarget(MemberColumn((Member("ovolo", 10.0, 10.0),), back=9.0))
    document.edit(replace(document.stack, target=ovolo), "Begin")
    before = document.session.settled
    field = panel.members.member.lengths["height"]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "-3")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert field.text() == "-3"
    assert "-3.0 is impossible" in panel.members.member.rows["height"].trouble.text()
    assert document.session.settled is before
    assert document.stack == before


def test_members_are_moved_doubled_and_removed_by_keys(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    fillet, cove = Member("fillet", 4.0), Member("cavetto", 6.0, 6.0)
    target = MemberTarget(MemberColumn((fillet, cove), back=9.0))
    document.edit(replace(document.stack, target=target), "Begin")
    members = panel.members.list
    members.setFocus()
    panel.members.choose(0)
    qtbot.keyClick(members, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    assert column_of(document).members == (cove, fillet)
    assert members.currentRow() == 1
    qtbot.keyClick(members, Qt.Key.Key_D, Qt.KeyboardModifier.ControlModifier)
    assert column_of(document).members == (cove, fillet, fillet)
    assert members.currentRow() == 2
    qtbot.keyClick(members, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)  # its like: nothing
    qtbot.keyClick(members, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)
    assert column_of(document).members == (fillet, cove, fillet)
    assert members.currentRow() == 0
    qtbot.keyClick(members, Qt.Key.Key_Delete)
    assert column_of(document).members == (cove, fillet)
    members.dragged.emit(1, 0)
    assert column_of(document).members == (fillet, cove)
    for label in (
        "Move member 2", "Remove member 1", "Move member 2", "Duplicate member 2", "Move member 1",
    ):  # fmt: skip
        assert document.session.undo_label == label
        document.undo()
    assert document.session.settled.target == target


def test_kind_and_variant_of_a_member(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    target = MemberTarget(MemberColumn((Member("cavetto", 8.0, 6.0),), back=9.0))
    document.edit(replace(document.stack, target=target), "Begin")
    keys = Keys(qtbot, panel)
    keys.choose(panel.members.member.kind, "ovolo")
    assert column_of(document).members == (Member("ovolo", 8.0, 6.0),)
    keys.choose(panel.members.member.variant, "flat")
    assert column_of(document).members == (Member("ovolo", 8.0, 6.0, "flat"),)
    document.undo()
    assert document.session.settled.target == MemberTarget(
        replace(target.column, members=(Member("ovolo", 8.0, 6.0),))
    )
    document.undo()  # the kinds that the keys went through are one step
    assert document.session.settled.target == target
    assert "depth" not in [k for k, row in panel.members.member.rows.items() if row.isVisible()]


def test_members_that_run_into_each_other_are_refused(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    # an ovolo much wider than high dips below its lower end, where a level step meets it
    members = (
        Member("fillet", 5.0), Member("ovolo", 5.0, 20.0), Member("setback", projection=3.0),
        Member("fillet", 5.0),
    )  # fmt: skip
    document.edit(replace(document.stack, target=MemberTarget(MemberColumn(members))), "Begin")
    before = document.session.settled
    panel.members.choose(2)
    field = panel.members.member.lengths["projection"]
    Keys(qtbot, panel).enter(field, "-15")
    assert field.text() == "-15"
    assert "run into each other 10.000 mm below the top" in field.trouble
    assert document.stack is before
    panel.members.choose(0)
    panel.members.choose(2)
    assert field.text() == "3 mm"
    assert field.trouble == ""


def test_numbers_that_need_each_other_are_taken_together(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    conge = Member("conge", 18.0, -9.0)
    document.edit(replace(document.stack, target=MemberTarget(MemberColumn((conge,)))), "Begin")
    keys, lengths = Keys(qtbot, panel), panel.members.member.lengths
    keys.enter(lengths["height"], "6.35")  # too low for a round of 9
    assert lengths["height"].trouble
    keys.enter(lengths["projection"], "-6.35")
    assert column_of(document).members == (Member("conge", 6.35, -6.35),)
    assert lengths["height"].text() == "6.35 mm"
    assert not lengths["height"].trouble


def test_placing_moves_scales_turns_and_mirrors(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    target = MemberTarget(MemberColumn((Member("ovolo", 8.0, 8.0),), back=9.0))
    document.edit(replace(document.stack, target=target), "Begin")
    keys, placing = Keys(qtbot, panel), panel.members.placing
    keys.enter(placing.up, "1/4 in")
    keys.enter(placing.scale, "1/2")
    keys.enter(placing.rotation, "90")
    keys.push(placing.mirror)
    column = column_of(document)
    assert (column.at, column.scale, column.rotation, column.mirror) == (
        (0.0, 6.35),
        0.5,
        90.0,
        True,
    )
    keys.enter(placing.scale, "0")
    assert placing.scale.text() == "0"
    assert "0 is impossible" in placing.scale.trouble
    assert column_of(document) == column

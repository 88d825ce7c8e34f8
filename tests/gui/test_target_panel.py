"""The wanted profile: built from members, drawn, imported, placed; every step undone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path as FilePath

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.target.path_drawing import HANDLE
from profilestack.desktop.theme import DARK, LIGHT, palette_of
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.stack_file import read_stack
from profilestack.geometry.path import Arc, Path
from profilestack.jobs.target import Laying, TargetRequest, make_target
from profilestack.session.new_board import new_board
from profilestack.session.path_edits import points_of
from profilestack.stack import Blank, MemberTarget, PathTarget, Rectangle, Stack
from profilestack.targets.members import Member, MemberColumn
from tests.gui.target_hands import Keys, document_with, read, shown
from tests.unit.files.targets.drawings import dxf_bytes, dxf_of_pieces, new_dxf, svg, svg_path_of
from tests.unit.files.targets.pictures import encoded, picture
from tests.unit.targets.profiles import SECTION, STEPPED

COVE = (
    Path((0.0, 18.0)).line((10.0, 18.0)).arc((18.0, 10.0), (18.0, 18.0), "ccw").line((60.0, 10.0))
)


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return document_with()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


def column_of(document: Document) -> MemberColumn:
    target = document.session.settled.target
    assert isinstance(target, MemberTarget)
    return target.column


def path_of(document: Document) -> Path:
    target = document.session.settled.target
    assert isinstance(target, PathTarget)
    return target.typed


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


def test_kind_is_changed_and_undone(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    keys = Keys(qtbot, panel)
    assert panel.made_of.text() == "There is no wanted profile yet. Make one of"
    keys.push(panel.build)
    members = document.session.settled.target
    assert isinstance(members, MemberTarget)
    keys.push(panel.draw)
    assert path_of(document).length == pytest.approx(members.path().length)
    assert not panel.draw.isEnabled()
    qtbot.waitUntil(panel.path.isVisible)
    keys.push(panel.remove)
    assert document.session.settled.target is None
    assert not panel.remove.isEnabled()
    keys.push(panel.draw)
    assert len(path_of(document).steps) == 2
    for _ in range(3):
        document.undo()
    assert document.session.settled.target is members
    assert panel.made_of.text() == "Made of classical members"


def with_path(document: Document, path: Path = COVE) -> None:
    document.edit(replace(document.stack, target=PathTarget(path)), "Draw")


def test_point_is_edited_by_number(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    with_path(document)
    keys = Keys(qtbot, panel)
    keys.go_to(panel.path.table)
    keys.press(Qt.Key.Key_Down)
    keys.press(Qt.Key.Key_Down)
    assert panel.drawing.chosen == 2
    keys.enter(panel.path.point_x, "20")
    piece = path_of(document).segments[1]
    assert isinstance(piece, Arc)
    assert piece.end == (20.0, 10.0)
    assert document.session.undo_label == "Move point 3"
    document.undo()
    assert path_of(document) == COVE
    keys.enter(panel.path.radius, "10")
    piece = path_of(document).segments[1]
    assert isinstance(piece, Arc)
    assert piece.radius == pytest.approx(10.0)
    keys.choose(panel.path.kind, "line")
    assert points_of(path_of(document)) == points_of(COVE)
    assert not panel.path.radius.isVisible()


def test_radius_that_does_not_reach_says_so(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    with_path(document)
    panel.path.table.setCurrentCell(2, 0)
    Keys(qtbot, panel).enter(panel.path.radius, "3")
    assert panel.path.radius.text() == "3"
    assert "does not reach from end to end" in panel.path.radius.trouble
    assert path_of(document) == COVE


def test_points_are_added_removed_and_the_walk_turned(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    with_path(document)
    panel.path.table.setCurrentCell(2, 0)
    qtbot.mouseClick(panel.path.add, Qt.MouseButton.LeftButton)
    assert len(path_of(document).steps) == 4
    assert panel.path.table.rowCount() == 5
    qtbot.mouseClick(panel.path.remove, Qt.MouseButton.LeftButton)
    assert [type(step).__name__ for step in path_of(document).steps] == ["LineTo"] * 3
    document.undo()
    document.undo()
    qtbot.mouseClick(panel.path.turn_round, Qt.MouseButton.LeftButton)
    assert path_of(document) == COVE.reversed()


def test_closed_and_opened(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    with_path(document)
    panel.path.closed.click()
    target = document.session.settled.target
    assert isinstance(target, PathTarget)
    assert target.closed
    panel.path.closed.click()
    assert document.session.settled.target == PathTarget(COVE)


def drag(panel: TargetPanel, qtbot: QtBot, start: QPointF, end: QPointF, drop: bool = True) -> None:
    drawing = panel.drawing
    qtbot.mousePress(drawing, Qt.MouseButton.LeftButton, pos=start.toPoint())
    middle = (start + end) / 2.0
    qtbot.mouseMove(drawing, middle.toPoint())
    qtbot.mouseMove(drawing, end.toPoint())
    if drop:
        qtbot.mouseRelease(drawing, Qt.MouseButton.LeftButton, pos=end.toPoint())


def test_point_is_dragged_as_one_step(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    with_path(document)
    qtbot.waitUntil(panel.drawing.isVisible)
    drawing = panel.drawing
    start = drawing.place_of((18.0, 10.0)) + QPointF(HANDLE / 2 - 2, 0)  # taken at its rim
    drag(panel, qtbot, start, drawing.place_of((24.0, 8.0)), drop=False)
    assert points_of(document.stack.target.path())[2] == pytest.approx((24.0, 8.0), abs=0.3)  # type: ignore[union-attr]
    assert path_of(document) == COVE
    qtbot.mouseRelease(
        drawing, Qt.MouseButton.LeftButton, pos=drawing.place_of((24.0, 8.0)).toPoint()
    )
    assert points_of(path_of(document))[2] == pytest.approx((24.0, 8.0), abs=0.3)
    assert document.session.undo_label == "Move point 3"
    document.undo()
    assert path_of(document) == COVE


def test_drag_is_escaped(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    with_path(document)
    qtbot.waitUntil(panel.drawing.isVisible)
    drawing = panel.drawing
    drag(panel, qtbot, drawing.place_of((10.0, 18.0)), drawing.place_of((12.0, 12.0)), drop=False)
    assert document.stack.target != PathTarget(COVE)
    qtbot.keyClick(drawing, Qt.Key.Key_Escape)
    qtbot.mouseRelease(drawing, Qt.MouseButton.LeftButton, pos=QPoint(5, 5))
    assert document.stack.target == PathTarget(COVE)
    assert document.session.undo_label == "Draw"


def test_line_is_bent_by_its_middle(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    with_path(document)
    qtbot.waitUntil(panel.drawing.isVisible)
    drawing = panel.drawing
    drag(panel, qtbot, drawing.place_of((39.0, 10.0)), drawing.place_of((39.0, 15.0)))
    piece = path_of(document).segments[2]
    assert isinstance(piece, Arc)
    assert piece.turn == "cw"
    assert document.session.undo_label == "Bend piece 3"


def test_arrows_nudge_the_chosen_point(
    qtbot: QtBot, panel: TargetPanel, document: Document
) -> None:
    with_path(document)
    drawing = panel.drawing
    drawing.setFocus()
    qtbot.keyClick(drawing, Qt.Key.Key_PageDown)
    assert panel.path.table.currentRow() == 1
    qtbot.keyClick(drawing, Qt.Key.Key_Right)
    qtbot.keyClick(drawing, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert points_of(path_of(document))[1] == pytest.approx((10.1, 17.0))


def test_svg_is_previewed_then_taken(
    qtbot: QtBot, panel: TargetPanel, document: Document, tmp_path: FilePath
) -> None:
    file = tmp_path / "step.svg"
    file.write_bytes(svg(f'<path d="{svg_path_of(STEPPED)}" fill="none" stroke="black"/>'))
    before = document.session.settled
    read(qtbot, panel, file)
    importing = panel.importing
    assert "Largest deviation" in importing.told.text()
    assert document.stack is before
    assert not panel.members.isVisible()
    qtbot.mouseClick(importing.take_it, Qt.MouseButton.LeftButton)
    report = make_target(TargetRequest(file))
    assert document.session.settled.target == report.stack.target
    assert document.session.settled.blank == report.stack.blank
    assert document.session.undo_label == "Import step.svg"
    assert panel.path.isVisible()
    document.undo()
    assert document.session.settled is before


def test_dxf_without_units_asks_for_them(
    qtbot: QtBot, panel: TargetPanel, document: Document, tmp_path: FilePath
) -> None:
    file = tmp_path / "step.dxf"
    file.write_bytes(dxf_of_pieces(STEPPED, "R2010", units=0, scale=1 / 25.4))
    read(qtbot, panel, file)
    importing = panel.importing
    trouble = importing.form.rows["units"].trouble
    assert "does not say its units" in trouble.text()
    assert "--" not in trouble.text()
    assert not importing.take_it.isEnabled()
    with qtbot.waitSignal(importing.background.ended, timeout=20_000):
        Keys(qtbot, panel).choose(importing.form.choices["units"], "inches")
    assert trouble.isHidden()
    importing.take()
    assert path_of(document).length == pytest.approx(STEPPED.length, abs=0.01)


def test_side_mirror_scale_and_board_of_an_import(
    qtbot: QtBot, panel: TargetPanel, document: Document, tmp_path: FilePath
) -> None:
    file = tmp_path / "step.dxf"
    file.write_bytes(dxf_of_pieces(STEPPED, "R2010"))
    document.edit(replace(document.stack, blank=Blank(Rectangle(35.0, 40.0))), "Resize")
    read(qtbot, panel, file)
    form = panel.importing.form
    form.mirror.setChecked(True)
    form.numbers["scale"].value = 0.5
    form.choices["blank"].setCurrentIndex(form.choices["blank"].findData("own"))
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        panel.importing.read()
    panel.importing.take()
    laying = Laying(mirror=True, scale=0.5, width=35.0, thickness=40.0)
    assert (
        document.session.settled.target
        == make_target(TargetRequest(file, laying=laying)).stack.target
    )
    assert document.session.settled.blank == Blank(Rectangle(35.0, 40.0))


def test_layer_is_chosen(qtbot: QtBot, panel: TargetPanel, tmp_path: FilePath) -> None:
    drawing = new_dxf()
    space = drawing.modelspace()
    space.add_line((0, 10), (50, 10), dxfattribs={"layer": "profile"})
    space.add_line((0, 0), (9, 0), dxfattribs={"layer": "frame"})
    file = tmp_path / "two.dxf"
    file.write_bytes(dxf_bytes(drawing))
    read(qtbot, panel, file)
    assert "falls into 2 chains" in panel.importing.trouble.text()
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        keys = Keys(qtbot, panel)
        keys.enter(panel.importing.form.layer, "profile")
    assert panel.importing.report is not None
    assert panel.importing.report.stack.target is not None


def test_picture_asks_for_its_scale(qtbot: QtBot, panel: TargetPanel, tmp_path: FilePath) -> None:
    file = tmp_path / "scan.png"
    file.write_bytes(encoded(picture(SECTION), "PNG"))
    read(qtbot, panel, file)
    form = panel.importing.form
    assert "does not say its scale" in form.rows["dpi"].trouble.text()
    with qtbot.waitSignal(panel.importing.background.ended, timeout=20_000):
        Keys(qtbot, panel).enter(form.numbers["dpi"], "300")
    report = panel.importing.report
    assert report is not None
    assert report.stack.target is not None
    assert report.stack.target.closed


@pytest.mark.parametrize(
    ("name", "data", "said"),
    [
        ("cut.dxf", b"0\nSECTION\n", "cut off"),
        ("empty.svg", b"", "is empty"),
        ("words.csv", b"x_mm,z_mm\na,b\n", "words.csv"),
        ("notes.doc", b"notes", "are not read"),
    ],
)
def test_bad_file_shows_its_message(
    qtbot: QtBot, panel: TargetPanel, document: Document, tmp_path: FilePath,
    name: str, data: bytes, said: str,
) -> None:  # fmt: skip
    file = tmp_path / name
    file.write_bytes(data)
    before = document.stack
    read(qtbot, panel, file)
    told = panel.importing.trouble.text()
    assert said in told or said in panel.importing.title.text()
    assert told
    assert not panel.importing.take_it.isEnabled()
    qtbot.mouseClick(panel.importing.leave, Qt.MouseButton.LeftButton)
    assert not panel.importing.isVisible()
    assert document.stack is before


def test_drag_of_a_pass_leaves_the_panel_alone(
    qtbot: QtBot, panel: TargetPanel, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_path(document)
    looked: list[Stack] = []
    monkeypatch.setattr(panel, "_head_for", lambda kind: looked.append(document.stack))
    for title in ("a", "b", "c"):
        document.preview(replace(document.session.settled, title=title))
    assert looked == []


def test_every_field_has_a_name(panel: TargetPanel, document: Document) -> None:
    with_path(document)
    nameless = [
        widget
        for kind in (QLineEdit, QComboBox)
        for widget in panel.findChildren(kind)
        if not widget.accessibleName()
    ]
    assert nameless == []


def test_colours_follow_the_theme(qtbot: QtBot, panel: TargetPanel, document: Document) -> None:
    with_path(document)
    qtbot.waitUntil(panel.drawing.isVisible)
    former = QApplication.palette()
    try:
        for theme in (LIGHT, DARK):
            QApplication.setPalette(palette_of(theme))
            corner = panel.drawing.grab().toImage().pixelColor(3, 3)
            assert corner == QColor(theme.paper)
    finally:
        QApplication.setPalette(former)

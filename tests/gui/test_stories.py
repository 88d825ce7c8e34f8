"""The main job from a new board to the printed section: by mouse, and by keys alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.drawer.model import BIT
from profilestack.desktop.drawer.panel import DrawerPanel
from profilestack.desktop.find.panel import FindPanel
from profilestack.desktop.output.template_window import TemplateWindow
from profilestack.desktop.piece.panel import PiecePanel
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.window import Window
from profilestack.drawing.template.options import TemplateOptions
from profilestack.drawing.template.template import template_sheets
from profilestack.files.stack_file import read_stack
from profilestack.jobs.cut import cut_and_judge
from profilestack.session.pass_edits import nudge_step
from profilestack.stack import MemberTarget, Rectangle, Stack
from tests.gui.story_hands import Held, Key, Keys, Mouse
from tests.unit.drawing.pdf_reading import drawn_on, pages_of

POINT = 25.4 / 72.0
"""A point [mm], by its definition."""

# a screen that is none has no keyboard that a menu or a folded-out list could take
pytestmark = pytest.mark.qt_log_ignore("grabbing the", extend=True)


@pytest.fixture
def start(qtbot: QtBot, desk: Desk) -> Window:
    """The app as it is at its first start: the example, with the focus in the window."""
    window = desk.open_example()
    window.resize(1280, 800)
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    return window


def comes_back(qtbot: QtBot, widget: QWidget) -> None:
    """What a desktop does when a question is answered or a window opens, and this stand-in not."""
    widget.activateWindow()
    qtbot.waitUntil(widget.isActiveWindow)


def sheets_of(window: Window) -> TemplateWindow:
    sheets = window.outputs.template
    assert sheets is not None
    return sheets


def assert_saved(window: Window, path: Path) -> Stack:
    """The file holds what the window shows, and cuts to the same."""
    document = window.document
    assert not document.session.is_modified
    assert window.windowTitle() == f"{path.name}[*]"
    saved = read_stack(path)
    assert saved == document.stack
    report, again = document.report, cut_and_judge(saved, document.session.bits)
    assert report is not None
    assert report.comparison is not None
    assert again.comparison is not None
    assert again.comparison.leftover == report.comparison.leftover
    assert again.comparison.overcut == report.comparison.overcut
    return saved


def assert_printed(window: Window, path: Path) -> None:
    """The PDF has the sheets of what the window shows, at true size."""
    report = window.document.report
    assert report is not None
    options = sheets_of(window).form.options
    assert isinstance(options, TemplateOptions)
    sheets = template_sheets(report.cut, report.comparison, report.cautions, options)
    pages = pages_of(path.read_bytes())
    assert len(pages) == len(sheets)
    for page, sheet in zip(pages, sheets, strict=True):
        assert float(page.mediabox.width) * POINT == pytest.approx(sheet.width, abs=0.1)
        assert float(page.mediabox.height) * POINT == pytest.approx(sheet.height, abs=0.1)
        for axis in (0, 1):
            assert drawn_on(page).bars(axis, 100.0 / POINT, 0.01 / POINT)
    words = " ".join(page.extract_text() for page in pages)
    assert "1 : 1" in words
    for single in report.cut.passes:
        assert f"{single.cut.offset:g}" in words


def test_by_mouse(qtbot: QtBot, start: Window, desk: Desk, tmp_path: Path) -> None:
    Mouse(qtbot, start).menu("File", "new")
    window = desk.windows[-1]
    window.resize(1280, 800)
    qtbot.waitUntil(window.isActiveWindow)
    mouse, document = Mouse(qtbot, window), window.document

    # the wanted profile from members
    mouse.tab("Wanted profile")
    panel = window.docks["target"].widget()
    assert isinstance(panel, TargetPanel)
    mouse.click(panel.build)
    members = panel.members
    mouse.pick(members.to_add, "cavetto")
    mouse.click(members.add)
    mouse.write(members.member.lengths["projection"], "1/2 in")
    mouse.write(members.member.lengths["height"], "1/2 in")
    mouse.pick(members.lying.lie, "flat on its back")
    mouse.write(members.lying.back, "7 mm")
    target = document.stack.target
    assert isinstance(target, MemberTarget)
    assert [member.member for member in target.column.members] == ["fillet", "cavetto"]
    assert (target.column.members[1].height, target.column.members[1].projection) == (12.7, 12.7)
    assert (target.column.lie, target.column.back) == ("flat", 7.0)

    # a blank that holds it
    mouse.tab("Piece")
    piece = window.docks["piece"].widget()
    assert isinstance(piece, PiecePanel)
    fields = {
        field.accessibleName(): field for field in piece.findChildren(type(members.lying.back))
    }
    mouse.write(fields["Blank's width"], "24.7 mm")
    mouse.write(fields["Blank's thickness"], "19.7 mm")
    assert document.stack.blank.stock == Rectangle(24.7, 19.7)
    assert panel.trouble.text() == ""

    # bits onto the section
    mouse.tab("Stack")
    mouse.tab("Bits")
    drawer = window.docks["drawer"].widget()
    assert isinstance(drawer, DrawerPanel)
    mouse.click(drawer.at_hand.filters.search)
    QTest.keyClicks(drawer.at_hand.filters.search, "core box 1")
    view = drawer.at_hand.view
    index = drawer.at_hand.model.index_of("core-box-1in")
    assert index.data(BIT).id == "core-box-1in"
    view.scrollTo(index)
    mouse.click(view.viewport(), view.visualRect(index).center())
    mouse.click(drawer.at_hand.foot.place)
    assert [single.bit for single in document.stack.passes] == ["core-box-1in"]
    placed = document.stack

    # moved by hand to where the hollow is, taken back, done again
    section, axis = window.bench.section, window.axis
    bit = document.session.bits["core-box-1in"]
    report = document.report
    assert report is not None
    before = document.stack.passes[0]
    top = 19.7
    begin = QPoint(
        round(axis.pixel_of_x(before.offset)), round(axis.pixel_of_z(top - 0.5 * before.depth))
    )
    end = QPoint(
        round(axis.pixel_of_x(24.7)), round(axis.pixel_of_z(top - 12.7 + 0.5 * before.depth))
    )
    mouse.drag(section, begin, end)
    moved = document.stack
    assert moved.passes[0].offset > before.offset
    assert document.session.undo_label == "Move pass 1"
    mouse.menu("Edit", "undo")
    assert document.stack == placed
    mouse.menu("Edit", "redo")
    assert document.stack == moved
    assert bit.shape.size == 25.4

    # saved
    path = tmp_path / "cove.stack.toml"
    mouse.answer(path)
    mouse.menu("File", "save")
    assert assert_saved(window, path).passes == moved.passes

    # the full-size section
    mouse.menu("Output", "print")
    sheets = sheets_of(window)
    qtbot.waitUntil(lambda: not sheets.is_busy and sheets.save.isEnabled(), timeout=20_000)
    paper = tmp_path / "cove.pdf"
    mouse.answer(paper)
    mouse.click(sheets.save)
    qtbot.waitUntil(lambda: "Written" in sheets.words.text(), timeout=20_000)
    assert_printed(window, paper)


def test_by_keys_alone(qtbot: QtBot, start: Window, desk: Desk, tmp_path: Path) -> None:
    keys = Keys(qtbot)
    keys.control(Key.Key_N)
    window = desk.windows[-1]
    assert window is not start
    window.resize(1280, 800)
    qtbot.waitUntil(window.isActiveWindow)
    document = window.document

    # a blank: Ctrl and a number goes to a part of the window
    keys.control(Key.Key_6)
    for name, size in (("Blank's width", "24.7"), ("Blank's thickness", "19.7")):
        keys.go(name)
        keys.control(Key.Key_A)
        keys.write(size)
        keys.press(Key.Key_Return)
    assert document.stack.blank.stock == Rectangle(24.7, 19.7)

    # the wanted profile from members
    keys.control(Key.Key_3)
    keys.go("Members")
    keys.press(Key.Key_Space)
    keys.control(Key.Key_3)
    keys.go("Member to add")
    keys.write("cav")
    keys.go("Add")
    keys.press(Key.Key_Space)
    for name in ("Projection", "Height"):
        keys.control(Key.Key_3)
        keys.go(name)
        keys.control(Key.Key_A)
        keys.write("12.7")
        keys.press(Key.Key_Return)
    keys.control(Key.Key_3)
    keys.go("How it lies")
    keys.write("flat")
    keys.go("Wood behind")
    keys.control(Key.Key_A)
    keys.write("7")
    keys.press(Key.Key_Return)
    target = document.stack.target
    assert isinstance(target, MemberTarget)
    assert [(m.member, m.height, m.projection) for m in target.column.members] == [
        ("fillet", 12.0, None), ("cavetto", 12.7, 12.7),
    ]  # fmt: skip
    assert (target.column.lie, target.column.back) == ("flat", 7.0)

    # a way found and taken
    keys.control(Key.Key_4)
    panel = window.docks["find"].widget()
    assert isinstance(panel, FindPanel)
    keys.go("Find ways to cut it")
    with qtbot.waitSignal(panel.background.ended, timeout=60_000):
        keys.press(Key.Key_Space)
    assert panel.result is not None
    assert panel.result.options
    keys.go("Leftover against minutes")
    before, done = document.session.settled, document.session.undo_label
    assert document.stack == before
    keys.press(Key.Key_Right)
    assert document.stack != before  # it is only looked at
    assert (document.session.settled, document.session.undo_label) == (before, done)
    keys.press(Key.Key_Return)
    taken = document.session.settled
    assert len(taken.passes) > 0
    assert (document.session.undo_label or "").startswith("Take ")
    assert document.report is not None
    assert document.report.is_good

    # nudged, taken back, done again
    keys.control(Key.Key_1)
    keys.press(Key.Key_N)
    keys.press(Key.Key_Right)
    keys.press(Key.Key_Right)
    nudged = document.stack
    step = nudge_step("mm")
    assert document.chosen == (0,)
    assert nudged.passes[0].offset == pytest.approx(taken.passes[0].offset + 2.0 * step)
    keys.control(Key.Key_Z)
    assert document.stack == taken
    keys.control(Key.Key_Z, Held.ShiftModifier)
    assert document.stack == nudged

    # saved
    path = tmp_path / "cove.stack.toml"
    keys.answer(path)
    keys.control(Key.Key_S)
    assert assert_saved(window, path).passes == nudged.passes

    # the full-size section
    comes_back(qtbot, window)
    assert keys.focus is window.bench.section
    keys.control(Key.Key_P)
    sheets = sheets_of(window)
    comes_back(qtbot, sheets)
    qtbot.waitUntil(lambda: not sheets.is_busy and sheets.save.isEnabled(), timeout=20_000)
    paper = tmp_path / "cove.pdf"
    keys.go("Save as PDF …")
    keys.answer(paper)
    keys.press(Key.Key_Space)
    qtbot.waitUntil(lambda: "Written" in sheets.words.text(), timeout=20_000)
    assert_printed(window, paper)
    comes_back(qtbot, sheets)
    keys.press(Key.Key_Escape)
    assert not sheets.isVisible()

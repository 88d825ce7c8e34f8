"""The wanted profile is drawn: points and pieces by number, by mouse and by keys."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.background import finish_under
from profilestack.desktop.document import Document
from profilestack.desktop.target.panel import TargetPanel
from profilestack.desktop.target.path_drawing import HANDLE
from profilestack.geometry.path import Arc
from profilestack.session.path_edits import points_of
from profilestack.stack import PathTarget
from tests.gui.target_hands import COVE, Keys, document_with, path_of, shown, with_path


@pytest.fixture
def document(qapp: QApplication) -> Document:
    return document_with()


@pytest.fixture
def panel(qtbot: QtBot, document: Document) -> Iterator[TargetPanel]:
    host, panel = shown(qtbot, document)
    yield panel
    finish_under(host)


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

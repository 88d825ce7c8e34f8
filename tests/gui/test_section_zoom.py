"""The paper of the section is zoomed, moved and fitted."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.desktop.section.out_of_sight import out_of_sight_said
from profilestack.desktop.theme import theme_now
from profilestack.desktop.window import Window
from profilestack.stack import Pass
from tests.gui.benches import MIDDLE, NO_KEYS, TOP, HandOver, board
from tests.gui.section_hands import board_shown


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    return board_shown(qtbot)


@pytest.fixture
def hand(bench: Bench) -> HandOver:
    return HandOver(bench.section, bench)


def wheel(bench: Bench, at: QPointF, clicks: int) -> None:
    view = bench.section
    event = QWheelEvent(
        at, view.mapToGlobal(at), QPoint(), QPoint(0, 120 * clicks), Qt.MouseButton.NoButton,
        NO_KEYS, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view, event)


def test_the_wheel_zooms_and_what_is_under_the_pointer_stays(bench: Bench) -> None:
    at = QPointF(311.0, 207.0)
    place, scale = bench.section.place_of(at), bench.axis.scale
    wheel(bench, at, 3)
    assert bench.axis.scale == pytest.approx(scale * 1.2**3)
    assert bench.section.place_of(at) == pytest.approx(place)
    wheel(bench, at, -5)
    assert bench.section.place_of(at) == pytest.approx(place)


def test_the_zoom_survives_edits_and_the_paper_can_be_moved(bench: Bench, hand: HandOver) -> None:
    wheel(bench, QPointF(311.0, 207.0), 2)
    seen = (bench.axis.left, bench.axis.top, bench.axis.scale)
    bench.document.edit(board(Pass("flat", 33.0, 9.0)), "Change")
    bench.document.undo()
    assert (bench.axis.left, bench.axis.top, bench.axis.scale) == seen
    hand.press(QPointF(300.0, 200.0), MIDDLE)
    hand.move(QPointF(340.0, 190.0))
    hand.release()
    assert bench.axis.left == pytest.approx(seen[0] - 40.0 / seen[2])
    assert bench.axis.top == pytest.approx(seen[1] - 10.0 / seen[2])


def test_the_space_key_moves_the_paper(bench: Bench, hand: HandOver, qtbot: QtBot) -> None:
    stack, left = bench.document.stack, bench.axis.left
    qtbot.keyPress(bench.section, Qt.Key.Key_Space)
    begin = hand.over(20.3, 35.0)
    hand.drag(begin, begin + QPointF(40.0, 0.0))
    qtbot.keyRelease(bench.section, Qt.Key.Key_Space)
    assert bench.document.stack is stack
    assert bench.axis.left == pytest.approx(left - 40.0 / bench.axis.scale)


def test_fitting_shows_the_whole_blank_beside_the_rulers(bench: Bench) -> None:
    wheel(bench, QPointF(311.0, 207.0), 8)
    bench.fit()
    view, axis = bench.section, bench.axis
    assert axis.pixel_of_x(0.0) > view.ruler_edge
    assert axis.pixel_of_x(80.0) < view.width()
    assert axis.pixel_of_z(TOP) > view.ruler_depth
    assert axis.pixel_of_z(0.0) < view.height()
    whole = axis.scale
    bench.document.choose((0,))
    bench.fit_chosen()
    assert axis.scale > whole
    assert axis.pixel_of_x(20.3 - 6.0) > view.ruler_edge
    assert axis.pixel_of_x(20.3 + 6.0) < view.width()


def inked(bench: Bench) -> int:
    """How many pixels in the middle of the section are not its paper."""
    view, paper = bench.section, QColor(theme_now().paper)
    image = view.grab().toImage()
    across, down = image.width() // 2, image.height() // 2
    return sum(
        image.pixelColor(x, y) != paper
        for x in range(across - 60, across + 60)
        for y in range(down - 12, down + 12)
    )


@pytest.mark.parametrize("way", [(9.0, 0.0), (-9.0, 0.0), (0.0, 9.0), (0.0, -9.0)])
def test_a_blank_out_of_sight_is_told_and_brought_back(
    window: Window, way: tuple[float, float]
) -> None:
    view, axis = window.bench.section, window.axis
    window.bench.fit()
    seen = view.grab().toImage()
    axis.pan(way[0] * 200.0, way[1] * 200.0)
    assert inked(window.bench) > 50
    keys = window.actions_by_name["fit"].shortcut().toString()
    said = out_of_sight_said(view)
    assert keys
    assert said.endswith(f"Show the whole blank: {keys}")
    window.actions_by_name["fit"].trigger()
    assert view.grab().toImage() == seen


def test_the_line_follows_the_action(window: Window) -> None:
    view, action = window.bench.section, window.actions_by_name["fit"]
    action.setShortcut("F7")
    assert out_of_sight_said(view).endswith("F7")
    action.setShortcut("")
    assert "menu View" in out_of_sight_said(view)


def test_nothing_is_said_while_a_corner_of_the_blank_is_seen(bench: Bench) -> None:
    view, axis = bench.section, bench.axis
    # the lower left corner of the blank just inside the upper right one of the view
    axis.pan(
        view.width() - 6.0 - axis.pixel_of_x(0.0), view.ruler_depth + 6.0 - axis.pixel_of_z(0.0)
    )
    assert inked(bench) == 0
    axis.pan(12.0, 0.0)
    assert inked(bench) > 50

"""Where the panels stand: how wide the sides are, and where their titles are seen."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractScrollArea, QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.desk import Desk
from profilestack.desktop.panels import PLACES, RIGHT
from profilestack.desktop.stack_panel.cells import Column
from profilestack.desktop.stack_panel.figures import lines_of
from profilestack.desktop.stack_panel.fitting import fitted
from profilestack.desktop.window import Window

WANTED = {
    Column.NUMBER: 40, Column.BIT: 200, Column.SETUP: 60, Column.OFFSET: 50, Column.DEPTH: 50,
    Column.CAUTION: 40, Column.REMOVES: 60, Column.NOTE: 100,
}  # fmt: skip
"""600 in all."""


@pytest.fixture
def example(qtbot: QtBot, desk: Desk) -> Window:
    window = desk.open_example()
    window.resize(1280, 800)
    wait_for_sides(qtbot, window)
    return window


def wait_for_sides(qtbot: QtBot, window: Window) -> None:
    stack = window.docks["stack"]
    qtbot.waitUntil(lambda: stack.width() == stack.widget().sizeHint().width())


def test_the_sides_leave_most_of_the_window_to_the_section(example: Window) -> None:
    widths = [example.docks[name].width() for name in ("drawer", "stack")]
    assert widths[0] <= 290
    assert widths[1] <= 390
    assert example.bench.width() > 590


def test_the_sides_follow_the_window_until_somebody_draws_them(
    qtbot: QtBot, example: Window
) -> None:
    stack = example.docks["stack"]
    usual = stack.width()
    example.resize(900, 800)
    qtbot.waitUntil(lambda: stack.width() < usual)
    example.resize(1280, 800)
    qtbot.waitUntil(lambda: stack.width() == usual)
    line = QPoint(stack.geometry().left() - 3, stack.geometry().center().y())
    drawn = line - QPoint(60, 0)
    left = Qt.MouseButton.LeftButton
    qtbot.mousePress(example, left, pos=line)
    qtbot.mouseMove(example, drawn)
    qtbot.waitUntil(lambda: stack.width() > usual)
    qtbot.mouseRelease(example, left, pos=drawn)
    wider = stack.width()
    example.resize(1300, 820)
    qtbot.wait(20)
    assert stack.width() == wider
    example.reset_layout()
    qtbot.waitUntil(lambda: stack.width() == usual)


@pytest.fixture
def type_size(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[float]:
    usual, larger = qapp.font(), qapp.font()
    larger.setPointSizeF(usual.pointSizeF() * request.param)
    qapp.setFont(larger)
    yield request.param
    qapp.setFont(usual)


def sideways(window: Window, name: str) -> list[int]:
    """How far the areas of a panel can be scrolled sideways, of those that can be [px]."""
    areas = [a for a in window.docks[name].findChildren(QAbstractScrollArea) if a.isVisible()]
    assert areas, "the panel is seen"
    bars = [area.horizontalScrollBar() for area in areas]
    return [bar.maximum() for bar in bars if bar.isVisible()]


@pytest.mark.parametrize("type_size", [1.0, 1.25, 1.5], indirect=True)
@pytest.mark.parametrize("is_new", [True, False], ids=["new board", "example"])
def test_no_panel_has_to_be_scrolled_sideways(
    qtbot: QtBot, desk: Desk, type_size: float, is_new: bool
) -> None:
    window = desk.new() if is_new else desk.open_example()
    window.resize(1280, 800)
    qtbot.wait(50)
    for place in PLACES:
        window.go_to(place.name)
        qtbot.wait(50)
        assert sideways(window, place.name) == [], place.name
    if type_size == 1.0:
        assert window.bench.width() > 590


@pytest.mark.parametrize("type_size", [1.0, 1.25, 1.5], indirect=True)
@pytest.mark.parametrize("state", ["members", "lines", "bit form", "all wishes"])
def test_no_form_at_the_left_has_to_be_scrolled_sideways(
    qtbot: QtBot, type_size: float, window: Window, state: str
) -> None:
    name = {"bit form": "drawer", "all wishes": "find"}.get(state, "target")
    window.go_to(name)
    panel = window.docks[name].widget()
    if name == "target":
        (panel.build if state == "members" else panel.draw).click()
    elif name == "drawer":
        panel.begin_form(None)
    else:
        panel.form.more.setChecked(True)
    qtbot.wait(50)
    assert sideways(window, name) == []


def test_a_name_is_said_by_the_tab_or_by_a_title_not_by_both(qtbot: QtBot, example: Window) -> None:
    titled = {name: dock.titleBarWidget() is None for name, dock in example.docks.items()}
    assert not any(titled.values())
    first, *others, stack = sorted(
        (place for place in PLACES if place.side == RIGHT), key=lambda place: place.name == "stack"
    )
    floating, alone = example.docks[first.name], example.docks[stack.name]
    floating.setFloating(True)
    qtbot.waitUntil(lambda: floating.titleBarWidget() is None)
    for other in others:
        example.docks[other.name].hide()
    # the stack stands alone now: no tab says its name
    qtbot.waitUntil(lambda: alone.titleBarWidget() is None)
    example.reset_layout()
    assert all(dock.titleBarWidget() is not None for dock in example.docks.values())


@pytest.mark.parametrize(
    ("room", "widths"),
    [
        (700, WANTED | {Column.NOTE: 200}),
        (600, WANTED),
        (560, {**{c: w for c, w in WANTED.items() if c != Column.NOTE}, Column.BIT: 260}),
        (450, {Column.NUMBER: 40, Column.BIT: 210, Column.OFFSET: 50, Column.DEPTH: 50,
               Column.CAUTION: 40, Column.REMOVES: 60}),
        (400, {Column.NUMBER: 40, Column.BIT: 160, Column.OFFSET: 50, Column.DEPTH: 50,
               Column.CAUTION: 40, Column.REMOVES: 60}),
        (350, {Column.NUMBER: 40, Column.BIT: 120, Column.OFFSET: 50, Column.DEPTH: 50,
               Column.CAUTION: 30, Column.REMOVES: 60}),
        (100, {Column.NUMBER: 40, Column.BIT: 120, Column.OFFSET: 50, Column.DEPTH: 50,
               Column.CAUTION: 25, Column.REMOVES: 60}),
    ],
)  # fmt: skip
def test_columns_give_way_in_their_order(room: int, widths: dict[Column, int]) -> None:
    assert fitted(room, WANTED, 120, 25) == widths


@pytest.mark.parametrize(
    ("room", "lines"),
    [(540, [5]), (539, [2, 3]), (316, [2, 3]), (315, [2, 2, 1]), (90, [1] * 5)],
)
def test_figures_of_one_sort_stay_in_one_line(room: int, lines: list[int]) -> None:
    assert lines_of([100, 108, 100, 100, 100], room) == lines


@pytest.mark.parametrize(("room", "lines"), [(230, [1, 1, 3]), (140, [1, 1, 2, 1])])
def test_small_figures_stay_side_by_side_where_the_large_ones_cannot(
    room: int, lines: list[int]
) -> None:
    assert lines_of([140, 130, 40, 50, 80], room) == lines

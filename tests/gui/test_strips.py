"""The strips over and under the section: aligned with it, led by one cursor, in all themes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.desktop.section.place_words import PlaceWords
from profilestack.desktop.theme import DARK, LIGHT, Theme, palette_of, theme_now
from profilestack.geometry.path import Path
from profilestack.stack import Pass, Stack
from tests.gui.benches import FLAT, WIDTH, HandOver, bench_on, board

UNCUT = replace(board(), passes=())
"""Nothing is cut: the whole profile is proud, from the left edge to the right one."""


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    made = bench_on(UNCUT)
    qtbot.addWidget(made)
    return made


def pixels(widget: QWidget) -> np.ndarray:
    """What is painted, (height, width, 3) red, green, blue."""
    image = widget.grab().toImage().convertToFormat(QImage.Format.Format_RGB32)
    raw = np.frombuffer(image.constBits(), dtype=np.uint8)
    rows = raw.reshape(image.height(), image.bytesPerLine() // 4, 4)
    return rows[:, : image.width(), 2::-1].copy()  # the image does not outlive this


def unlike(row: np.ndarray, color: str, begin: int) -> np.ndarray:
    """The columns, from ``begin`` on, whose pixel is not of that colour."""
    wanted = QColor(color)
    plain = np.array((wanted.red(), wanted.green(), wanted.blue()))
    return begin + np.flatnonzero((row[begin:] != plain).any(axis=1))


@pytest.mark.parametrize("scale", [4.37, 6.21, 8.13])
def test_the_three_views_agree_on_x_to_the_pixel(bench: Bench, scale: float) -> None:
    bench.axis.set(-80.3 / scale, bench.axis.top, scale)
    first, last = bench.axis.pixel_of_x(0.0), bench.axis.pixel_of_x(WIDTH)
    assert (first, last) == pytest.approx((80.3, 80.3 + WIDTH * scale))
    theme, edge = theme_now(), int(bench.section.ruler_edge) + 2
    lit = unlike(pixels(bench.light)[-10], theme.paper, edge)
    # a pixel is looked at in three places: wood under less than that may be missed
    assert (lit[0], lit[-1] + 1) == pytest.approx((first, last), abs=1.0)
    strip = pixels(bench.leftover)
    ink = QColor(theme.ink)
    line = (strip[:, edge] == np.array((ink.red(), ink.green(), ink.blue()))).all(axis=1)
    row = strip[np.flatnonzero(line)[0] - 2]
    proud = edge + np.flatnonzero((row[edge:] != row[edge]).any(axis=1))
    # the curve is a line one pixel wide that goes up there
    assert (proud[0], proud[-1]) == (int(first - 0.5), int(last + 0.5))
    row = pixels(bench.section)[round(bench.axis.pixel_of_z(12.0))]
    outline = np.intersect1d(unlike(row, theme.paper, edge), unlike(row, theme.wood, edge))
    for place in (first, last):
        columns = outline[np.abs(outline - place) < 5.0]
        assert columns.mean() + 0.5 == pytest.approx(place, abs=0.75), "the middle of the line"


def test_the_views_begin_at_the_same_pixel(bench: Bench) -> None:
    places = {part.mapTo(bench, part.rect().topLeft()).x() for part in views(bench)}
    assert len(places) == 1
    assert len({part.width() for part in views(bench)}) == 1


def views(bench: Bench) -> tuple[QWidget, ...]:
    return (bench.light, bench.section, bench.leftover)


@pytest.mark.parametrize("part", [0, 1, 2])
def test_one_cursor_line_runs_through_all_three(bench: Bench, part: int) -> None:
    plain = [pixels(view).astype(int) for view in views(bench)]
    at = QPointF(333.0, 40.0)
    HandOver(views(bench)[part], bench).move(at)
    assert bench.document.cursor is not None
    column = round(bench.axis.pixel_of_x(bench.document.cursor[0]))
    if part != 2:  # the leftover strip leads to the worst place near by
        assert column == 333
    for view, before in zip(views(bench), plain, strict=True):
        changed = (pixels(view).astype(int) != before).any(axis=2)
        line = np.flatnonzero(changed.sum(axis=0) > before.shape[0] // 4)
        assert line.tolist() == [column], view.accessibleName()


def test_moving_along_the_leftover_shows_the_place_on_the_profile(qtbot: QtBot) -> None:
    steps = Path((0.0, 35.0)).line((30.0, 35.0)).line((30.0, 22.0)).line((WIDTH, 22.0))
    bench = bench_on(board(target=steps))
    qtbot.addWidget(bench)
    hand = HandOver(bench.leftover, bench)
    for x, z in ((12.0, 35.0), (61.0, 22.0)):
        hand.move(QPointF(bench.axis.pixel_of_x(x), 20.0))
        assert bench.document.cursor == pytest.approx((x, z), abs=3.0 / bench.axis.scale)


def test_keys_go_from_ridge_to_ridge(qtbot: QtBot) -> None:
    passes = [Pass("nose", 10.0 + 9.0 * k, 15.0) for k in range(5)]
    bench = bench_on(board(*passes, target=FLAT))
    qtbot.addWidget(bench)
    assert bench.document.report is not None
    assert bench.document.report.comparison is not None
    ridges = sorted(ridge.at for ridge in bench.document.report.comparison.ridges)
    for expected in ridges[:3]:
        qtbot.keyClick(bench.leftover, Qt.Key.Key_PageDown)
        assert bench.document.cursor == pytest.approx(expected)
    qtbot.keyClick(bench.leftover, Qt.Key.Key_PageUp)
    assert bench.document.cursor == pytest.approx(ridges[1])
    qtbot.keyClick(bench.leftover, Qt.Key.Key_Right)
    assert bench.document.cursor is not None
    assert bench.document.cursor[0] > ridges[1][0]


def test_what_is_under_the_cursor_is_told_in_one_place(qtbot: QtBot) -> None:
    bench = bench_on(board())
    foot = PlaceWords(bench)
    qtbot.addWidget(bench)
    qtbot.addWidget(foot)
    bench.document.move_cursor((20.3, 30.3))
    assert foot.place.text() == bench.place_words
    assert foot.place.text().startswith("x 20.30 mm   z 30.30 mm")
    assert "cut by pass 1, flat" in foot.place.text()
    assert "leftover +5.30 mm (proud)" in foot.place.text()
    bench.document.set_units("in")
    assert foot.place.text().startswith("x 0.799 in")
    bench.document.move_cursor(None)
    assert foot.place.text() == ""


def test_the_lamp_is_moved_by_its_slider_and_by_keys(bench: Bench, qtbot: QtBot) -> None:
    assert bench.light.lamp.from_left
    before = bench.light.lamp.altitude
    qtbot.keyClick(bench.light.slider, Qt.Key.Key_Right)
    assert bench.light.lamp.altitude == before + 1.0
    bench.light.slider.setValue(70)
    assert (bench.light.lamp.altitude, bench.light.lamp.from_left) == (20.0, False)
    assert "right" in bench.light.slider.toolTip()


def test_wanted_lies_above_as_cut_and_a_ridge_is_seen_in_the_latter(qtbot: QtBot) -> None:
    passes = [Pass("nose", 10.0 + 10.0 * k, 15.0) for k in range(7)]
    bench = bench_on(board(*passes))
    qtbot.addWidget(bench)
    lit = pixels(bench.light).astype(int)
    inner = slice(round(bench.axis.pixel_of_x(12.0)), round(bench.axis.pixel_of_x(68.0)))
    above, below = lit[4, inner], lit[-5, inner]
    assert (above == above[0]).all(), "the wanted profile is flat: one tone"
    assert np.ptp(below.sum(axis=1)) > 60, "hollows and ridges between them: light and shade"


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_colours_follow_the_theme_at_once(qtbot: QtBot, bench: Bench, theme: Theme) -> None:
    app = QApplication.instance()
    assert isinstance(app, QApplication)
    before = app.palette()
    try:
        app.setPalette(palette_of(theme))
        app.processEvents()
        paper = QColor(theme.paper)
        for view, row in zip(views(bench), (3, -8, 2), strict=True):
            corner = pixels(view)[row, -3]
            assert corner.tolist() == [paper.red(), paper.green(), paper.blue()]
    finally:
        app.setPalette(before)
        app.processEvents()


def test_a_document_that_cannot_be_cut_says_why_and_draws_no_section(qtbot: QtBot) -> None:
    bench = bench_on(board(Pass("unheard-of", 10.0, 5.0)))
    qtbot.addWidget(bench)
    assert bench.document.report is None
    written = pixels(bench.section)
    edge, depth = int(bench.section.ruler_edge) + 2, int(bench.section.ruler_depth) + 2
    inked = unlike(written[depth : depth + 80, edge:].reshape(-1, 3), theme_now().paper, 0)
    assert len(inked) > 100, "the reason is written"
    HandOver(bench.section, bench).move(QPointF(300.0, 200.0))
    assert bench.place_words == ""


def test_a_moment_shows_the_blank_as_it_was_then(qtbot: QtBot) -> None:
    bench = bench_on(board(target=None))
    qtbot.addWidget(bench)
    at = (round(bench.axis.pixel_of_z(37.0)), round(bench.axis.pixel_of_x(56.5)))
    wood = QColor(theme_now().wood)
    whole = [wood.red(), wood.green(), wood.blue()]
    assert pixels(bench.section)[at].tolist() != whole, "pass 2 took it"
    bench.document.look_at_moment(1)
    assert pixels(bench.section)[at].tolist() == whole
    bench.document.look_at_moment(None)
    assert pixels(bench.section)[at].tolist() != whole


def test_under_a_moving_hand_the_light_follows_at_its_own_pace(qtbot: QtBot, bench: Bench) -> None:
    """And it is never left behind: not when the hand rests, not when it lets go."""
    document, light = bench.document, bench.light
    groove = Pass(next(iter(document.stack.bits)).id, 30.0, 1.0)
    document.edit(replace(document.stack, passes=(groove,)), "Place")
    before = document.session.settled
    seen = [pixels(light)]

    def deeper(by: float) -> Stack:
        first, *others = before.passes
        return replace(before, passes=(replace(first, depth=first.depth + by), *others))

    document.preview(deeper(1.0))
    seen.append(pixels(light))
    assert (seen[0] != seen[1]).any(), "the first one is shown at once"
    document.preview(deeper(2.0))
    assert (pixels(light) == seen[1]).all(), "the next one waits"
    qtbot.waitUntil(lambda: bool((pixels(light) != seen[1]).any()), timeout=2000)
    document.preview(deeper(2.5))
    document.abandon()
    assert (pixels(light) == seen[0]).all(), "let go: all is as it was, at once"
    document.preview(deeper(1.0))
    document.edit(deeper(1.0), "Cut deeper")
    assert (pixels(light) == seen[1]).all()

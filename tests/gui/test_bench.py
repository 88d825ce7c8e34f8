"""The bench: when the blank is shown whole, and when the zoom is left alone."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.geometry.path import Path
from profilestack.stack import Blank, PathTarget, Rectangle, Stack
from tests.gui.benches import TOP, WIDTH, bench_on, board


def shows_all(bench: Bench) -> bool:
    view, axis = bench.section, bench.axis
    return (
        view.ruler_edge < axis.pixel_of_x(0.0) < axis.pixel_of_x(WIDTH) < view.width()
        and view.ruler_depth < axis.pixel_of_z(TOP) < axis.pixel_of_z(0.0) < view.height()
    )


def resize(bench: Bench, width: int, height: int) -> None:
    bench.resize(width, height)
    QApplication.processEvents()
    QApplication.processEvents()


def test_a_bench_shows_the_whole_blank_at_first_and_while_it_is_resized(qtbot: QtBot) -> None:
    bench = bench_on(board())
    qtbot.addWidget(bench)
    assert shows_all(bench)
    scale = bench.axis.scale
    resize(bench, 500, 600)
    assert shows_all(bench)
    assert bench.axis.scale < scale
    resize(bench, 1000, 900)
    assert shows_all(bench)
    assert bench.axis.scale > scale


def test_a_zoom_is_left_alone_when_the_bench_is_resized(qtbot: QtBot) -> None:
    bench = bench_on(board())
    qtbot.addWidget(bench)
    bench.zoom_in()
    seen = (bench.axis.left, bench.axis.top, bench.axis.scale)
    resize(bench, 500, 600)
    assert (bench.axis.left, bench.axis.top, bench.axis.scale) == seen
    bench.fit()
    resize(bench, 700, 600)
    assert shows_all(bench)


def test_a_larger_blank_is_shown_whole_unless_somebody_zoomed(qtbot: QtBot) -> None:
    bench = bench_on(board())
    qtbot.addWidget(bench)
    document, scale = bench.document, bench.axis.scale

    def widen(factor: float) -> None:
        blank = Blank(Rectangle(factor * WIDTH, TOP))
        document.edit(replace(document.stack, blank=blank, target=None), "Widen")

    widen(2.0)
    assert bench.axis.pixel_of_x(2.0 * WIDTH) < bench.section.width()
    assert bench.axis.scale < scale
    bench.zoom_in()
    seen = (bench.axis.left, bench.axis.top, bench.axis.scale)
    widen(3.0)
    assert (bench.axis.left, bench.axis.top, bench.axis.scale) == seen


def test_a_profile_that_leaves_the_blank_is_shown_whole(qtbot: QtBot) -> None:
    bench = bench_on(board())
    qtbot.addWidget(bench)
    document = bench.document

    def draw(width: float) -> Stack:
        target = PathTarget(Path((0.0, 25.0)).line((width, 25.0)))
        return replace(document.session.settled, target=target)

    seen = (bench.axis.left, bench.axis.top, bench.axis.scale)
    document.preview(draw(2.0 * WIDTH))
    assert (bench.axis.left, bench.axis.top, bench.axis.scale) == seen, "the hand still moves"
    document.edit(draw(2.0 * WIDTH), "Draw")
    assert document.report is None
    assert bench.axis.pixel_of_x(2.0 * WIDTH) < bench.section.width()
    document.edit(draw(1e5), "Slip")
    assert shows_all(bench)
    document.edit(draw(WIDTH), "Draw again")
    assert (bench.axis.left, bench.axis.top, bench.axis.scale) == seen


def test_zooming_in_and_out_goes_about_the_middle_and_back(qtbot: QtBot) -> None:
    bench = bench_on(board())
    qtbot.addWidget(bench)
    scale = bench.axis.scale
    bench.zoom_in()
    assert bench.axis.scale > scale
    bench.zoom_out()
    assert abs(bench.axis.scale - scale) < 1e-9

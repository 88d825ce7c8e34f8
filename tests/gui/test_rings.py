"""The numbers of passes in their rings: seen whole with their axis at every zoom, or not at all."""

from __future__ import annotations

import math

import pytest
from PySide6.QtCore import QRectF
from pytestqt.qtbot import QtBot

from profilestack.desktop.bench import Bench
from profilestack.desktop.section.balloons import Balloon, handle_size
from profilestack.desktop.section.in_sight import APART, rings_along
from profilestack.stack import Pass, Setup
from tests.gui.benches import TOP, bench_on, board

ROOM = (50.0, 20.0, 450.0, 320.0)
SIZE = 24.0
UP = (0.0, -1.0)


@pytest.fixture
def bench(qtbot: QtBot) -> Bench:
    passes = (
        Pass("flat", 20.3, 9.7), Pass("nose", 55.3, 11.7), Pass("flat", 55.3, 6.0),
        Pass("nose", 50.0, 30.0, setup="turned"), Pass("flat", 30.0, 6.0, setup="edge"),
    )  # fmt: skip
    setups = (Setup("turned", 30.0), Setup("edge", 90.0))
    made = bench_on(board(*passes, setups=setups))
    qtbot.addWidget(made)
    return made


def rings(bench: Bench) -> dict[int, Balloon]:
    bench.section.grab()
    return {balloon.index: balloon for balloon in bench.section.balloons}


def room_of(bench: Bench) -> QRectF:
    view = bench.section
    return QRectF(view.rect()).adjusted(view.ruler_edge, view.ruler_depth, 0.0, 0.0)


def test_no_ring_is_cut_off_wherever_the_paper_is(bench: Bench) -> None:
    half = handle_size(bench.section.font()) / 2.0
    whole = room_of(bench).adjusted(half, half, -half, -half).adjusted(-1e-6, -1e-6, 1e-6, 1e-6)
    axis, seen = bench.axis, 0
    for zoom in (1.0, 2.3, 6.0):
        bench.fit()
        axis.zoom(zoom, 400.0, 200.0)
        at = (axis.left, axis.top, axis.scale)
        for right in range(-700, 701, 35):
            for down in (-260, -90, 0, 120):
                axis.set(*at)
                axis.pan(float(right), float(down))
                for ring in rings(bench).values():
                    assert whole.contains(ring.middle)
                    over_tip = ring.middle - ring.tip
                    assert math.hypot(over_tip.x(), over_tip.y()) >= half
                    seen += 1
    assert seen > 300


def test_a_ring_goes_with_its_axis(bench: Bench) -> None:
    """It stays while the axis is beside the ruler, and goes when that is beyond the ruler."""
    axis, edge = bench.axis, room_of(bench).left()
    for pixels in (9.0, 1.0):
        axis.pan(edge + pixels - axis.pixel_of_x(20.3), 0.0)
        ring = rings(bench)[0]
        assert ring.end.x() == ring.tip.x() == pytest.approx(edge + pixels), "the axis as it is"
        assert ring.middle.x() == pytest.approx(edge + handle_size(bench.section.font()) / 2.0)
    axis.pan(-2.0, 0.0)
    assert 0 not in rings(bench)
    bench.document.choose((0,))
    assert 0 not in rings(bench), "though it is chosen"
    axis.pan(bench.section.width() - edge + 2.0, 0.0)
    assert 0 not in rings(bench), "beyond the right side"
    axis.pan(-3.0, 0.0)
    assert 0 in rings(bench)


def test_numbers_of_axes_that_lead_out_of_the_view_stand_at_its_edge(bench: Bench) -> None:
    axis, room = bench.axis, room_of(bench)
    half = handle_size(bench.section.font()) / 2.0
    # the blank's face is just out of sight, the tips of the two passes at 55.3 are not
    axis.zoom(2.0, axis.pixel_of_x(55.3), 200.0)
    axis.pan(0.0, room.top() - 5.0 - axis.pixel_of_z(TOP))
    found = rings(bench)
    assert found[1].middle.y() == pytest.approx(room.top() + half)
    assert found[1].middle.x() == pytest.approx(axis.pixel_of_x(55.3))
    assert found[2].middle.y() == pytest.approx(found[1].middle.y() + 2.0 * half + APART)
    assert bench.section.balloon_at(found[1].middle) == 1, "it is a handle there"
    axis.pan(0.0, -(11.7 * axis.scale + 10.0))
    assert not {1, 2} & set(rings(bench)), "the tips are out of sight too"


def test_rings_where_all_is_in_sight_stand_over_each_other(bench: Bench) -> None:
    size = handle_size(bench.section.font())
    found = rings(bench)
    assert set(found) == {0, 1, 2, 3, 4}
    assert found[1].middle == found[1].end
    assert found[2].middle.y() == pytest.approx(found[1].middle.y() - size - APART)
    assert found[1].middle.y() < bench.axis.pixel_of_z(TOP) - size / 2.0


def test_rings_go_out_first_then_in() -> None:
    found = list(rings_along((200.0, 60.0), (200.0, 200.0), UP, SIZE, 4, ROOM))
    assert [end[1] for end, _ in found] == [60.0, 34.0, 86.0, 112.0]
    assert all(end == middle for end, middle in found)


@pytest.mark.parametrize(
    ("begin", "tip"),
    [
        ((49.0, 60.0), (49.0, 200.0)),  # left of the room
        ((451.0, 60.0), (451.0, 200.0)),
        ((200.0, -80.0), (200.0, 19.0)),  # over it
        ((200.0, 330.0), (200.0, 400.0)),
        ((28.0, 40.0), (58.0, 10.0)),  # past its corner
        ((200.0, 0.0), (200.0, 40.0)),  # no more than its tip is in sight
    ],
)
def test_what_is_out_of_sight_has_no_ring(
    begin: tuple[float, float], tip: tuple[float, float]
) -> None:
    far = math.dist(begin, tip)
    way = ((begin[0] - tip[0]) / far, (begin[1] - tip[1]) / far)
    assert list(rings_along(begin, tip, way, SIZE, 4, ROOM)) == []


def test_a_room_smaller_than_a_ring_has_none() -> None:
    small = (50.0, 20.0, 70.0, 320.0)
    assert list(rings_along((60.0, 60.0), (60.0, 200.0), UP, SIZE, 4, small)) == []

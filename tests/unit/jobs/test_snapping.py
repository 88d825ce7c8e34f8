"""Snaps against closed forms: where a bit rests on flats, in corners, in arcs of its own radius."""

from __future__ import annotations

import math

import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.edge import silhouette_path
from profilestack.bits.shapes import CoreBox, Roundover, Straight, VGroove
from profilestack.bits.shapes.base import BitShape
from profilestack.geometry.path import Path
from profilestack.jobs.grounding import Ground, ground_of
from profilestack.jobs.snapping import (
    Hold,
    Snap,
    contacts,
    depth_guides,
    offset_guides,
    snap,
)
from profilestack.stack import Blank, Pass, PathTarget, Rectangle, Setup, Stack, StraightRun

WIDTH, TOP = 80.0, 40.0
HOLD = Hold(reach=0.6)
CLOSE = 0.003
"""Arcs are told by chords off by 0.001 mm at most, of the bit and of the wood."""


def bit(shape: BitShape) -> Bit:
    return Bit("bit", shape, cutting_length=30.0, shank=6.0, length=90.0)


def stack(target: Path | None, *passes: Pass, setups: tuple[Setup, ...] = ()) -> Stack:
    return Stack(
        blank=Blank(Rectangle(WIDTH, TOP)),
        run=StraightRun(1000.0),
        target=None if target is None else PathTarget(target),
        setups=setups,
        passes=passes,
    )


def meant(ground: Ground, of: Stack, wish: tuple[float, float], hold: Hold = HOLD) -> Snap:
    guides = (offset_guides(of, ground, None, "face"), depth_guides(of, ground, None, "face"))
    return snap(ground, guides, wish, hold)


FLAT = Path((0.0, 25.0)).line((WIDTH, 25.0))
HOLLOW = Path((0.0, TOP)).line((30.0, TOP)).arc((50.0, TOP), (40.0, TOP), "ccw").line((WIDTH, TOP))
ROUND = (
    Path((0.0, 20.0)).line((32.0, 20.0)).arc((40.0, 28.0), (40.0, 20.0), "cw")
    .arc((48.0, 20.0), (40.0, 20.0), "cw").line((WIDTH, 20.0))
)  # fmt: skip
VALLEY = Path((0.0, TOP)).line((25.0, TOP)).line((40.0, 25.0)).line((55.0, TOP)).line((WIDTH, TOP))
STEP = Path((0.0, 35.0)).line((30.0, 35.0)).line((30.0, 22.0)).line((WIDTH, 22.0))


@pytest.mark.parametrize("shape", [Straight(12.0), CoreBox(12.0), VGroove(12.0, 90.0, 0.0)])
def test_a_bit_comes_to_rest_on_a_flat(shape: BitShape) -> None:
    of = stack(FLAT)
    ground = ground_of(of, "face", bit(shape))
    found = meant(ground, of, (37.123, 14.6))
    assert found.depth == pytest.approx(TOP - 25.0, abs=2e-4)
    assert found.depth <= TOP - 25.0, "never deeper than touching"
    assert found.depth_to == "touches the wanted profile"
    assert (found.offset, found.offset_to) == (37.12, "")


def test_a_bit_pushed_into_the_profile_is_held_longer_than_one_above_it() -> None:
    of = stack(FLAT)
    ground = ground_of(of, "face", bit(Straight(12.0)))
    assert meant(ground, of, (37.0, 15.0 + 2.4 * HOLD.reach)).depth_to
    assert not meant(ground, of, (37.0, 15.0 + 2.6 * HOLD.reach)).depth_to
    assert not meant(ground, of, (37.0, 15.0 - 1.1 * HOLD.reach)).depth_to


def test_a_core_box_sits_in_a_hollow_of_its_own_radius() -> None:
    of = stack(HOLLOW)
    ground = ground_of(of, "face", bit(CoreBox(20.0)))
    found = meant(ground, of, (40.3, 9.8))
    assert (found.offset, found.depth) == pytest.approx((40.0, 10.0), abs=1e-9)
    assert found.words == "in the arc, radius 10 mm"
    silhouette = silhouette_path(ground.bit).flatten(0.001)
    ends = contacts(ground, silhouette, found.offset, found.depth)
    assert len(ends) == 2, "it touches all along"
    assert all(math.dist(end, (40.0, TOP)) == pytest.approx(10.0, abs=CLOSE) for end in ends)


def test_a_roundover_sits_on_a_round_of_its_own_radius() -> None:
    of = stack(ROUND)
    ground = ground_of(of, "face", bit(Roundover(8.0, 4.0)))
    # its arc is centred at the tip's height, tip / 2 + R beside the axis
    for side in (-1.0, 1.0):
        offset = 40.0 + side * (2.0 + 8.0)
        found = meant(ground, of, (offset + 0.3, TOP - 20.0 - 0.2))
        assert (found.offset, found.depth) == pytest.approx((offset, TOP - 20.0), abs=1e-9)
        assert found.offset_to.startswith("in the arc")


def test_a_smaller_round_nose_lies_deepest_in_the_middle_of_a_hollow() -> None:
    of = stack(HOLLOW)
    ground = ground_of(of, "face", bit(CoreBox(8.0)))
    aside = 3.0
    assert ground.deepest(40.0) == pytest.approx(10.0, abs=CLOSE)
    # its centre keeps R - r from the hollow's
    expected = 4.0 + math.sqrt(6.0**2 - aside**2)
    assert ground.deepest(40.0 + aside) == pytest.approx(expected, abs=CLOSE)


def test_a_v_sits_in_a_corner_of_its_own_angle() -> None:
    of = stack(VALLEY)
    ground = ground_of(of, "face", bit(VGroove(40.0, 90.0, 0.0)))
    found = meant(ground, of, (40.4, 14.7))
    assert (found.offset, found.depth) == pytest.approx((40.0, 15.0), abs=1e-3)
    assert found.words == "touches on both sides"


def test_a_round_nose_in_a_corner_touches_both_sides() -> None:
    of = stack(VALLEY)
    ground = ground_of(of, "face", bit(CoreBox(10.0)))
    found = meant(ground, of, (39.7, 12.7))
    # the centre lies R sqrt 2 above the corner of two slopes of 45 degrees
    assert found.offset == pytest.approx(40.0, abs=1e-3)
    assert found.depth == pytest.approx(TOP - (25.0 + 5.0 * math.sqrt(2.0) - 5.0), abs=CLOSE)
    places = contacts(ground, silhouette_path(ground.bit).flatten(0.001), *wish_of(found))
    expected = [
        (40.0 + side * 5.0 / math.sqrt(2.0), 25.0 + 5.0 / math.sqrt(2.0)) for side in (1, -1)
    ]
    assert len(places) == 2
    for place, corner in zip(sorted(places), sorted(expected), strict=True):
        assert math.dist(place, corner) < 0.2


def wish_of(found: Snap) -> tuple[float, float]:
    return (found.offset, found.depth)


def test_a_straight_bit_stands_on_a_flat_against_a_wall() -> None:
    of = stack(STEP)
    ground = ground_of(of, "face", bit(Straight(12.0)))
    found = meant(ground, of, (36.3, 17.8))
    assert (found.offset, found.depth) == pytest.approx((36.0, 18.0), abs=1e-3)
    assert found.words == "touches on both sides"


def test_along_one_axis_a_bit_stops_at_a_wall() -> None:
    of = stack(STEP)
    ground = ground_of(of, "face", bit(Straight(12.0)))
    guides = (offset_guides(of, ground, None, "face"), depth_guides(of, ground, None, "face"))
    found = snap(ground, guides, (35.8, 12.0), HOLD, (True, False))
    assert found.offset == pytest.approx(36.0, abs=1e-4)
    assert found.depth == 12.0
    assert found.offset_to == "touches the wanted profile"


def test_lines_of_other_passes_edges_and_the_grid() -> None:
    of = stack(None, Pass("other", 22.0, 7.0), Pass("off", 50.0, 9.0, on=False))
    ground = ground_of(of, "face", bit(Straight(12.0)))
    found = meant(ground, of, (22.4, 7.3))
    assert (found.offset, found.depth) == (22.0, 7.0)
    assert found.words == "in line with pass 1, as deep as pass 1"
    assert meant(ground, of, (6.2, 3.0)).words == "flush with the left edge"
    assert meant(ground, of, (40.2, TOP - 0.2)).words == (
        "over the middle of the blank, down to the bed"
    )
    assert meant(ground, of, (50.2, 9.2)).words == "", "a pass that is off holds nothing"
    grid = Hold(reach=0.6, grid=1.0)
    found = meant(ground, of, (51.2, 11.6), grid)
    assert (found.offset, found.offset_to) == (51.0, "grid of 1 mm")
    assert (found.depth, found.depth_to) == (11.6, "")


def test_nothing_holds_a_bit_above_the_wood() -> None:
    of = stack(None)
    ground = ground_of(of, "face", bit(Straight(12.0)))
    found = meant(ground, of, (51.4, -4.9), Hold(reach=0.6, grid=1.0, step=0.01))
    assert (found.depth, found.depth_to) == (0.01, "")


def test_a_pass_with_its_setup_turned_touches_where_it_lies() -> None:
    of = stack(FLAT, setups=(Setup("back", 180.0), Setup("edge", 90.0)))
    ground = ground_of(of, "edge", bit(Straight(12.0)))
    # the right side is up: the wood to keep fills the blank from 15 of the old top on
    assert ground.deepest(5.0) is None
    assert ground.deepest(30.0) == pytest.approx(0.0, abs=1e-5)
    assert ground.deepest(15.0 - 6.0 - 0.01) is None


def test_without_a_target_nothing_is_touched() -> None:
    of = stack(None)
    ground = ground_of(of, "face", bit(Straight(12.0)))
    assert ground.deepest(40.0) is None
    assert contacts(ground, silhouette_path(ground.bit).flatten(0.001), 40.0, 5.0) == ()


def test_a_depth_never_comes_to_nothing() -> None:
    of = stack(None)
    ground = ground_of(of, "face", bit(Straight(12.0)))
    assert meant(ground, of, (33.0, -4.0)).depth == HOLD.step

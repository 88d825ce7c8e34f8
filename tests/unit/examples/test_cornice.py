"""The cornice: figures against closed forms, and why its order is what it is."""

from __future__ import annotations

import math

import pytest

from profilestack.cutting.cut import CHORD
from profilestack.jobs.spread import spread_of
from tests.unit.examples.pieces import Pieces, stops

FLAT_OF_SMALL_V = 0.020 * 25.4
"""Diameter of the flat on the 1/2 in V's tip [mm]."""


def test_the_crown_stays_half_a_flat_short_of_its_inside_corners(pieces: Pieces) -> None:
    comparison = pieces.judged("cornice/crown").comparison
    assert comparison is not None
    # sides of 45 degrees on both faces: the flat t stands t/2 above the corner, t/(2 sqrt 2) from
    # either face
    assert comparison.unreached_max == pytest.approx(FLAT_OF_SMALL_V / 2.0, abs=CHORD)
    assert comparison.leftover.max == pytest.approx(FLAT_OF_SMALL_V / math.sqrt(8.0), abs=CHORD)
    # a triangle of t/2 by t in each of the two corners; arcs drawn as chords add a little
    assert comparison.leftover.area == pytest.approx(2 * FLAT_OF_SMALL_V**2 / 4.0, abs=0.02)


def test_the_crown_is_the_installed_cornice_turned(pieces: Pieces) -> None:
    crown = pieces.judged("cornice/crown").comparison
    assert crown is not None
    path = pieces.stack("cornice/installed").target.path()  # type: ignore[union-attr]
    # installed, the strip is the solid cornice without what lies behind its sloping back: the cut
    # from the level top, 14.2836 from the front, at 45 degrees down to the wall
    solid = abs(path.line((0.0, 0.0)).signed_area)
    slope = _sloping_back_at_the_wall()
    behind = (62.1 - slope) ** 2 / 2.0
    assert crown.wanted.area == pytest.approx(solid - behind, abs=0.05)


def _sloping_back_at_the_wall() -> float:
    """How far above the molding's bottom the sloping back meets the wall [mm]."""
    deepest = 28.4 - 25.4 * math.sqrt(2.0)  # p - h at the hollow's deepest place
    return 9.732 * math.sqrt(2.0) - deepest


def test_the_crown_needs_the_lane_over_its_ovolo(pieces: Pieces) -> None:
    assert pieces.stack("cornice/crown").passes[2].relief
    without = pieces.in_order("cornice/crown", 1, 2, 4, 5, 6, 7, 8, 9, 10, 11)
    assert stops(pieces.judge(without)) == {"shank-rubs", "too-deep"}


def test_without_its_lane_on_the_wedge_a_fin_stands_in_many_crowns(pieces: Pieces) -> None:
    """The round reaches 15.875 - 12.7 above its arc, the step under the fillet is 3 high.

    So 0.175 of overlap is left; the wedge alone (0.2 degrees at some 40 mm) takes 0.14 of it.
    """
    assert pieces.stack("cornice/crown").passes[9].relief
    without = pieces.in_order("cornice/crown", 1, 2, 3, 4, 5, 6, 7, 8, 9, 11)
    spreads = []
    for stack in (pieces.stack("cornice/crown"), without):
        spread = spread_of(pieces.judge(stack), pieces.drawer)
        assert spread is not None
        spreads.append(spread.standing)
    assert spreads[0] < 0.02
    assert spreads[1] > 0.1


def test_the_bow_and_the_installed_cornice_are_one_section(pieces: Pieces) -> None:
    bow, installed = pieces.judged("cornice/bow"), pieces.judged("cornice/installed")
    assert bow.cut.section.area == pytest.approx(installed.cut.section.area, rel=1e-9)
    removed = [single.removed_area for single in bow.cut.passes]
    again = [single.removed_area for single in installed.cut.passes]
    assert removed == pytest.approx(again, rel=1e-9)
    quarter = math.pi / 4.0
    section = (
        7.0 * 8.0
        + 11.0 * 25.4 + (1.0 - quarter) * 25.4**2  # cavetto
        + 36.4 * 6.0
        + 39.4 * 12.7 + quarter * 12.7**2  # ovolo
        + 55.1 * 10.0
    )  # fmt: skip
    # chords lose at most 2/3 of the chord error times the arcs' length
    slack = 2.0 / 3.0 * CHORD * math.pi / 2.0 * (25.4 + 12.7)
    assert bow.cut.section.area == pytest.approx(section, abs=slack)


def test_the_bow_needs_its_order(pieces: Pieces) -> None:
    round_first = pieces.in_order("cornice/bow", 7, 1, 2, 3, 4, 5, 6)
    assert {"shank-rubs", "nut-rubs"} <= stops(pieces.judge(round_first))
    # 2.5 mm of stock in front rub the round's shank
    front_last = pieces.in_order("cornice/bow", 1, 2, 3, 4, 6, 7, 5)
    assert "shank-rubs" in stops(pieces.judge(front_last))


def test_without_its_first_lane_the_bow_keeps_a_sliver(pieces: Pieces) -> None:
    without = pieces.in_order("cornice/bow", 2, 3, 4, 5, 6, 7)
    comparison = pieces.judge(without).comparison
    assert comparison is not None
    # above the core box's edge, 33.4 - 31.75 thick, between the step and the roughed-out hollow,
    # and the step itself, 8 deep and 4 wide
    sliver = 33.4 - 31.75
    beside = 16.0 - 11.0
    assert comparison.leftover.area == pytest.approx(beside * sliver + 4.0 * 8.0, abs=0.01)

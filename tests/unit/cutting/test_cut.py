"""Cutting a stack: what passes remove, repeats, copies, stopped passes, refusals."""

from __future__ import annotations

import math
from typing import Any

import pytest
import shapely

from profilestack.bits.shapes import Dovetail
from profilestack.cutting.cut import CHORD, MOST_STROKES, cut_stack
from profilestack.errors import InputError
from profilestack.stack import Blank, CurvedRun, Round, Setup, StraightRun, TurnedRun
from tests.shop import bit, board, core_box, cut, stack_of, straight

LENGTH = 1000.0
SMALL = straight(6.0)


def test_a_groove_is_width_times_depth() -> None:
    done = cut((straight(12.0), 30.0, 5.0))
    assert done.passes[0].removed_area == pytest.approx(60.0)
    assert done.passes[0].removed_volume == pytest.approx(60.0 * LENGTH)
    assert done.section.area == pytest.approx(60.0 * 30.0 - 60.0)
    assert done.volume == pytest.approx((1800.0 - 60.0) * LENGTH)
    assert done.section.bounds == (0.0, 0.0, 60.0, 30.0)


def test_an_offset_outside_the_blank_cuts_what_reaches_in() -> None:
    done = cut((straight(12.0), -4.0, 5.0), (straight(12.0), 66.5, 5.0))
    assert [single.removed_area for single in done.passes] == pytest.approx([10.0, 0.0])


def test_only_the_edge_cuts() -> None:
    """A short edge below the face leaves the stock over it."""
    done = cut((straight(12.0, edge=4.0), 30.0, 10.0))
    assert done.passes[0].removed_area == pytest.approx(48.0)
    assert len(done.section.geoms[0].interiors) == 1


def test_passes_that_are_off_are_kept_and_counted_but_not_cut() -> None:
    off = {"on": False}
    done = cut((SMALL, 10.0, 5.0), (SMALL, 20.0, 5.0, off), (SMALL, 30.0, 5.0))
    assert [single.number for single in done.passes] == [1, 3]
    assert done.section.area == pytest.approx(1800.0 - 60.0)
    assert {stroke.number for stroke in done.strokes} == {1, 3}


def test_an_unknown_bit_is_refused_with_its_neighbour_unless_it_is_off() -> None:
    stack, _ = stack_of((SMALL, 10.0, 5.0))
    with pytest.raises(InputError) as caught:
        cut_stack(stack, {"straight 60": straight(60.0)})
    (problem,) = caught.value.problems
    assert problem.where == "pass[1].bit"
    assert problem.hint == "did you mean 'straight 60'?"
    off, _ = stack_of((SMALL, 10.0, 5.0, {"on": False}))
    assert cut_stack(off, {}).section.area == pytest.approx(1800.0)


def test_sections_after_each_pass() -> None:
    done = cut((SMALL, 10.0, 5.0), (SMALL, 20.0, 6.0, {"count": 2, "pitch": 10.0}))
    areas = [done.section_after(number).area for number in (0, 1, 2, 3)]
    assert areas == pytest.approx([1800.0, 1770.0, 1698.0, 1698.0])
    assert done.removed_by(done.passes[1]).area == pytest.approx(72.0)
    assert done.blank.area == pytest.approx(1800.0)


def test_repeats_lie_a_pitch_apart_and_count_once_where_they_overlap() -> None:
    apart = cut((SMALL, 10.0, 5.0, {"count": 4, "pitch": 12.0}))
    assert apart.passes[0].removed_area == pytest.approx(4 * 30.0)
    assert [stroke.axis for stroke in apart.strokes] == [10.0, 22.0, 34.0, 46.0]
    overlapping = cut((SMALL, 30.0, 5.0, {"count": 4, "pitch": -4.0}))
    assert overlapping.passes[0].removed_area == pytest.approx((6.0 + 3 * 4.0) * 5.0)


@pytest.mark.parametrize("copies", [1, 2, 7, 24])
def test_copies_go_round_the_middle(copies: int) -> None:
    flute = core_box(6.0)
    done = cut(
        (flute, 25.0, 2.0, {"setup": "around"}), blank=Blank(Round(50.0)), chord=1e-4,
        setups=(Setup("around", 0.0, copies),),
    )  # fmt: skip
    # the lens of two circles, of the dowel and of the ball, their middles 26 apart
    r, q, apart = 25.0, 3.0, 26.0
    one = math.acos((apart**2 + r**2 - q**2) / (2 * apart * r))
    two = math.acos((apart**2 + q**2 - r**2) / (2 * apart * q))
    lens = r**2 * (one - math.sin(2 * one) / 2) + q**2 * (two - math.sin(2 * two) / 2)
    slack = copies * 2 / 3 * 1e-4 * (2 * one * r + 2 * two * q)
    assert done.passes[0].removed_area == pytest.approx(copies * lens, abs=slack)
    assert len(done.strokes) == copies
    middle = done.section.centroid
    if copies > 1:
        assert (middle.x, middle.y) == pytest.approx((25.0, 25.0), abs=1e-6)


def test_copies_on_a_rectangle_turn_about_its_centre() -> None:
    around = (Setup("around", 0.0, 2),)
    done = cut((SMALL, 20.0, 5.0, {"setup": "around"}), setups=around)
    # the second groove comes from below, as far from the right side as the first from the left
    wood = shapely.box(0, 0, 60, 30) - shapely.box(17, 25, 23, 30) - shapely.box(37, 0, 43, 5)
    assert shapely.symmetric_difference(done.section, wood).area < 1e-9


def test_copies_and_repeats_together() -> None:
    done = cut(
        (SMALL, 20.0, 5.0, {"setup": "around", "count": 2, "pitch": 20.0}),
        setups=(Setup("around", 0.0, 2),),
    )
    assert len(done.strokes) == 4
    assert done.passes[0].removed_area == pytest.approx(4 * 30.0)


STOPPED: list[tuple[dict[str, Any], float]] = [
    ({"begin": 100.0, "end": 400.0}, 300.0),
    ({"begin": 100.0}, 900.0),
    ({"end": 400.0}, 400.0),
    ({}, LENGTH),
]


@pytest.mark.parametrize(("span", "length"), STOPPED)
def test_a_stopped_pass_counts_its_own_length(span: dict[str, Any], length: float) -> None:
    done = cut((SMALL, 30.0, 5.0, span))
    assert done.passes[0].removed_volume == pytest.approx(30.0 * length)
    assert done.volume == pytest.approx(1800.0 * LENGTH - 30.0 * length)
    # the section is drawn where the passes are
    assert done.passes[0].removed_area == pytest.approx(30.0)


def test_stopped_passes_share_volume_only_where_both_are() -> None:
    """Two grooves overlap by 3 x 5 in the section, and along the part from 300 to 400."""
    done = cut(
        (SMALL, 30.0, 5.0, {"begin": 100.0, "end": 400.0}),
        (SMALL, 33.0, 5.0, {"begin": 300.0, "end": 800.0}),
    )
    first, second = (single.removed_volume for single in done.passes)
    assert first == pytest.approx(30.0 * 300.0)
    assert second == pytest.approx(30.0 * 500.0 - 15.0 * 100.0)
    assert done.volume == pytest.approx(1800.0 * LENGTH - first - second)
    assert done.passes[1].removed_area == pytest.approx(15.0)


def test_volumes_add_up_with_one_stopped_pass_among_whole_ones() -> None:
    done = cut(
        (SMALL, 20.0, 5.0),
        (core_box(12.7), 22.0, 8.0, {"begin": 250.0, "end": 750.0}),
        (SMALL, 24.0, 7.0, {"count": 2, "pitch": 5.0}),
    )
    removed = math.fsum(single.removed_volume for single in done.passes)
    assert done.volume + removed == pytest.approx(1800.0 * LENGTH, rel=1e-9)


def test_a_curved_part_is_longer_outside() -> None:
    inside = cut((SMALL, 10.0, 5.0), run=CurvedRun(500.0, 90.0))
    outside = cut((SMALL, 50.0, 5.0), run=CurvedRun(500.0, 90.0))
    turn = math.pi / 2
    assert inside.passes[0].removed_volume == pytest.approx(30.0 * turn * 510.0)
    assert outside.passes[0].removed_volume == pytest.approx(30.0 * turn * 550.0)
    assert inside.volume == pytest.approx(1800.0 * turn * 530.0 - 30.0 * turn * 510.0)


def test_a_curved_part_turned_over_keeps_its_own_inside() -> None:
    """Turned over the offset runs from the other side, which stays the outside of the curve."""
    done = cut(
        (SMALL, 10.0, 5.0, {"setup": "back"}), run=CurvedRun(500.0, 90.0),
        setups=(Setup("back", 180.0),),
    )  # fmt: skip
    assert done.passes[0].removed_volume == pytest.approx(30.0 * math.pi / 2 * 550.0)


def test_a_turned_part_counts_full_circles_about_the_bottom() -> None:
    done = cut((SMALL, 30.0, 5.0), run=TurnedRun())
    assert done.passes[0].removed_volume == pytest.approx(6.0 * math.pi * (30.0**2 - 25.0**2))
    assert done.volume == pytest.approx(60 * math.pi * 900 - done.passes[0].removed_volume)


def test_a_turned_part_takes_no_undercut_bit() -> None:
    dovetail = bit("dovetail", Dovetail(12.7, 14.0), edge=8.0)
    with pytest.raises(InputError, match="narrows above its tip"):
        cut((dovetail, 30.0, 8.0), run=TurnedRun())
    assert cut((dovetail, 30.0, 8.0), run=StraightRun(LENGTH)).passes[0].removed_area > 0.0


@pytest.mark.parametrize("chord", [0.0, 1e-7, 1.5, float("nan")])
def test_impossible_chords_are_refused(chord: float) -> None:
    with pytest.raises(InputError, match="chord"):
        cut((SMALL, 30.0, 5.0), chord=chord)


def test_too_many_strokes_are_refused_before_the_work() -> None:
    many = {"count": 1000, "pitch": 0.05, "setup": "around"}
    copies = MOST_STROKES // 1000 + 1
    with pytest.raises(InputError, match=f"make {1000 * copies} strokes"):
        cut((SMALL, 10.0, 5.0, many), setups=(Setup("around", 0.0, copies),))


def test_the_chord_error_is_the_one_asked_for() -> None:
    coarse, fine = (cut((core_box(25.4), 30.0, 12.7), chord=chord) for chord in (0.05, CHORD))
    half_disc = math.pi * 12.7**2 / 2
    assert half_disc - coarse.passes[0].removed_area < 2 / 3 * 0.05 * math.pi * 12.7
    assert half_disc - fine.passes[0].removed_area < 2 / 3 * CHORD * math.pi * 12.7
    assert coarse.passes[0].removed_area < fine.passes[0].removed_area


def test_an_empty_stack_is_its_blank() -> None:
    done = cut(blank=board(40.0, 20.0))
    assert done.passes == ()
    assert done.volume == pytest.approx(800.0 * LENGTH)


def test_all_can_be_cut_away() -> None:
    done = cut((straight(80.0), 30.0, 35.0))
    assert done.section.is_empty
    assert done.volume == 0.0

"""Targets of the trade: found with the bits that a shop would take, or told what stays."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

from profilestack.bits.bit import Bit
from profilestack.files.shipped import shipped_examples_dir
from profilestack.files.stack_file import read_stack
from profilestack.finding.advice import Stretch, unreached_stretches
from profilestack.finding.options import Option, find_options
from profilestack.finding.problem import problem_of
from profilestack.finding.request import FindRequest
from profilestack.geometry.path import Path
from profilestack.jobs.find import FindResult, find
from profilestack.progress import SILENT
from profilestack.stack import (
    CurvedRun,
    MemberTarget,
    Pass,
    Stack,
    TurnedRun,
)
from profilestack.targets.members import Member, MemberColumn
from tests.finding import board_for, request
from tests.planted import drawer
from tests.shop import core_box, straight

LEFTOVER, OVERCUT = 0.30, 0.10
"""The usual tolerances."""


def bits(*names: str) -> list[Bit]:
    by_id = {bit.id: bit for bit in drawer()}
    return [by_id[name] for name in names]


def finishing(option: Option) -> list[Pass]:
    return [single for single in option.assembled.stack.passes if not single.relief]


def relief(option: Option) -> list[Pass]:
    return [single for single in option.assembled.stack.passes if single.relief]


def fewest_passes(result: FindResult) -> Option:
    return min(result.options, key=lambda option: option.assembled.finishing)


def assert_good(result: FindResult, leftover: float = LEFTOVER, overcut: float = OVERCUT) -> None:
    """All is reached, and every option keeps both tolerances and may be cut."""
    assert result.is_good
    assert result.unreached == ()
    for option in result.options:
        comparison = option.assembled.comparison
        assert comparison.leftover_worst <= leftover + 1e-6
        assert comparison.overcut_worst <= overcut + 1e-6
        assert all(each.severity != "stop" for each in option.assembled.cautions)


# -- the tangent ogee ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("size", "hollow", "round_over"),
    [("small", "core-box-1in", "point-round-1-2in"), ("large", "core-box-2in", "point-round-1in")],
)
def test_a_core_box_and_a_round_of_one_radius_make_the_tangent_ogee(
    size: str, hollow: str, round_over: str
) -> None:
    stack = read_stack(shipped_examples_dir() / "ogee" / f"{size}.stack.toml")
    offered = bits(hollow, round_over, "straight-3-4in", "core-box-1-2in", "v90-1-1-4in")
    result = find(request(stack, offered, 0.02, 0.02))
    assert_good(result, 0.02, 0.02)
    option = fewest_passes(result)
    assert option.proved
    core, point = sorted(finishing(option), key=lambda single: -single.depth)
    assert (core.bit, point.bit) == (hollow, round_over)
    # the joint can only be where both stand upright: the core box goes one radius deeper
    radius = {"small": 12.7, "large": 25.4}[size]
    assert core.depth - point.depth == pytest.approx(radius, abs=0.03)
    assert option.assembled.comparison.unreached_max < 0.02
    # its edge is shorter than it goes deep, so stock over its shank is roughed out
    edge = next(bit for bit in offered if bit.id == hollow).cutting_length
    assert edge < core.depth
    assert len(relief(option)) >= 1


def test_a_core_box_with_a_long_enough_edge_needs_no_roughing_out() -> None:
    stack = read_stack(shipped_examples_dir() / "ogee" / "small.stack.toml")
    long_one = core_box(25.4, edge=32.0)
    (point,) = bits("point-round-1-2in")
    result = find(request(stack, [long_one, point], 0.02, 0.02))
    assert_good(result, 0.02, 0.02)
    option = fewest_passes(result)
    assert {single.bit for single in finishing(option)} == {long_one.id, point.id}
    assert len(finishing(option)) == 2
    assert relief(option) == []


# -- the orders: Cyclopedia of Architecture, Carpentry and Building, vol. 7, 1907 (read) -----------


def flat(members: Sequence[Member], back: float = 8.0) -> Stack:
    """A column of members on its back, in a blank that just holds it."""
    column = MemberColumn(tuple(members), lie="flat", back=back)
    width, thickness = column.box()
    return board_for(MemberTarget(column), round(width, 6), round(thickness, 6))


def tuscan_base(s: float) -> tuple[Member, ...]:
    """Secs 40-41: conge 3, listel 3, torus 12, plinth 14 at 6 farther out; 32 parts high."""
    return (
        Member("conge", 3.0 * s, -3.0 * s),
        Member("fillet", 3.0 * s),
        Member("torus", 12.0 * s),
        Member("setback", projection=-6.0 * s),
        Member("fillet", 14.0 * s),
    )


def doric_base(s: float) -> tuple[Member, ...]:
    """Sec. 54: conge 2, fillet 2, bead 3, torus 9, plinth 12; 28 parts high."""
    return (
        Member("conge", 2.0 * s, -2.0 * s),
        Member("fillet", 2.0 * s),
        Member("bead", 3.0 * s),
        Member("setback", projection=-1.5 * s),
        Member("torus", 9.0 * s),
        Member("setback", projection=-4.5 * s),
        Member("fillet", 12.0 * s),
    )


BASE_BITS = (
    "straight-1-8in", "straight-1-2in", "straight-1-1-4in", "core-box-1-4in", "core-box-3-8in",
    "point-round-3-16in", "point-round-3-8in", "ball-1-4in", "taper-ball-1-16in", "v60-1-2in",
)  # fmt: skip


def options_and_stays(wanted: FindRequest) -> tuple[tuple[Option, ...], tuple[Stretch, ...]]:
    """What the finder says, but for the bits that would help: all of the library takes long."""
    problem = problem_of(wanted)
    return find_options(problem, SILENT), unreached_stretches(problem)


def test_the_tuscan_base_is_found_but_for_the_foot_of_its_torus() -> None:
    wanted = request(flat(tuscan_base(1.5)), bits(*BASE_BITS), LEFTOVER, OVERCUT)
    options, (stays,) = options_and_stays(wanted)
    # the torus of radius 9 meets the plinth upright, 27 along: a gap that closes to nothing
    assert stays.end[0] == pytest.approx(27.0)
    assert 18.0 < stays.begin[0] < 27.0
    assert options
    for option in options:
        comparison = option.assembled.comparison
        assert comparison.overcut_worst <= OVERCUT + 1e-6
        # what stays is told to a twentieth, and nothing else stands as high
        assert comparison.leftover_worst == pytest.approx(stays.leftover, abs=0.05)
        high = [ridge for ridge in comparison.ridges if ridge.height > LEFTOVER]
        assert all(abs(ridge.at[0] - 26.0) < 2.0 for ridge in high)
        assert [each for each in comparison.corners if each.distance > LEFTOVER]


def test_what_stays_of_the_tuscan_base_is_as_much_as_the_gap_lets_through() -> None:
    # with a straight of 1/8 in as the slimmest bit: sqrt(2 rho d - d^2) above the foot, less what
    # the overcut lets through on either side (computed)
    rho, d = 9.0, 3.175
    offered = bits("straight-1-8in", "straight-1-2in", "core-box-1-4in", "core-box-3-8in")
    stays = unreached_stretches(
        problem_of(request(flat(tuscan_base(1.5)), offered, LEFTOVER, 0.02))
    )
    worst = max(stays, key=lambda each: each.leftover)
    low = math.sqrt(2.0 * rho * (d - 0.04) - (d - 0.04) ** 2) - 0.02
    high = math.sqrt(2.0 * rho * d - d * d) + 0.02
    assert low <= worst.leftover <= high
    assert worst.end[0] == pytest.approx(27.0)


def test_the_doric_base_is_told_where_two_rounds_meet_their_neighbours() -> None:
    wanted = request(flat(doric_base(1.7)), bits(*BASE_BITS), LEFTOVER, OVERCUT)
    stretches = unreached_stretches(problem_of(wanted))
    # bead against torus and torus against plinth: 11.9 and 27.2 along
    places = [stays.end[0] for stays in stretches]
    assert places == pytest.approx([7.0 * 1.7, 16.0 * 1.7], abs=0.01)
    assert [stays.leftover > 1.0 for stays in stretches] == [True, True]


def test_the_doric_crowning_pair_is_found() -> None:
    # cyma recta 6 x 6 of two quadrants r 3 under a listel 3, five times as large
    stack = flat((Member("fillet", 15.0), Member("cyma-recta", 30.0, 30.0)))
    offered = bits("core-box-1-2in", "core-box-1in", "point-round-1-2in", "straight-1-2in",
                   "v90-1-1-4in", "core-box-2in", "point-round-1in")  # fmt: skip
    assert_good(find(request(stack, offered, LEFTOVER, OVERCUT)))


# -- undercut bits, runs, setups -------------------------------------------------------------------


def dovetail_groove(middle: float, depth: float, width: float = 50.0) -> Path:
    """A groove 1/2 in wide at its bottom, with sides of 14 degrees."""
    slope = math.tan(math.radians(14.0))
    low, high = 6.35, 6.35 - depth * slope
    path = Path((0.0, 20.0)).line((middle - high, 20.0)).line((middle - low, 20.0 - depth))
    path = path.line((middle + low, 20.0 - depth)).line((middle + high, 20.0))
    return path.line((width, 20.0))


@pytest.mark.parametrize("middle", [25.0, 21.337])
def test_a_dovetail_groove_takes_a_dovetail(middle: float) -> None:
    offered = bits("dovetail-1-2in-14", "straight-1-4in", "bullnose-1-2in", "core-box-1-4in")
    result = find(request(board_for(dovetail_groove(middle, 8.0), 50.0, 20.0), offered, 0.1, 0.03))
    assert_good(result, 0.1, 0.03)
    option = fewest_passes(result)
    (single,) = finishing(option)
    assert single.bit == "dovetail-1-2in-14"
    assert (single.offset, single.depth) == pytest.approx((middle, 8.0), abs=0.04)
    assert "enter-from-end" in {each.code for each in option.assembled.cautions}


def test_without_a_dovetail_the_groove_is_told_hidden() -> None:
    offered = bits("straight-1-4in", "core-box-1-4in")
    stack = board_for(dovetail_groove(25.0, 8.0), 50.0, 20.0)
    stays = unreached_stretches(problem_of(request(stack, offered, 0.1, 0.03)))
    assert len(stays) == 2
    assert all("hangs over" in each.why for each in stays)


HOLLOW = (
    Path((0.0, 20.0)).line((14.0, 20.0)).arc((26.0, 20.0), (20.0, 20.0), "ccw").line((40.0, 20.0))
)


def test_a_turned_part_takes_no_undercut_bit() -> None:
    offered = [core_box(12.0), *bits("dovetail-1-2in-14", "bullnose-1-2in", "straight-1-4in")]
    result = find(request(board_for(HOLLOW, 40.0, 20.0, TurnedRun()), offered, 0.1, 0.05))
    assert_good(result, 0.1, 0.05)
    for option in result.options:
        assert {single.bit for single in option.assembled.stack.passes} <= {
            core_box(12.0).id, "straight-1-4in"
        }  # fmt: skip
    assert [single.bit for single in finishing(fewest_passes(result))] == [core_box(12.0).id]


@pytest.mark.parametrize(("radius", "wide_allowed"), [(5.0, False), (200.0, True)])
def test_a_curve_must_be_wider_than_the_bit(radius: float, wide_allowed: bool) -> None:
    # the step on the side towards the curve's middle: a wide bit would cut the far side too
    path = Path((0.0, 15.0)).line((8.0, 15.0)).line((8.0, 20.0)).line((40.0, 20.0))
    wide, slim = straight(30.0), straight(6.0)
    run = CurvedRun(radius, 90.0)
    result = find(request(board_for(path, 40.0, 20.0, run), [wide, slim], 0.1, 0.05))
    assert_good(result, 0.1, 0.05)
    for option in result.options:
        for single in option.assembled.stack.passes:
            half = 15.0 if single.bit == wide.id else 3.0
            assert single.offset + radius > half
    fewest = len(finishing(fewest_passes(result)))
    assert fewest == (1 if wide_allowed else 2)


def test_a_sprung_crown_is_found_with_its_setups_and_not_without() -> None:
    stack = read_stack(shipped_examples_dir() / "cornice" / "crown.stack.toml")
    offered = bits("v90-1-2in", "v90-1-1-4in", "core-box-2in", "point-round-1-2in")
    every = (stack.setup("face"), *stack.setups)
    result = find(request(stack, offered, LEFTOVER, OVERCUT, setups=every))
    assert_good(result)
    option = fewest_passes(result)
    assert {single.setup for single in finishing(option)} >= {"back", "tipped"}
    # the shipped example, worked out by hand, takes more
    assert len(finishing(option)) <= sum(not single.relief for single in stack.passes)
    alone = unreached_stretches(problem_of(request(stack, offered, LEFTOVER, OVERCUT)))
    assert any("hangs over" in stays.why for stays in alone)


# -- walls, corners and flats ----------------------------------------------------------------------


def test_upright_walls_inside_corners_and_flats_are_met_by_straight_bits() -> None:
    path = Path((0.0, 25.0)).line((8.0, 25.0)).line((8.0, 17.0)).line((21.0, 17.0))
    path = path.line((21.0, 11.0)).line((27.35, 11.0)).line((27.35, 20.0)).line((45.0, 20.0))
    path = path.line((45.0, 25.0)).line((60.0, 25.0))
    result = find(request(board_for(path, 60.0, 25.0), bits("straight-1-4in", "straight-1-2in",
                  "straight-3-4in", "core-box-1-4in"), 0.02, 0.01))  # fmt: skip
    assert_good(result, 0.02, 0.01)
    option = fewest_passes(result)
    assert option.proved
    assert option.assembled.comparison.leftover_worst <= 0.02
    assert all(single.bit.startswith("straight") for single in finishing(option))


def test_a_flat_lower_than_the_blank_takes_lanes() -> None:
    path = Path((0.0, 18.0)).line((60.0, 18.0))
    result = find(request(board_for(path, 60.0, 20.0), [straight(25.0)], 0.02, 0.02))
    assert_good(result, 0.02, 0.02)
    assert len(finishing(fewest_passes(result))) == math.ceil(60.0 / 25.0)

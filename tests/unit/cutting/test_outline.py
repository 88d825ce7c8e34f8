"""The finished section told as exact lines and arcs."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
import pytest
import shapely

from profilestack.cutting.cut import Cut, cut_stack
from profilestack.cutting.outline import OUTLINE_CHORD, SHORTEST, outline_of
from profilestack.files.shipped import shipped_examples_dir
from profilestack.geometry.path import Arc, Line, Path
from profilestack.geometry.region import rings_of
from profilestack.jobs.opening import open_stack
from profilestack.stack import Blank, Round, Setup
from tests.random_stacks import random_fitted_stack, random_stack
from tests.shop import board, core_box, cut, roundover, straight, vee


def outline(*placed, **other) -> tuple[Path, ...]:
    return outline_of(cut(*placed, chord=OUTLINE_CHORD, **other))


def kinds(path: Path) -> Counter[type]:
    return Counter(type(piece) for piece in path.segments)


def farthest(points: np.ndarray, chains: list[np.ndarray]) -> float:
    """The largest distance from a point to the nearest of closed chains [mm]."""
    sides = [np.stack((chain, np.roll(chain, -1, axis=0)), axis=1) for chain in chains]
    tree = shapely.STRtree(shapely.linestrings(np.concatenate(sides)))
    _, far = tree.query_nearest(shapely.points(points), return_distance=True, all_matches=False)
    return float(far.max())


def gap_between(paths: tuple[Path, ...], done: Cut) -> float:
    """The largest distance between the exact outline and the polygon's, both ways [mm]."""
    exact = [path.flatten(1e-6) for path in paths]
    flat = rings_of(done.section)
    there = farthest(np.concatenate(exact), flat)
    return max(there, farthest(np.concatenate(flat), exact))


def test_a_groove_of_a_core_box_is_one_arc_whose_ends_are_exact():
    (path,) = outline((core_box(25.4), 30.0, 6.35), blank=board(60.0, 30.0))
    assert kinds(path) == {Line: 5, Arc: 1}
    (arc,) = [piece for piece in path.segments if isinstance(piece, Arc)]
    # R 12.7, half of it deep: half the width is R sin 60 degrees
    half = 12.7 * math.sqrt(3.0) / 2.0
    assert sorted((arc.start[0], arc.end[0])) == pytest.approx([30.0 - half, 30.0 + half], abs=1e-9)
    assert arc.radius == pytest.approx(12.7, abs=1e-12)
    assert arc.center == pytest.approx((30.0, 30.0 - 6.35 + 12.7), abs=1e-12)
    segment = 12.7**2 * math.acos(0.5) - 6.35 * half
    assert path.signed_area == pytest.approx(1800.0 - segment, rel=1e-12)


def test_lanes_of_one_depth_leave_one_line():
    lanes = [(straight(12.0), 15.0 + 10.0 * k, 5.0) for k in range(4)]
    (path,) = outline(*lanes)
    assert kinds(path) == {Line: 8}


def test_two_hollows_of_a_core_box_meet_in_an_exact_cusp():
    (path,) = outline((core_box(25.4), 20.0, 6.35), (core_box(25.4), 32.7, 6.35))
    arcs = [piece for piece in path.segments if isinstance(piece, Arc)]
    assert len(arcs) == 2
    # R - sqrt(R^2 - (s/2)^2) above the floor, half way between the axes
    high = 30.0 - 6.35 + 12.7 - math.sqrt(12.7**2 - 6.35**2)
    joints = [joint for arc in arcs for joint in (arc.start, arc.end)]
    assert [joint for joint in joints if joints.count(joint) == 2] == [
        pytest.approx((26.35, high), abs=1e-9)
    ] * 2


def test_the_joint_of_a_tangent_ogee_is_its_inflection():
    hollow, round_over = core_box(25.4), roundover(12.7, 3.175)
    axis = 20.0 + 12.7  # the core box's side stands upright where the round begins
    (path,) = outline(
        (hollow, axis, 20.0), (round_over, axis - 12.7 + 1.5875, 7.3), blank=board(60.0, 40.0)
    )
    joints = [piece.start for piece in path.segments]
    assert min(math.dist(joint, (20.0, 32.7)) for joint in joints) < 1e-6
    assert kinds(path)[Arc] >= 2


def test_a_blank_that_nothing_touches_keeps_its_own_pieces():
    (whole,) = outline((straight(6.0), 200.0, 5.0), blank=Blank(Round(40.0)))
    assert kinds(whole) == {Arc: 1}
    assert whole.signed_area == pytest.approx(math.pi * 400.0, rel=1e-12)
    (square,) = outline((straight(6.0), 200.0, 5.0))
    assert kinds(square) == {Line: 4}


def test_a_round_with_a_flat_has_two_pieces():
    (path,) = outline((straight(60.0), 20.0, 8.0), blank=Blank(Round(40.0)))
    assert kinds(path) == {Line: 1, Arc: 1}
    half = math.sqrt(20.0**2 - 12.0**2)
    (flat,) = [piece for piece in path.segments if isinstance(piece, Line)]
    assert flat.length == pytest.approx(2.0 * half, abs=1e-9)


def test_flutes_around_a_rod_alternate_with_the_rod_itself():
    around = Setup("around", 0.0, 8)
    placed = (core_box(8.0), 20.0, 2.0, {"setup": "around"})
    (path,) = outline(placed, blank=Blank(Round(40.0)), setups=(around,))
    assert kinds(path) == {Arc: 16}
    assert {round(piece.radius, 9) for piece in path.segments} == {4.0, 20.0}


def test_slots_from_both_sides_part_the_section_into_its_pieces():
    paths = outline((straight(6.0), 30.0, 31.0), blank=board(60.0, 30.0))
    assert [kinds(path) for path in paths] == [{Line: 4}, {Line: 4}]


def test_a_step_finer_than_a_shop_can_mean_is_no_piece():
    lanes = [(straight(12.0), 15.0, 5.0), (straight(12.0), 25.0, 5.0 + 0.4 * SHORTEST)]
    (path,) = outline(*lanes)
    assert kinds(path) == {Line: 9}  # two floors without the step between them
    told = [(straight(12.0), 15.0, 5.0), (straight(12.0), 25.0, 5.0 + 2.0 * SHORTEST)]
    (stepped,) = outline(*told)
    assert kinds(stepped) == {Line: 10}


def test_pieces_follow_each_other_and_turn_as_rings_do():
    (path,) = outline((vee(20.0, 90.0, 0.5), 30.0, 8.0), (core_box(12.0), 12.0, 4.0))
    assert path.is_closed
    assert path.signed_area > 0.0
    for before, after in zip(path.segments, path.segments[1:], strict=False):
        assert before.end == after.start


PIECES = {
    "base/cap": (5, 2), "base/plinth": (12, 0), "casing/adapted": (6, 4),
    "casing/as-sampled": (5, 3), "cornice/bow": (9, 2), "cornice/crown": (12, 2),
    "half-column/flutes": (0, 32), "half-column/rings": (6, 3), "ogee/large": (5, 2),
    "ogee/small": (5, 2), "shelf-rail/rail": (12, 4),
}  # fmt: skip
"""Lines and arcs that the examples' constructions have, counted by hand."""


@pytest.mark.parametrize("name", PIECES)
def test_the_examples_have_as_many_pieces_as_they_are_built_of(name: str):
    opened = open_stack(shipped_examples_dir() / f"{name}.stack.toml")
    done = cut_stack(opened.stack, opened.bits, OUTLINE_CHORD)
    paths = outline_of(done)
    counted = sum((kinds(path) for path in paths), Counter())
    assert (counted[Line], counted[Arc]) == PIECES[name]
    area = sum(path.signed_area for path in paths)
    assert area == pytest.approx(done.section.area, rel=1e-6)
    # a piece that is too short is left out; half of it is then between exact and flat
    assert gap_between(paths, done) <= OUTLINE_CHORD * 1.001 + SHORTEST / 2.0


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("make", [random_stack, random_fitted_stack])
def test_any_section_comes_out_of_its_exact_outline(make, seed: int):
    done = cut_stack(*make(seed), OUTLINE_CHORD)
    rings = rings_of(done.section)
    paths = outline_of(done)
    assert len(paths) == len(rings)
    assert sum(path.signed_area for path in paths) == pytest.approx(done.section.area, rel=3e-6)
    for path in paths:
        assert all(piece.length > SHORTEST for piece in path.segments)
    assert gap_between(paths, done) <= SHORTEST

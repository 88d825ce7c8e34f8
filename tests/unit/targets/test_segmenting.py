from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.targets.segmenting import fewest_pieces, one_piece, pieces_between
from tests.unit.targets.profiles import STEPPED, farthest, sampled


def circle(radius: float, sweep: float, count: int) -> np.ndarray:
    angles = np.linspace(0.0, sweep, count)
    return radius * np.column_stack((np.cos(angles), np.sin(angles)))


@pytest.mark.parametrize("sweep", [0.2, 1.5, math.pi, 4.5, -2.0, -4.5])
def test_a_circle_s_points_are_one_arc(sweep: float) -> None:
    piece = one_piece(circle(9.0, sweep, 60), 1e-6)
    assert piece is not None
    assert piece.bulge == pytest.approx(math.tan(sweep / 4.0), rel=1e-9)
    assert piece.off < 1e-9


def test_no_arc_turns_further_than_270_degrees() -> None:
    assert one_piece(circle(9.0, 5.0, 60), 1e-3) is None


def test_a_line_is_taken_where_an_arc_is_hardly_better() -> None:
    points = np.array([[0.0, 0.0], [1.0, 0.03], [2.0, -0.03], [3.0, 0.03], [4.0, 0.0]])
    piece = one_piece(points, 0.05)
    assert piece is not None
    assert piece.bulge == 0.0
    assert piece.off == pytest.approx(0.03)
    assert one_piece(points, 0.02) is None


def test_an_arc_is_taken_where_it_is_twice_as_good() -> None:
    points = circle(100.0, 0.09, 30)  # 0.101 high over its chord
    piece = one_piece(points, 0.11)
    assert piece is not None
    assert piece.bulge != 0.0
    assert piece.off < 1e-9


def test_a_row_that_turns_back_is_no_arc() -> None:
    there = circle(9.0, 1.0, 40)
    row = np.concatenate((there, there[::-1][1:30]))
    assert one_piece(row, 0.01) is None


def test_points_beyond_the_ends_are_no_line() -> None:
    assert one_piece(np.array([[0.0, 0.0], [5.0, 0.0], [4.0, 0.0]]), 0.1) is None


def test_the_tolerance_is_kept_by_the_smallest_margin() -> None:
    """An arc must pass each point; the interval of its half sweep decides exactly."""
    points = circle(10.0, math.pi / 2, 21)
    points[10] *= 1.02  # one point stands out by 0.2
    assert one_piece(points, 0.08) is None
    fitted = one_piece(points, 0.12)
    assert fitted is not None
    assert fitted.off <= 0.12


def test_the_fewest_pieces_join_where_the_profile_s_own_do() -> None:
    points = sampled(STEPPED, 0.2)
    joints = fewest_pieces(points, list(range(len(points))), 0.01)
    assert len(joints) == 7
    joined = pieces_between(points, joints, 0.01)
    assert farthest(points[::7], joined.path()) <= 0.01
    corners = {(30.0, 25.0), (40.0, 25.0), (60.0, 5.0)}
    found = {(round(float(x), 6), round(float(z), 6)) for x, z in joined.joints}
    assert corners <= found


def test_joints_lie_at_the_nodes_offered_alone() -> None:
    points = sampled(STEPPED, 0.2)
    nodes = sorted({*range(0, len(points) - 1, 10), len(points) - 1})
    assert set(fewest_pieces(points, nodes, 0.05)) <= set(nodes)


def test_half_an_ellipse_takes_fewer_pieces_the_coarser_it_may_be() -> None:
    angles = np.linspace(0.0, math.pi, 800)
    points = np.column_stack((30.0 * np.cos(angles), 18.0 * np.sin(angles)))
    counts = [len(fewest_pieces(points, list(range(800)), t)) - 1 for t in (0.1, 0.02, 0.005)]
    assert counts == sorted(counts)
    assert counts[0] <= 4
    assert counts[-1] <= 11

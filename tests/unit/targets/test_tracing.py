from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.geometry.motion import mirror, move, turn
from profilestack.geometry.path import Arc, Line
from profilestack.targets.tracing import Chain, Curve, box_of_chains, moved, points_of, stretched
from tests.unit.targets.profiles import STEPPED, drawn, farthest

CURVE = Curve(np.array([[0.0, 0.0], [1.0, 2.0], [3.0, 2.0]]))
MIXED = Chain((Line((-4.0, 0.0), (0.0, 0.0)), CURVE, Arc((3.0, 2.0), (5.0, 0.0), (3.0, 0.0), "cw")))


def test_ends_length_and_count() -> None:
    assert MIXED.start == (-4.0, 0.0)
    assert MIXED.end == (5.0, 0.0)
    assert MIXED.length == pytest.approx(4.0 + math.sqrt(5.0) + 2.0 + math.pi)
    assert MIXED.count == 4
    assert not MIXED.is_closed


def test_walked_back_it_is_the_same_line() -> None:
    back = MIXED.reversed()
    assert back.start == MIXED.end
    np.testing.assert_allclose(back.flatten(0.01), MIXED.flatten(0.01)[::-1], atol=1e-12)


def test_a_motion_moves_every_kind_of_piece_alike() -> None:
    motion = mirror(1.0).then(turn(30.0)).then(move(2.0, -5.0))
    expected = np.array([motion.apply((x, z)) for x, z in MIXED.flatten(0.001).tolist()])
    np.testing.assert_allclose(moved(MIXED, motion).flatten(0.001), expected, atol=1e-9)


def test_a_like_stretch_keeps_arcs() -> None:
    bigger = stretched(MIXED, 2.0, 2.0)
    assert isinstance(bigger.pieces[2], Arc)
    assert bigger.pieces[2].radius == pytest.approx(4.0)


def test_an_unlike_stretch_makes_ovals_true_to_a_micrometre() -> None:
    wide = stretched(drawn(STEPPED), 3.0, 0.5)
    arcs = [piece for piece in wide.pieces if isinstance(piece, Curve)]
    assert len(arcs) == 3
    points = points_of(arcs[0])
    # (x/3 - 10)^2 + (2z - 25)^2 = 20^2
    off = np.hypot(points[:, 0] / 3.0 - 10.0, 2.0 * points[:, 1] - 25.0) - 20.0
    assert np.abs(off).max() < 1e-9
    back = np.concatenate([points_of(piece) for piece in wide.pieces]) / np.array([3.0, 0.5])
    assert farthest(back[::20], STEPPED) < 1e-6
    middles = (points[1:] + points[:-1]) / 2.0
    sag = 20.0 - np.hypot(middles[:, 0] / 3.0 - 10.0, 2.0 * middles[:, 1] - 25.0)
    assert sag.max() * 3.0 < 0.0011


def test_the_box_of_several_chains() -> None:
    assert box_of_chains([MIXED, drawn(STEPPED)]) == pytest.approx((-4.0, 0.0, 70.0, 45.0))

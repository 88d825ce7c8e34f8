from __future__ import annotations

import math
import random
from itertools import pairwise

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.geometry.path import Arc, Line, Point
from profilestack.targets.choosing import SeveralChains, chosen, describe
from profilestack.targets.joining import joined
from profilestack.targets.tracing import Chain, Curve
from tests.unit.targets.profiles import SECTION, STEPPED

LOOSE = [Chain((piece,), "layer 0") for piece in STEPPED.segments]


def row(*points: Point) -> list[Chain]:
    return [Chain((Line(a, b),)) for a, b in pairwise(points)]


def test_loose_pieces_in_any_order_and_sense_become_one_chain() -> None:
    shuffled = list(LOOSE)
    random.Random(5).shuffle(shuffled)
    turned = [chain.reversed() if k % 2 else chain for k, chain in enumerate(shuffled)]
    whole = joined(turned)
    (chain,) = whole.chains
    ends = {chain.start, chain.end}
    assert ends == {STEPPED.start, STEPPED.end}
    assert chain.length == pytest.approx(STEPPED.length)
    assert len(chain.pieces) == 6
    assert whole.gap == 0.0
    assert chain.label == "layer 0"


def test_a_ring_of_loose_pieces_is_closed() -> None:
    (chain,) = joined([Chain((piece,)) for piece in SECTION.segments]).chains
    assert chain.is_closed
    assert chain.length == pytest.approx(SECTION.length)


def test_gaps_within_the_stated_one_are_closed_in_their_middle() -> None:
    parts = [*row((0.0, 0.0), (10.0, 0.0)), *row((10.04, 0.0), (20.0, 5.0))]
    whole = joined(parts, 0.05)
    (chain,) = whole.chains
    assert whole.gap == pytest.approx(0.04)
    assert sorted(piece.end for piece in chain.pieces)[0] == pytest.approx((10.02, 0.0))
    assert len(joined(parts, 0.03).chains) == 2


def test_an_arc_moved_to_close_a_gap_keeps_its_sweep() -> None:
    arc = Arc((0.0, 5.0), (5.0, 0.0), (0.0, 0.0), "cw")
    (chain,) = joined([Chain((arc,)), *row((5.04, 0.0), (9.0, 0.0))], 0.1).chains
    (moved,) = [piece for piece in chain.pieces if isinstance(piece, Arc)]
    assert abs(moved.sweep) == pytest.approx(math.pi / 2)
    assert math.dist(moved.center, moved.start) == pytest.approx(math.dist(moved.center, moved.end))


def test_arcs_of_one_circle_become_one() -> None:
    whole = Arc((5.0, 0.0), (-5.0, 0.0), (0.0, 0.0), "ccw")
    halves = [
        Chain((Arc((5.0, 0.0), (0.0, 5.0), (0.0, 0.0), "ccw"),)),
        Chain((Arc((0.0, 5.0), (-5.0, 0.0), (0.0, 0.0), "ccw"),)),
    ]
    (chain,) = joined(halves).chains
    assert chain.pieces == (whole,)


def test_what_is_drawn_twice_counts_once() -> None:
    twice = [*LOOSE, *(chain.reversed() for chain in LOOSE)]
    (chain,) = joined(twice).chains
    assert len(chain.pieces) == 6


def test_a_tiny_line_between_two_others_is_no_branch() -> None:
    parts = row((0.0, 0.0), (10.0, 0.0), (10.02, 0.01), (20.0, 3.0))
    (chain,) = joined(parts, 0.05).chains
    assert chain.length == pytest.approx(10.0 + math.hypot(0.02, 0.01) + math.hypot(9.98, 2.99))


def test_three_ends_in_one_place_are_refused_with_the_place() -> None:
    parts = [*row((0.0, 0.0), (10.0, 0.0), (20.0, 3.0)), *row((10.0, 0.0), (10.0, 8.0))]
    with pytest.raises(InputError, match=r"three lines or more meet at \(10.000, 0.000\)"):
        joined(parts)


def test_measured_points_that_come_round_are_closed() -> None:
    angles = np.linspace(0.0, 2.0 * math.pi, 200)[:-1]
    points = 5.0 * np.column_stack((np.cos(angles), np.sin(angles)))
    open_one = Chain((Curve(points),), measured=True)
    assert not joined([open_one], 0.05).chains[0].is_closed
    closed = joined([open_one], 0.2).chains[0]
    assert closed.is_closed
    assert closed.measured


def test_several_chains_are_listed_and_one_can_be_picked() -> None:
    far = Chain((Line((0.0, 90.0), (5.0, 90.0)),), "layer notes")
    chains = joined([*LOOSE, far]).chains
    with pytest.raises(SeveralChains) as caught:
        chosen(chains, None)
    assert caught.value.chains == chains
    text = str(caught.value)
    assert "falls into 2 chains" in text
    assert "layer notes, 5.00 mm, (0.000, 90.000) to (5.000, 90.000)" in text
    longest, notes = chosen(chains, "longest")
    assert longest.length == pytest.approx(STEPPED.length)
    assert notes == ("1 other chain is left out",)
    assert chosen(chains, 2)[0].label == "layer notes"
    with pytest.raises(SeveralChains, match="names no chain"):
        chosen(chains, 3)
    with pytest.raises(InputError, match="names no chain"):
        chosen(chains, "shortest")
    with pytest.raises(InputError, match="holds no line"):
        chosen((), None)


def test_a_closed_chain_is_described_as_such() -> None:
    (chain,) = joined([Chain((piece,)) for piece in SECTION.segments]).chains
    assert describe(chain) == f"{SECTION.length:.2f} mm, closed"


def test_a_thousand_ends_in_one_place_are_refused_at_once() -> None:
    star = [Chain((Line((0.0, 0.0), (1.0 + k, 5.0)),)) for k in range(1500)]
    with pytest.raises(InputError):
        joined(star)

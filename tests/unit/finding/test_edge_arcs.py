"""The radii that a drawer can cut, off the bits' edges."""

from __future__ import annotations

import math

import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Bullnose, Cove, Ogee, Roundover, TaperBall
from profilestack.finding.adapting.edge_arcs import Curve, edge_arcs, owner_of
from tests.shop import bit, core_box, roundover, straight, vee

QUARTER = math.pi / 2.0

EDGES = (
    (core_box(20.0), {(True, 10.0)}),
    (bit("cove", Cove(6.35, 3.0)), {(True, 6.35)}),
    (roundover(9.0, 3.0), {(False, 9.0)}),
    (bit("ogee", Ogee(4.0, 5.0, 3.0)), {(True, 4.0), (False, 5.0)}),
    (bit("bullnose", Bullnose(6.0, 4.0)), {(False, 6.0)}),
    (bit("taper", TaperBall(1.5, 5.0, 6.0), 20.0), {(True, 1.5)}),
    (straight(6.0), set()),
    (vee(12.0, 90.0), set()),
)


@pytest.mark.parametrize(("single", "curves"), EDGES, ids=[each.id for each, _ in EDGES])
def test_the_curves_of_an_edge(single: Bit, curves: set[tuple[bool, float]]) -> None:
    found = {(arc.curve.hollow, round(arc.curve.radius, 9)) for arc in edge_arcs([single])}
    assert found == curves


@pytest.mark.parametrize(("off", "is_same"), [(0.019, True), (0.021, False), (-0.019, True)])
def test_a_radius_within_a_fiftieth_is_the_same(off: float, is_same: bool) -> None:
    drawer = edge_arcs([core_box(20.0)])
    assert (owner_of(Curve(True, 10.0 + off, QUARTER), drawer) is not None) == is_same


def test_a_hollow_is_not_a_round() -> None:
    drawer = edge_arcs([core_box(20.0)])
    assert owner_of(Curve(False, 10.0, QUARTER), drawer) is None


@pytest.mark.parametrize(("edge", "is_enough"), [(9.0, True), (6.0, False)])
def test_an_edge_that_ends_below_its_quarter_makes_no_quarter(edge: float, is_enough: bool) -> None:
    drawer = edge_arcs([bit("short", Roundover(9.0, 3.0), edge)])
    assert (owner_of(Curve(False, 9.0, QUARTER), drawer) is not None) == is_enough
    # a flatter arc is within it: up to h = 6, asin(6 / 9) = 41.8 degrees
    assert owner_of(Curve(False, 9.0, math.asin(6.0 / 9.0)), drawer) is not None


def test_a_half_round_is_made_in_two_quarters() -> None:
    drawer = edge_arcs([roundover(9.0, 3.0)])
    assert owner_of(Curve(False, 9.0, math.pi), drawer) is not None


def test_a_bit_with_a_bearing_comes_last() -> None:
    guided = roundover(9.0, 12.0, pilot_diameter=12.0, pilot_length=8.0)
    free = roundover(9.01, 3.0)
    assert owner_of(Curve(False, 9.0, QUARTER), edge_arcs([guided, free])) == free

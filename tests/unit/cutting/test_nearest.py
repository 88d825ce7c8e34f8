"""Distances to polylines and the search for the largest one, against the polygon library."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, MultiLineString

from profilestack.cutting.climbing import Stretches, highest_between
from profilestack.cutting.nearest import Polyline, densified, polyline
from profilestack.geometry.path import Path, Points


def wave(seed: int, count: int = 60) -> Points:
    """A wandering chain with short and long pieces."""
    chance = np.random.default_rng(seed)
    steps = chance.normal(0.0, 1.0, (count, 2)) * chance.choice((0.02, 0.3, 4.0), (count, 1))
    return np.cumsum(steps, axis=0)


def arc(radius: float, x: float, z: float) -> Points:
    return Path((x - radius, z)).arc((x + radius, z), (x, z), "cw").flatten(0.001)


NASTY = {
    "one piece": [np.array(((0.0, 0.0), (10.0, 0.0)))],
    # a dense arc close to a straight piece: the nearest vertices are all the arc's
    "arc over a line": [arc(5.0, 0.0, 0.05), np.array(((-8.0, 0.0), (8.0, 0.0)))],
    "torus on a fillet": [
        Path((-9.0, 0.0)).line((0.0, 0.0)).arc((0.0, 12.0), (0.0, 6.0), "ccw").flatten(0.001)
    ],
    "narrow quirk": [np.array(((0.0, 9.0), (4.0, 9.0), (4.0, 0.0), (4.08, 0.0), (4.08, 9.0)))],
    "two rings": [
        np.array(((0.0, 0.0), (5.0, 0.0), (5.0, 5.0), (0.0, 5.0), (0.0, 0.0))),
        np.array(((5.2, 0.0), (9.0, 0.0), (9.0, 5.0), (5.2, 5.0), (5.2, 0.0))),
    ],
    "doubled points": [np.array(((0.0, 0.0), (0.0, 0.0), (3.0, 1.0), (3.0, 1.0), (6.0, 0.0)))],
}


def lines_of(chains: list[Points]) -> MultiLineString:
    return MultiLineString([LineString(chain) for chain in chains])


def check_points(chains: list[Points]) -> Points:
    every = np.concatenate(chains)
    chance = np.random.default_rng(7)
    around = every[chance.integers(0, len(every), 2000)]
    return around + chance.normal(0.0, 1.0, around.shape) * chance.choice(
        (0.0, 0.01, 0.2, 2.0, 20.0), (2000, 1)
    )


@pytest.mark.parametrize("name", NASTY)
def test_distances_are_exact_for_nasty_chains(name: str) -> None:
    chains = NASTY[name]
    points = check_points(chains)
    far, _ = polyline(chains).nearest(points)
    plain = shapely.distance(lines_of(chains), shapely.points(points))
    assert far == pytest.approx(plain, abs=1e-9)


@pytest.mark.parametrize("seed", range(6))
def test_distances_are_exact_for_random_chains(seed: int) -> None:
    chains = [wave(seed), wave(seed + 100) + 1.0]
    points = check_points(chains)
    far, _ = polyline(chains).nearest(points)
    plain = shapely.distance(lines_of(chains), shapely.points(points))
    assert far == pytest.approx(plain, abs=1e-9)


@pytest.mark.parametrize("name", NASTY)
def test_the_place_leads_to_the_nearest_point(name: str) -> None:
    line = polyline(NASTY[name])
    points = check_points(NASTY[name])
    far, places = line.nearest(points)
    feet = np.stack(line.at(places), axis=1)
    assert np.hypot(*(points - feet).T) == pytest.approx(far, abs=1e-6)


def test_places_of_different_chains_never_meet() -> None:
    line = polyline(NASTY["two rings"])
    _, places = line.nearest(np.array(((0.0, 0.0), (9.0, 5.0))))
    assert places[1] - places[0] > 1000.0


def test_an_empty_polyline_is_nowhere() -> None:
    far, places = polyline([]).nearest(np.zeros((3, 2)))
    assert np.isinf(far).all()
    assert len(places) == 3


def test_no_points_have_no_distances() -> None:
    far, places = polyline(NASTY["one piece"]).nearest(np.zeros((0, 2)))
    assert len(far) == len(places) == 0


def test_densified_keeps_points_and_shortens_pieces() -> None:
    chain = np.array(((0.0, 0.0), (3.0, 4.0), (3.0, 4.1)))
    dense = densified(chain, 0.5)
    assert np.hypot(*np.diff(dense, axis=0).T).max() <= 0.5 + 1e-12
    assert len(dense) == 12
    for point in chain:
        assert (dense == point).all(axis=1).any()
    assert densified(dense, 0.51) is dense


def stretches_of(chain: Points, line: Polyline) -> Stretches:
    far, places = line.nearest(chain)
    return Stretches(
        chain[:-1],
        chain[1:],
        np.stack((far[:-1], far[1:]), axis=1),
        np.stack((places[:-1], places[1:]), axis=1),
    )


@pytest.mark.parametrize("seed", range(20))
def test_the_largest_distance_along_a_chain_is_found(seed: int) -> None:
    """Against dense sampling: 0.002 mm apart, so that no peak can hide by more than 0.001 mm."""
    line = polyline([wave(seed, 25)])
    chain = wave(seed + 50, 4) + 2.0
    dense = shapely.get_coordinates(shapely.segmentize(LineString(chain), 0.002))
    sampled = float(line.nearest(dense)[0].max())
    best, at = highest_between(stretches_of(chain, line), line.nearest, line, 0.0, 1e-4)
    assert best == pytest.approx(sampled, abs=0.0011)
    assert at is not None
    assert line.nearest(np.array((at,)))[0][0] == pytest.approx(best)


@pytest.mark.parametrize("seed", range(20))
def test_the_bounds_hold(seed: int) -> None:
    line = polyline([wave(seed, 25), arc(3.0, 1.0, -1.0)])
    chain = wave(seed + 50, 12)
    stretches = stretches_of(chain, line)
    bounds, shares = stretches.bounds(line)
    assert ((shares > 0.0) & (shares < 1.0)).all()
    for k, bound in enumerate(bounds):
        inner = np.linspace(0.0, 1.0, 400)[:, None]
        points = stretches.starts[k] + inner * (stretches.ends[k] - stretches.starts[k])
        assert line.nearest(points)[0].max() <= bound + 1e-9


def test_what_is_known_already_is_not_looked_for() -> None:
    line = polyline([np.array(((0.0, 0.0), (10.0, 0.0)))])
    chain = np.array(((2.0, 1.0), (8.0, 1.0)))
    best, at = highest_between(stretches_of(chain, line), line.nearest, line, 3.0, 1e-3)
    assert (best, at) == (3.0, None)


def test_a_peak_between_two_feet_is_met_closely() -> None:
    """Halfway between two points the distance peaks: sqrt(3^2 + 4^2)."""
    line = polyline([np.array(((0.0, 0.0), (-5.0, -1.0))), np.array(((6.0, 0.0), (11.0, -1.0)))])
    chain = np.array(((1.0, 4.0), (5.3, 4.0)))
    best, at = highest_between(stretches_of(chain, line), line.nearest, line, 0.0, 1e-5)
    assert best == pytest.approx(5.0, abs=1e-5)
    assert at == pytest.approx((3.0, 4.0), abs=1e-4)
    assert math.hypot(3.0, 4.0) == 5.0

"""What holds for every fit: the tolerance, the ends, the count, whichever way it is walked."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from hypothesis import example, given, settings
from hypothesis import strategies as st

from profilestack.geometry.path import Arc, Line
from profilestack.geometry.polyline import distances_to_row
from profilestack.targets.deviation import deviation_of
from profilestack.targets.fitting import FitWishes, Tangent, fit
from profilestack.targets.tracing import Chain, Curve
from tests.unit.targets.profiles import farthest

TOLERANCES = st.sampled_from([0.005, 0.02, 0.1, 0.4])
TANGENTS: st.SearchStrategy[Tangent] = st.sampled_from(
    ["where-it-fits", "everywhere", "nowhere"]  # type: ignore[list-item]  # the words of Tangent
)

STEPS = st.lists(st.tuples(st.floats(0.2, 6.0), st.floats(-1.2, 1.2)), min_size=1, max_size=25)
"""Lengths [mm] and turns [rad] of a walk: it never turns back on itself sharply."""


def walk(steps: list[tuple[float, float]]) -> np.ndarray:
    heading, points = 0.0, [(0.0, 0.0)]
    for length, turn in steps:
        heading += turn
        x, z = points[-1]
        points.append((x + length * math.cos(heading), z + length * math.sin(heading)))
    return np.array(points)


def bent(points: np.ndarray) -> np.ndarray:
    """A smooth curve near the points: the corners cut off twice, then finely sampled."""
    for _ in range(4):
        one = 0.75 * points[:-1] + 0.25 * points[1:]
        two = 0.25 * points[:-1] + 0.75 * points[1:]
        inner = np.column_stack((one, two)).reshape(-1, 2)
        points = np.concatenate((points[:1], inner, points[-1:]))
    return points


@given(STEPS, TOLERANCES, TANGENTS)
@settings(max_examples=60, deadline=None)
def test_drawn_lines_are_kept_within_the_tolerance_both_ways(
    steps: list[tuple[float, float]], tolerance: float, tangent: Tangent
) -> None:
    points = walk(steps)
    chain = Chain(tuple(Line(tuple(a), tuple(b)) for a, b in pairwise(points.tolist())))
    fitted = fit(chain, FitWishes(tolerance, tangent))
    assert fitted.deviation.largest <= tolerance
    assert farthest(points, fitted.path) <= tolerance + 1e-6
    walked = fitted.path.flatten(1e-4)
    assert distances_to_row(walked, points).max() <= tolerance + 2e-4
    # an end moves only where its line becomes level or upright
    assert math.dist(fitted.path.start, points[0]) <= tolerance
    assert math.dist(fitted.path.end, points[-1]) <= tolerance
    assert fitted.after <= fitted.before or tangent == "everywhere"


@given(STEPS, st.sampled_from([0.02, 0.1, 0.4]), TANGENTS)
@settings(max_examples=25, deadline=None)
def test_free_curves_are_kept_within_the_tolerance(
    steps: list[tuple[float, float]], tolerance: float, tangent: Tangent
) -> None:
    points = bent(walk(steps))
    fitted = fit(Chain((Curve(points),)), FitWishes(tolerance, tangent))
    assert fitted.deviation.largest <= tolerance
    assert farthest(points[::5], fitted.path) <= tolerance + 1e-6
    assert fitted.after <= len(points)


@given(STEPS, TOLERANCES, st.integers(0, 2**32 - 1))
@settings(max_examples=40, deadline=None)
def test_measured_points_are_kept_within_the_tolerance(
    steps: list[tuple[float, float]], tolerance: float, seed: int
) -> None:
    points = bent(walk(steps))
    points = points + np.random.default_rng(seed).normal(0.0, tolerance / 5.0, points.shape)
    fitted = fit(Chain((Curve(points),), measured=True), FitWishes(tolerance))
    assert fitted.deviation.points <= tolerance
    assert farthest(points[::5], fitted.path) <= tolerance + 1e-6


@given(STEPS, TOLERANCES)
@settings(max_examples=30, deadline=None)
def test_walked_the_other_way_it_takes_as_few_pieces(
    steps: list[tuple[float, float]], tolerance: float
) -> None:
    chain = Chain((Curve(bent(walk(steps))),))
    wishes = FitWishes(tolerance, "nowhere", level=False)
    there, back = fit(chain, wishes), fit(chain.reversed(), wishes)
    # reaching as far as possible is least either way, but for the last rounding
    assert abs(there.after - back.after) <= 1


@given(STEPS)
@settings(max_examples=30, deadline=None)
def test_a_coarser_tolerance_never_takes_more_pieces(steps: list[tuple[float, float]]) -> None:
    chain = Chain((Curve(bent(walk(steps))),))
    counts = [fit(chain, FitWishes(t, "nowhere", level=False)).after for t in (0.02, 0.1, 0.5)]
    assert counts == sorted(counts, reverse=True)


@given(STEPS, TOLERANCES)
@settings(max_examples=30, deadline=None)
@example([(1.0, 0.0), (0.25, 1.0), (1.0, 1.0)], 0.4)
def test_fitting_a_fit_changes_nothing_beyond_the_tolerance(
    steps: list[tuple[float, float]], tolerance: float
) -> None:
    fitted = fit(Chain((Curve(bent(walk(steps))),)), FitWishes(tolerance))
    again = fit(Chain(fitted.path.segments), FitWishes(tolerance))
    # exact arcs of more than half a turn come in as two
    arcs = [piece for piece in fitted.path.segments if isinstance(piece, Arc)]
    assert again.after <= fitted.after + sum(abs(arc.sweep) > math.pi for arc in arcs)
    assert again.deviation.largest <= tolerance


def test_the_yardstick_sees_a_path_that_strays() -> None:
    """The measure that these laws rest on can fail: a path that leads away between its ends."""
    from profilestack.targets.bulges import BulgePath
    from profilestack.targets.deviation import Yardstick

    row = np.array([[0.0, 0.0], [5.0, 0.0], [10.0, 0.0]])
    astray = BulgePath(np.array([[0.0, 0.0], [5.0, 0.0], [10.0, 0.0]]), np.array([0.0, 0.4]))
    off = deviation_of(astray, Yardstick(row, row, measured=False))
    assert off.points == 0.0
    assert 0.99 < off.path < 1.01  # a bulge of 0.4 over 5 stands 1 high

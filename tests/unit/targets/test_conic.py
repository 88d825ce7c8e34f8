from __future__ import annotations

import itertools

import numpy as np
import pytest

from profilestack.geometry.crossing import direction_at
from profilestack.geometry.path import Path
from profilestack.targets.conic import CLOSE, arcs_of_parabola
from profilestack.targets.member import Member

CASES = [
    ((0.0, 0.0), (0.0, -18.0), (-18.0, -18.0)),
    ((0.0, 0.0), (-7.0, 0.0), (-7.0, -40.0)),
    ((3.0, 1.0), (60.0, 10.0), (20.0, -90.0)),
    ((0.0, 0.0), (0.0, -1.0), (-1.0, -1.0)),
]


def curve(start: tuple[float, float], corner: tuple[float, float], end: tuple[float, float],
          count: int) -> np.ndarray:  # fmt: skip
    u = np.linspace(0.0, 1.0, count)[:, None]
    s, k, e = (np.array([point]) for point in (start, corner, end))
    return (1 - u) ** 2 * s + 2 * u * (1 - u) * k + u**2 * e


def farthest(points: np.ndarray, path: Path) -> float:
    """The largest distance from points to a finely flattened path."""
    flat = path.flatten(1e-6)
    a, b = flat[:-1], flat[1:]
    along = b - a
    worst = 0.0
    for point in points:
        share = np.clip(((point - a) * along).sum(1) / (along**2).sum(1), 0.0, 1.0)
        worst = max(worst, float(np.hypot(*(a + share[:, None] * along - point).T).min()))
    return worst


@pytest.mark.parametrize("case", CASES)
def test_the_stated_deviation_is_the_real_one(case: tuple[tuple[float, float], ...]) -> None:
    arcs = arcs_of_parabola(*case)
    measured = farthest(curve(*case, 1000), arcs.path)
    assert 0.0 < arcs.deviation <= CLOSE
    assert measured == pytest.approx(arcs.deviation, rel=0.02, abs=2e-6)


@pytest.mark.parametrize("case", CASES)
def test_the_arcs_are_tangent_to_each_other_and_to_the_sides(
    case: tuple[tuple[float, float], ...],
) -> None:
    start, corner, end = case
    pieces = arcs_of_parabola(start, corner, end).path.segments
    for before, after in itertools.pairwise(pieces):
        assert direction_at(before, 1.0) == pytest.approx(direction_at(after, 0.0), abs=1e-9)
    first, last = np.subtract(corner, start), np.subtract(end, corner)
    assert direction_at(pieces[0], 0.0) == pytest.approx(first / np.hypot(*first), abs=1e-9)
    assert direction_at(pieces[-1], 1.0) == pytest.approx(last / np.hypot(*last), abs=1e-9)


@pytest.mark.parametrize("word", ["ovolo", "cavetto", "cyma-recta", "cyma-reversa"])
def test_a_grecian_member_says_how_far_it_is_from_its_curve(word: str) -> None:
    assert 0.0 < Member(word, 18.0, 14.0, "grecian").deviation <= CLOSE
    assert Member(word, 18.0, 14.0, "flat").deviation == 0.0

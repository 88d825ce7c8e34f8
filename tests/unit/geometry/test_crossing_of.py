"""Where a chain of points meets itself."""

from __future__ import annotations

import numpy as np
import pytest

from profilestack.geometry.path import Path
from profilestack.geometry.region import crossing_of


def chain(*points: tuple[float, float]) -> np.ndarray:
    return np.array(points, dtype=np.float64)


@pytest.mark.parametrize(
    ("points", "place"),
    [
        # crosses
        (chain((0, 0), (4, 4), (4, 0), (0, 4)), (2, 2)),
        # the first of two crossings along the chain
        (chain((0, 0), (9, 0), (9, 2), (7, -1), (3, -1), (3, 1)), (7 + 2 / 3, 0)),
        # touches at a corner
        (chain((0, 0), (4, 4), (8, 0), (8, 8), (4, 4), (0, 8)), (4, 4)),
        # touches a side with a corner
        (chain((0, 0), (8, 0), (8, 4), (4, 0), (0, 4)), (4, 0)),
        # comes back along itself
        (chain((0, 0), (8, 0), (4, 0), (4, 5)), (6, 0)),
        # ends on itself
        (chain((0, 0), (8, 0), (8, 4), (2, 4), (2, 0)), (2, 0)),
        # a closed chain
        (chain((0, 0), (4, 4), (4, 0), (0, 4), (0, 0)), (2, 2)),
    ],
)
def test_the_place_is_named(points: np.ndarray, place: tuple[float, float]) -> None:
    assert crossing_of(points) == pytest.approx(place)


@pytest.mark.parametrize(
    "points",
    [
        chain((0, 0), (8, 0)),
        chain((0, 0), (8, 0), (8, 0), (8, 4)),
        chain((0, 0), (8, 0), (8, 4), (0, 0)),
        Path((0, 0)).line((8, 0)).arc((8, 4), (8, 2), "ccw").line((0, 4)).flatten(0.001),
        Path((4, 2)).arc((4, 2), (2, 2), "cw").flatten(0.001),
    ],
)
def test_a_plain_chain_has_no_such_place(points: np.ndarray) -> None:
    assert crossing_of(points) is None

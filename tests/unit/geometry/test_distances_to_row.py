from __future__ import annotations

import numpy as np
import pytest

from profilestack.geometry import polyline
from profilestack.geometry.polyline import MANY, distances_to_row


def test_a_long_row_is_looked_through_as_a_short_one_is(monkeypatch: pytest.MonkeyPatch) -> None:
    chance = np.random.default_rng(5)
    row = np.cumsum(chance.normal(0.0, 1.0, (MANY + 500, 2)), axis=0)
    points = chance.normal(0.0, 40.0, (300, 2))
    by_tree = distances_to_row(points, row)
    monkeypatch.setattr(polyline, "MANY", len(row))
    assert by_tree == pytest.approx(distances_to_row(points, row), abs=1e-12)
    assert len(np.unique(by_tree)) > 200


def test_points_on_a_long_row_lie_on_it() -> None:
    x = np.linspace(0.0, 50.0, MANY + 1)
    row = np.column_stack((x, np.zeros_like(x)))
    points = np.array([[12.3, 0.0], [12.3, -4.0], [53.0, 4.0]])
    assert distances_to_row(points, row) == pytest.approx([0.0, 4.0, 5.0])

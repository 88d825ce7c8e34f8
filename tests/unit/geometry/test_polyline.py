from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.geometry.polyline import distances_to_row, filled, meeting_of, places_along

ROW = np.array([[0.0, 0.0], [3.0, 4.0], [3.0, 10.0]])


def test_distances_are_to_the_line_not_to_its_points() -> None:
    points = np.array([[1.5, 2.0], [5.0, 7.0], [3.0, 12.0]])
    assert distances_to_row(points, ROW) == pytest.approx([0.0, 2.0, 2.0])


def test_places_add_up() -> None:
    assert places_along(ROW).tolist() == [0.0, 5.0, 11.0]


def test_filled_keeps_the_points_and_bounds_the_steps() -> None:
    row = filled(ROW, 2.0)
    assert {tuple(p) for p in ROW.tolist()} <= {tuple(p) for p in row.tolist()}
    assert np.hypot(*np.diff(row, axis=0).T).max() <= 2.0 + 1e-12
    assert places_along(row)[-1] == pytest.approx(11.0)
    assert len(row) == 3 + 3 + 1


def test_rows_meet_where_their_lines_do() -> None:
    before = np.column_stack((np.arange(4.0), np.zeros(4)))
    after = np.column_stack((np.full(4, 7.0), np.arange(-1.0, -5.0, -1.0)))
    assert meeting_of(before, after) == pytest.approx((7.0, 0.0))
    assert meeting_of(before, before + np.array([0.0, 1.0])) is None
    slope = math.tan(math.radians(2.0))
    nearly = np.column_stack((np.arange(4.0), slope * np.arange(4.0)))
    assert meeting_of(before, nearly) is None

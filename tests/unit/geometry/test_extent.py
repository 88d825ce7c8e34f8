from __future__ import annotations

import math

import pytest

from profilestack.geometry.extent import Box, box_of, reach
from profilestack.geometry.path import Path


def test_an_arc_reaches_as_far_as_its_circle_where_it_passes() -> None:
    # three quarters of a circle of radius 5 about (10, 20), from its right, counter-clockwise
    path = Path((15.0, 20.0)).arc((10.0, 15.0), (10.0, 20.0), "ccw")
    assert box_of(path) == Box(5.0, 15.0, 15.0, 25.0)
    half = math.sqrt(0.5)
    assert reach(path, (half, half)) == pytest.approx(30.0 * half + 5.0)
    # down and to the right lies the gap: the ends are the furthest there
    assert reach(path, (half, -half)) == pytest.approx(-5.0 * half)


def test_the_same_arc_walked_backward_reaches_the_same() -> None:
    path = Path((15.0, 20.0)).arc((10.0, 15.0), (10.0, 20.0), "ccw")
    for degrees in range(0, 360, 7):
        along = (math.cos(math.radians(degrees)), math.sin(math.radians(degrees)))
        assert reach(path.reversed(), along) == pytest.approx(reach(path, along))
        assert reach(path, along) >= (path.flatten(1e-4) @ along).max() - 1e-12
        assert reach(path, along) <= (path.flatten(1e-4) @ along).max() + 1e-4


def test_a_box_has_a_size() -> None:
    box = box_of(Path((1.0, 2.0)).line((4.0, -3.0)))
    assert (box.width, box.height) == (3.0, 5.0)

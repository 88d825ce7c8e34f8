"""Exact paths: lengths, areas, turns, and how they become points."""

from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.errors import GeometryError
from profilestack.geometry.path import Arc, Line, Path

OGEE = (
    Path((0.0, 45.0))
    .line((10.0, 45.0))
    .arc((30.0, 25.0), center=(10.0, 25.0), turn="cw")
    .line((62.0, 25.0))
)


def test_lengths_add_up() -> None:
    assert OGEE.length == pytest.approx(10.0 + 20.0 * math.pi / 2 + 32.0)


def test_the_area_under_a_path_is_exact() -> None:
    round_off = OGEE.line((62.0, 0.0)).line((0.0, 0.0)).line((0.0, 45.0))
    wood = 10 * 45 + (20 * 25 + math.pi * 400 / 4) + 32 * 25
    assert round_off.signed_area == pytest.approx(-wood)  # clockwise
    assert round_off.reversed().signed_area == pytest.approx(wood)


def test_a_full_circle_is_an_arc_back_to_its_start() -> None:
    circle = Path((10.0, 5.0)).arc((10.0, 5.0), (5.0, 5.0), "ccw")
    assert circle.is_closed
    assert circle.length == pytest.approx(10 * math.pi)
    assert circle.signed_area == pytest.approx(25 * math.pi)
    (arc,) = circle.segments
    assert isinstance(arc, Arc)
    assert arc.sweep == pytest.approx(math.tau)
    back = circle.reversed().segments[0]
    assert isinstance(back, Arc)
    assert back.sweep == pytest.approx(-math.tau)


def test_reversed_twice_is_the_same() -> None:
    assert OGEE.reversed().reversed() == OGEE
    assert OGEE.reversed().start == OGEE.end
    assert OGEE.reversed().length == pytest.approx(OGEE.length)


def test_a_mirrored_path_turns_its_arcs() -> None:
    mirrored = OGEE.moved(lambda point: (-point[0], point[1]), mirrors=True)
    assert mirrored.length == pytest.approx(OGEE.length)
    assert mirrored.flatten(0.01) == pytest.approx(OGEE.flatten(0.01) * (-1.0, 1.0))


def test_joining_closes_a_gap_with_a_line() -> None:
    joined = OGEE.joined(Path((62.0, 20.0)).line((70.0, 20.0)))
    assert isinstance(joined.segments[-2], Line)
    assert joined.length == pytest.approx(OGEE.length + 5.0 + 8.0)
    touching = OGEE.joined(Path((62.0, 25.0)).line((70.0, 25.0)))
    assert len(touching.steps) == len(OGEE.steps) + 1


def test_radii_that_nearly_agree_move_the_centre() -> None:
    path = Path((0.0, 0.0)).arc((10.008, 10.0), center=(0.0, 10.0), turn="ccw")
    (arc,) = path.segments
    assert isinstance(arc, Arc)
    assert math.dist(arc.center, arc.start) == pytest.approx(math.dist(arc.center, arc.end))
    assert math.dist(arc.center, (0.0, 10.0)) < 0.01


@pytest.mark.parametrize("end", [(10.011, 10.0), (9.98, 10.0)])
def test_radii_that_differ_are_refused_with_both(end: tuple[float, float]) -> None:
    with pytest.raises(GeometryError, match=r"radius 10\.0000 mm where it starts"):
        Path((0.0, 0.0)).arc(end, center=(0.0, 10.0), turn="ccw")


def test_an_arc_without_a_radius_is_refused() -> None:
    with pytest.raises(GeometryError, match="has no radius"):
        Path((0.0, 0.0)).arc((1.0, 0.0), center=(0.0, 0.0), turn="cw")


@pytest.mark.parametrize("chord", [0.1, 0.001, 1e-6])
def test_flattening_keeps_corners_and_its_chord_error(chord: float) -> None:
    points = OGEE.flatten(chord)
    for corner in ((0.0, 45.0), (10.0, 45.0), (30.0, 25.0), (62.0, 25.0)):
        assert corner in {tuple(point) for point in points.tolist()}
    middles = (points[:-1] + points[1:])[1:-1] / 2.0
    off = 20.0 - np.hypot(middles[:, 0] - 10.0, middles[:, 1] - 25.0)
    assert off.min() >= -1e-12
    assert off.max() <= chord
    assert off.max() > 0.2 * chord, "far more points than the chord asks for"


def test_flattened_points_are_shared_and_cannot_be_written_to() -> None:
    points = OGEE.flatten(0.01)
    assert OGEE.flatten(0.01) is points
    with pytest.raises(ValueError, match="read-only"):
        points[0, 0] = 1.0


def test_a_chord_of_nothing_is_refused() -> None:
    with pytest.raises(GeometryError, match="above 0"):
        OGEE.flatten(0.0)

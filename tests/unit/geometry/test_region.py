"""Regions: always polygons, whatever a touch or a crossing leaves; and the retry ladder."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from shapely.geometry import GeometryCollection, LineString, MultiPolygon, Point, Polygon, box

from profilestack.errors import GeometryError
from profilestack.geometry import region as rooms
from profilestack.geometry.path import Path
from profilestack.geometry.region import (
    EMPTY,
    as_region,
    chains_of,
    intersect,
    moments_of,
    pieces_of,
    region_from_path,
    region_from_points,
    rings_of,
    subtract,
    unite,
)

BOW = Polygon([(0, 0), (10, 10), (10, 0), (0, 10)])
"""Crosses itself at (5, 5): two triangles of 25 mm2."""
SLOT = Polygon([(2, -1), (6, -1), (6, 20), (2, 20)])
"""Takes 9 mm2 of the left triangle and 1 mm2 of the right one."""


def test_what_a_touch_leaves_behind_is_dropped() -> None:
    mixed = GeometryCollection([box(0, 0, 2, 2), LineString([(0, 0), (5, 5)]), Point(9, 9)])
    nested = GeometryCollection([mixed, MultiPolygon([box(3, 3, 4, 4)])])
    assert as_region(nested).area == pytest.approx(4.0 + 1.0)
    assert as_region(mixed).equals(MultiPolygon([box(0, 0, 2, 2)]))
    assert as_region(LineString([(0, 0), (1, 1)])).is_empty
    assert as_region(EMPTY) is EMPTY


def test_pieces_come_largest_first() -> None:
    pieces = pieces_of(MultiPolygon([box(0, 0, 1, 1), box(2, 0, 5, 3), box(6, 0, 8, 2)]))
    assert [piece.area for piece in pieces] == [9.0, 4.0, 1.0]


def test_a_crossing_outline_is_mended_when_a_region_is_made() -> None:
    made = region_from_points(np.array(BOW.exterior.coords))
    assert made.area == pytest.approx(50.0)
    assert shapely.is_valid(made)


def test_a_path_becomes_its_region() -> None:
    circle = Path((10.0, 5.0)).arc((10.0, 5.0), (5.0, 5.0), "ccw")
    assert region_from_path(circle, 1e-5).area == pytest.approx(np.pi * 25.0, abs=2.2e-4)


@pytest.mark.parametrize(("first", "second", "left"), [(BOW, SLOT, 40.0), (SLOT, BOW, 84.0 - 10.0)])
def test_the_ladder_mends_what_the_plain_operation_refuses(
    first: Polygon, second: Polygon, left: float
) -> None:
    with pytest.raises(shapely.errors.GEOSException):
        shapely.difference(first, second)
    assert subtract(first, second).area == pytest.approx(left, abs=1e-4)
    assert intersect(first, second).area == pytest.approx(10.0, abs=1e-4)


def test_a_hole_that_leaves_its_piece_is_mended() -> None:
    wrong = Polygon([(0, 0), (10, 0), (10, 10), (0, 10)], [[(5, 5), (15, 5), (15, 7), (5, 7)]])
    with pytest.raises(shapely.errors.GEOSException):
        shapely.difference(wrong, SLOT)
    # make_valid takes each place that is inside an odd number of rings: 90 mm2 in the square, and
    # 10 mm2 of the hole beside it; the slot takes 4 x 10 less the hole's 1 x 2
    assert subtract(wrong, SLOT).area == pytest.approx(100.0 - 38.0, abs=1e-4)


def test_sound_input_never_sees_the_grid(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rooms, "_GRIDS", ())
    assert subtract(box(0, 0, 10, 10), SLOT).area == pytest.approx(60.0)
    with pytest.raises(GeometryError):
        subtract(BOW, SLOT)


@pytest.mark.filterwarnings("ignore:invalid value:RuntimeWarning")
def test_the_end_of_the_ladder_names_the_work() -> None:
    broken = Polygon([(0, 0), (float("nan"), 0), (1, 1)])
    with pytest.raises(GeometryError, match=r"failed on pass 3 \(bit ball\): "):
        subtract(SLOT, broken, "pass 3 (bit ball)")
    with pytest.raises(GeometryError, match="failed on a region: "):
        subtract(SLOT, broken)


def test_rings_turn_as_promised() -> None:
    holed = box(0, 0, 10, 10).difference(box(2, 2, 4, 4))
    rings = rings_of(MultiPolygon([holed, box(20, 0, 21, 1)]))
    signed = [Polygon(ring).area * (1 if shapely.is_ccw(ring_line(ring)) else -1) for ring in rings]
    assert signed == [100.0, -4.0, 1.0]
    assert all((ring[0] != ring[-1]).any() for ring in rings)


def ring_line(ring: np.ndarray) -> LineString:
    return LineString(np.concatenate((ring, ring[:1])))


def test_chains_are_the_rings_closed() -> None:
    holed = box(0, 0, 10, 10).difference(box(2, 2, 4, 4))
    chains = chains_of(MultiPolygon([holed, box(20, 0, 21, 1)]))
    assert [len(chain) for chain in chains] == [5, 5, 5]
    assert all((chain[0] == chain[-1]).all() for chain in chains)
    assert chains_of(EMPTY) == []


def test_moments_are_area_times_centroid() -> None:
    assert moments_of(box(1, 2, 3, 6)) == pytest.approx((8.0 * 2.0, 8.0 * 4.0))
    assert moments_of(EMPTY) == (0.0, 0.0)


def test_a_union_counts_an_overlap_once() -> None:
    assert unite([box(0, 0, 2, 2), box(1, 0, 3, 2)]).area == pytest.approx(6.0)

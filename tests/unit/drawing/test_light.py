"""The face under a raking lamp, held to the cosine law and to the straightness of light."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from profilestack.drawing.light import Lamp, face_of, shade, shaded_pixels
from profilestack.geometry.path import Path
from profilestack.geometry.region import region_from_path

WIDTH, RADIUS = 60.0, 20.0


def shaded(path: Path, at: np.ndarray, lamp: Lamp) -> np.ndarray:
    face = face_of(region_from_path(path, 0.001))
    assert face is not None
    return shade(face, at, lamp)


def slope(rise: float) -> Path:
    """A board whose top rises evenly from the left to the right."""
    return (
        Path((0.0, 0.0)).line((WIDTH, 0.0)).line((WIDTH, 40.0 + rise)).line((0.0, 40.0))
        .line((0.0, 0.0))
    )  # fmt: skip


HALF_ROUND = (
    Path((0.0, 0.0)).line((WIDTH, 0.0)).line((30.0 + RADIUS, 0.0))
    .arc((30.0 - RADIUS, 0.0), (30.0, 0.0), "ccw").line((0.0, 0.0))
)  # fmt: skip
LAMPS = [Lamp(altitude, left) for altitude in (10.0, 20.0, 45.0, 80.0) for left in (True, False)]


@pytest.mark.parametrize("lamp", LAMPS, ids=str)
@pytest.mark.parametrize("rise", [-30.0, -5.0, 0.0, 5.0, 30.0])
def test_a_plane_keeps_the_cosine_law(lamp: Lamp, rise: float) -> None:
    at = np.linspace(0.5, WIDTH - 0.5, 50)
    size = math.hypot(WIDTH, rise)
    normal = (-rise / size, WIDTH / size)
    altitude = math.radians(lamp.altitude)
    toward = (-math.cos(altitude) if lamp.from_left else math.cos(altitude), math.sin(altitude))
    expected = max(0.0, normal[0] * toward[0] + normal[1] * toward[1])
    assert shaded(slope(rise), at, lamp) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("lamp", LAMPS, ids=str)
def test_a_half_round_keeps_the_cosine_law(lamp: Lamp) -> None:
    off = np.linspace(-0.95, 0.95, 400) * RADIUS
    normal = np.column_stack((off, np.sqrt(RADIUS**2 - off**2))) / RADIUS
    altitude = math.radians(lamp.altitude)
    toward = (-math.cos(altitude) if lamp.from_left else math.cos(altitude), math.sin(altitude))
    expected = np.maximum(0.0, normal @ np.array(toward))
    # curves are told by chords; their normals are led evenly from one to the next
    assert shaded(HALF_ROUND, 30.0 + off, lamp) == pytest.approx(expected, abs=0.002)


@pytest.mark.parametrize("altitude", [10.0, 30.0, 60.0])
def test_a_step_throws_its_shadow_as_far_as_the_lamp_is_low(altitude: float) -> None:
    drop = 5.0
    step = (
        Path((0.0, 0.0)).line((WIDTH, 0.0)).line((WIDTH, 10.0)).line((20.0, 10.0))
        .line((20.0, 10.0 + drop)).line((0.0, 10.0 + drop)).line((0.0, 0.0))
    )  # fmt: skip
    reach = drop / math.tan(math.radians(altitude))
    at = np.array([10.0, 20.0 + 0.01, 20.0 + reach - 0.01, 20.0 + reach + 0.01, WIDTH - 1.0])
    flat = math.sin(math.radians(altitude))
    assert shaded(step, at, Lamp(altitude)) == pytest.approx([flat, 0.0, 0.0, flat, flat], abs=1e-6)
    assert shaded(step, at, Lamp(altitude, False)) == pytest.approx([flat] * 5, abs=1e-6)


def test_the_light_of_the_room_throws_no_shadow() -> None:
    away, room = Lamp(30.0, False), 0.2
    at = np.array([5.0])
    assert shaded(slope(60.0), at, away) == pytest.approx(0.0)
    lit = shaded(slope(60.0), at, Lamp(30.0, False, room))
    assert lit == pytest.approx(room * math.cos(math.atan2(60.0, WIDTH)), abs=1e-6)
    flat = shaded(slope(0.0), at, Lamp(30.0, False, room))
    assert flat == pytest.approx(Lamp(30.0, False, room).on_flat)


def test_where_there_is_no_wood_nothing_is_lit() -> None:
    apart = shapely.union_all([shapely.box(0.0, 0.0, 10.0, 5.0), shapely.box(20.0, 0.0, 30.0, 5.0)])
    face = face_of(apart)
    assert face is not None
    bright = shade(face, np.array([-1.0, 5.0, 15.0, 25.0, 31.0]), Lamp(30.0))
    assert np.isnan(bright).tolist() == [True, False, True, False, True]
    assert face_of(shapely.Polygon()) is None


def test_pixels_are_means_and_know_how_much_of_them_is_wood() -> None:
    face = face_of(shapely.box(0.5, 0.0, 3.0, 5.0))
    assert face is not None
    bright, wood = shaded_pixels(face, 0.0, 1.0, 4, Lamp(30.0))
    assert wood.tolist() == [0.5, 1.0, 1.0, 0.0]
    assert bright == pytest.approx([0.5, 0.5, 0.5, 0.0])


def test_a_ridge_between_two_hollows_is_a_line_of_light_beside_one_of_shadow() -> None:
    """Two round noses side by side leave a crest: its flanks face the lamp and turn from it."""
    board = shapely.box(0.0, 0.0, 40.0, 20.0)
    cuts = shapely.union_all([shapely.Point(x, 24.0).buffer(10.0, 64) for x in (14.0, 26.0)])
    face = face_of(board.difference(cuts))
    assert face is not None
    lamp = Lamp(30.0)
    beside = shade(face, np.array([19.9, 20.1]), lamp)
    # the circles of radius 10 stand 6 to the side of the crest: its flanks fall by asin 0.6 or so
    steep = math.asin(0.59)
    assert beside[0] == pytest.approx(math.sin(math.radians(30.0) + steep), abs=0.01)
    assert beside[1] == pytest.approx(max(0.0, math.sin(math.radians(30.0) - steep)), abs=0.01)

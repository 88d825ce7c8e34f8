"""Laws of exact offsets over closed paths of lines and arcs; pyclipper is the referee."""

from __future__ import annotations

import math

import numpy as np
import pyclipper
import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from profilestack.errors import GeometryError
from profilestack.geometry.crossing import crossings_of, distance_to, point_on
from profilestack.geometry.offset import offset_path
from profilestack.geometry.path import Path, Point

CHORD = 1e-4
UNIT = 1e-6
"""The referee counts in whole numbers of this [mm]."""


def areas_by_referee(outline: Path, distance: float) -> list[float]:
    """Areas of the rings of an outline grown by ``distance`` [mm], holes below 0.

    The referee joins round corners by chords; unlike some it does not thin out the outline first.
    """
    offset = pyclipper.PyclipperOffset(2.0, CHORD / UNIT)
    points = np.round(outline.flatten(CHORD)[:-1] / UNIT).astype(np.int64)
    offset.AddPath(points.tolist(), pyclipper.JT_ROUND, pyclipper.ET_CLOSEDPOLYGON)
    return [pyclipper.Area(ring) * UNIT**2 for ring in offset.Execute(distance / UNIT)]


def bulged(path: Path, to: Point, bulge: float) -> Path:
    """The path led on to ``to`` along an arc of height bulge x half the chord, 0: a line."""
    if abs(bulge) < 0.05:
        return path.line(to)
    start = path.end
    middle = ((start[0] + to[0]) / 2, (start[1] + to[1]) / 2)
    half = math.dist(start, to) / 2
    radius = half * (1 + bulge**2) / (2 * abs(bulge))
    back = (radius - half * abs(bulge)) / (2 * half) * (1 if bulge > 0 else -1)
    # positive: the arc bulges to the right of travel, so it turns counter-clockwise
    center = (
        middle[0] - back * (to[1] - start[1]),
        middle[1] + back * (to[0] - start[0]),
    )
    return path.arc(to, center, "ccw" if bulge > 0 else "cw")


@st.composite
def outlines(draw: st.DrawFn) -> Path:
    """A ring about the origin of 3 to 9 lines and arcs, counter-clockwise, without crossings."""
    count = draw(st.integers(3, 9))
    radii = [draw(st.floats(4.0, 20.0)) for _ in range(count)]
    points = [
        (r * math.cos(math.tau * k / count), r * math.sin(math.tau * k / count))
        for k, r in enumerate(radii)
    ]
    path = Path(points[0])
    for k in range(1, count + 1):
        path = bulged(path, points[k % count], draw(st.floats(-0.9, 0.9)))
    assume(not crossings_of(path))
    return path


NEARLY_SMOOTH_WHERE_IT_CLOSES = (
    Path((5.360288050243987, 0.0))
    .arc((5.244568940804622, 6.576481439906693), (-3.3737947664278654, 3.1355747634925226), "ccw")
    .line((-0.8900837358252573, 3.8997116487272945))
    .line((-3.603875471609676, 1.735534956470233))
    .line((-3.6038754716096766, -1.735534956470232))
    .line((-0.8900837358252583, -3.8997116487272945))
    .line((4.987918414869867, -6.254651859744239))
    .arc((5.360288050243987, 0.0), (15.845742810863584, -3.7626601783206937), "cw")
)


@settings(max_examples=150, deadline=None)
@given(outlines(), st.floats(0.01, 4.0))
@example(NEARLY_SMOOTH_WHERE_IT_CLOSES, 0.125)
def test_an_offset_is_what_another_engine_makes_of_it(outline: Path, distance: float) -> None:
    for signed in (distance, -distance):
        areas = areas_by_referee(outline, -signed)
        try:
            moved = offset_path(outline, signed)
        except GeometryError:
            assert len(areas) != 1 or areas[0] < 0.01
            continue
        # the outline's and the round corners' chords lie so far off
        slack = 2 * CHORD * (outline.length + moved.length) + 1e-6
        assert moved.signed_area == pytest.approx(sum(areas), abs=slack)


@settings(max_examples=100, deadline=None)
@given(outlines(), st.floats(-4.0, 4.0).filter(lambda d: abs(d) > 0.01))
def test_every_place_of_an_offset_is_just_as_far_away(outline: Path, distance: float) -> None:
    try:
        moved = offset_path(outline, distance)
    except GeometryError:
        assume(False)
        raise
    assert moved.is_closed
    for piece in moved.segments:
        for share in (0.0, 0.25, 0.5, 0.75):
            place = point_on(piece, share)
            near = min(distance_to(old, place) for old in outline.segments)
            assert near == pytest.approx(abs(distance), abs=1e-6)


@settings(max_examples=100, deadline=None)
@given(outlines(), st.floats(0.01, 2.0))
def test_mirrored_paths_have_mirrored_offsets(outline: Path, distance: float) -> None:
    mirrored = outline.moved(lambda point: (-point[0], point[1]), mirrors=True)
    try:
        moved = offset_path(outline, distance)
    except GeometryError:
        assume(False)
        raise
    assert offset_path(mirrored, -distance).signed_area == pytest.approx(
        -moved.signed_area, abs=1e-6
    )

"""The region that a target wants: the wood on the right hand, wherever it starts and ends."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon
from shapely.ops import split

from profilestack.cutting.wanted import ON_OUTLINE, Wanted, wanted_in
from profilestack.errors import InputError
from profilestack.geometry.path import Path, Point
from profilestack.geometry.region import pieces_of
from profilestack.stack import Blank, OutlineStock, PathTarget, Round
from tests.shop import board, lines

CHORD = 0.001
W, T = 60.0, 30.0
AROUND: tuple[Point, ...] = (
    (0.0, 0.0), (25.0, 0.0), (W, 0.0), (W, 12.0), (W, T), (41.0, T), (0.0, T), (0.0, 17.0),
)  # fmt: skip
"""Corners and places on every side of the board."""

HOUSE = Path((0.0, 0.0)).line((50.0, 0.0)).line((50.0, 20.0)).line((25.0, 40.0))
HOUSE = HOUSE.line((0.0, 20.0)).line((0.0, 0.0))
BARREL = (
    Path((15.0, 0.0)).line((40.0, 0.0)).arc((40.0, 30.0), (40.0, 15.0), "ccw")
    .line((15.0, 30.0)).arc((15.0, 0.0), (15.0, 15.0), "ccw")
)  # fmt: skip


def laid(path: Path, blank: Blank | None = None, closed: bool = False) -> Wanted:
    return wanted_in(blank or board(W, T), PathTarget(path, closed), CHORD)


def right_hand(body: Polygon, points: np.ndarray) -> float:
    """Area of the body's parts that lie on the right hand of a chain through it."""
    along = points[1] - points[0]
    beside = (points[0] + points[1]) / 2 + 1e-3 * np.array((along[1], -along[0])) / np.hypot(*along)
    parts = split(body, LineString(points)).geoms
    (chosen,) = [part for part in parts if shapely.intersects_xy(part, *beside)]
    return float(chosen.area)


@pytest.mark.parametrize(("start", "end"), list(itertools.permutations(AROUND, 2)))
def test_start_and_end_anywhere_on_a_board(start: Point, end: Point) -> None:
    path = Path(start).line((28.0, 14.0)).line(end)
    expected = right_hand(Polygon([(0, 0), (W, 0), (W, T), (0, T)]), path.flatten(CHORD))
    assert laid(path).region.area == pytest.approx(expected, abs=1e-9)
    back = laid(path.reversed()).region.area
    assert back == pytest.approx(W * T - expected, abs=1e-9)


@pytest.mark.parametrize("first", range(0, 360, 45))
@pytest.mark.parametrize("turn", [30, 90, 180, 200, 359])
def test_start_and_end_anywhere_on_a_dowel(first: int, turn: int) -> None:
    """A straight cut from one place to another, clockwise round: a segment stays on the right."""
    r = 25.0
    start, end = (
        (r + r * math.cos(math.radians(a)), r + r * math.sin(math.radians(a)))
        for a in (first, first - turn)
    )
    sweep = math.radians(360 - turn)
    # the wood's ring goes on clockwise from the end back to the start
    segment = r**2 / 2 * (sweep - math.sin(sweep))
    found = laid(Path(start).line(end), Blank(Round(2 * r)))
    assert found.region.area == pytest.approx(segment, abs=2 / 3 * CHORD * math.tau * r)


@pytest.mark.parametrize("outline", [HOUSE, HOUSE.reversed(), BARREL])
@pytest.mark.parametrize("shares", list(itertools.permutations((0.02, 0.3, 0.55, 0.8), 2)))
def test_start_and_end_anywhere_on_an_outline(outline: Path, shares: tuple[float, float]) -> None:
    blank = Blank(OutlineStock(outline))
    points = blank.outline().flatten(1e-4)
    ring = LineString(points)
    start, end = ((p.x, p.y) for p in (ring.interpolate(s, normalized=True) for s in shares))
    path = Path(start).line((25.0, 15.0)).line(end)
    expected = right_hand(Polygon(points), exact_ends(path, ring))
    assert laid(path, blank).region.area == pytest.approx(expected, abs=1e-3)


def exact_ends(path: Path, ring: LineString) -> np.ndarray:
    """The path's points, its ends drawn out a hair so that it splits the body."""
    points = path.flatten(CHORD).copy()
    for end, inner in ((0, 1), (-1, -2)):
        points[end] += 1e-7 * (points[end] - points[inner])
    return points


def test_a_flat_target_is_allowed() -> None:
    flat = laid(Path((0.0, 25.0)).line((W, 25.0)))
    assert flat.region.area == pytest.approx(W * 25.0)
    assert flat.length == pytest.approx(W)


def test_the_face_itself_wants_the_whole_blank() -> None:
    whole = laid(Path((0.0, T)).line((W, T)))
    assert whole.region.area == pytest.approx(W * T)
    assert whole.on_outline.all()


def test_the_face_backward_wants_nothing_and_is_refused() -> None:
    with pytest.raises(InputError, match="no wood on its right hand"):
        laid(Path((W, T)).line((0.0, T)))


@pytest.mark.parametrize("turned", [False, True])
def test_a_closed_target_has_its_wood_inside_whichever_way_it_runs(turned: bool) -> None:
    circle = Path((40.0, 15.0)).arc((40.0, 15.0), (30.0, 15.0), "ccw")
    found = laid(circle.reversed() if turned else circle, closed=True)
    slack = 2 / 3 * CHORD * 20 * math.pi
    assert found.region.area == pytest.approx(100.0 * math.pi, abs=slack)
    assert not found.on_outline.any()


def test_a_target_that_follows_the_outline_and_leaves_it_again() -> None:
    """Two rebates with the full face between: one piece of wood, one path along the face."""
    path = lines((0, 20), (10, 20), (10, 30), (50, 30), (50, 20), (60, 20)).typed
    found = laid(path)
    assert found.region.area == pytest.approx(60 * 20 + 40 * 10)
    on_face = found.samples[:, 1] == 30.0
    assert found.on_outline[on_face].all()


def test_a_target_that_falls_apart_keeps_both_pieces() -> None:
    """Down to the bed and up again: the wood is in two pieces."""
    path = lines((0, 20), (20, 20), (20, 0), (40, 0), (40, 20), (60, 20)).typed
    assert [piece.area for piece in pieces_of(laid(path).region)] == [400.0, 400.0]


def test_samples_are_close_and_hold_every_corner() -> None:
    found = laid(lines((0, 20), (10, 20), (10, 25.3), (60, 25.3)).typed)
    steps = np.hypot(*np.diff(found.samples, axis=0).T)
    assert steps.max() <= 0.5 + 1e-9
    assert found.places[-1] == pytest.approx(10 + 5.3 + 50)
    for corner in ((10.0, 20.0), (10.0, 25.3)):
        assert (found.samples == corner).all(axis=1).any()


def test_ends_may_miss_the_outline_by_a_drawings_rounding() -> None:
    near = ON_OUTLINE * 0.9
    inside = laid(Path((near, 20.0)).line((W - near, 20.0)))
    outside = laid(Path((-near, 20.0)).line((W + near, 20.0)))
    for found in (inside, outside):
        assert found.region.area == pytest.approx(W * 20.0, abs=0.5)


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (Path((10.0, 10.0)), "is one point"),
        (Path((10.0, 10.0)).line((10.0, 10.0)), "is one point"),
        (Path((0.0, 20.0)).line((W - 0.02, 20.0)), r"ends at \(59\.980, 20\.000\), 0\.020 mm"),
        (Path((0.02, 20.0)).line((W, 20.0)), r"starts at \(0\.020, 20\.000\), 0\.020 mm inside"),
        (
            Path((0.0, 20.0)).line((30.0, 31.5)).line((W, 20.0)),
            r"leaves the blank by 1\.500 mm, first at \(30\.000, 31\.500\)",
        ),
        (
            lines((0, 20), (40, 10), (40, 20), (20, 10), (W, 5)).typed,
            "crosses itself",
        ),
        (Path((0.0, 5.0)).line((20.0, 5.0)).line((10.0, 5.0)).line((10.0, T)), "crosses itself"),
        (
            Path((0.0, 5.0)).line((20.0, 5.0)).line((20.0, 20.0)).line((0.0, 5.0)),
            "ends where it starts",
        ),
    ],
)
def test_what_is_no_open_target_is_refused(path: Path, words: str) -> None:
    with pytest.raises(InputError, match=words) as caught:
        laid(path)
    assert [problem.where for problem in caught.value.problems] == ["target"]


@pytest.mark.parametrize(
    ("path", "words"),
    [
        (Path((10.0, 10.0)).line((20.0, 10.0)).line((20.0, 20.0)), "is called closed but ends at"),
        (
            Path((10.0, 10.0)).line((20.0, 20.0)).line((20.0, 10.0)).line((10.0, 20.0))
            .line((10.0, 10.0)),
            "crosses itself",
        ),
        (
            Path((10.0, 10.0)).line((20.0, 10.0)).line((10.0, 10.0)),
            "crosses itself|no wood",
        ),
    ],
)  # fmt: skip
def test_what_is_no_closed_target_is_refused(path: Path, words: str) -> None:
    with pytest.raises(InputError, match=words):
        laid(path, closed=True)

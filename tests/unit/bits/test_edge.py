"""The edge as it really cuts: closed, new, worn and over its size."""

from __future__ import annotations

import math
from typing import Any

import pytest

from profilestack.bits import (
    SHAPES,
    Bit,
    edge_height,
    edge_path,
    has_undercut,
    largest_radius,
    radius_at,
    silhouette_path,
)
from profilestack.errors import GeometryError, InputError
from profilestack.geometry.path import Arc, Line, Path


def made(word: str, cutting_length: float, measured: float | None = None, **keys: Any) -> Bit:
    return Bit("it", SHAPES[word](**keys), cutting_length, 12.7, 120.0, measured=measured)


def arcs_of(bit: Bit) -> list[Arc]:
    return [piece for piece in edge_path(bit).segments if isinstance(piece, Arc)]


def test_silhouettes_are_closed_and_have_the_area_of_their_formula() -> None:
    radius, length = 6.35, 15.0
    lean = math.radians(14.0)
    cases = [
        (made("straight", length, diameter=12.7), 12.7 * length),
        (
            made("core-box", length, diameter=12.7),
            math.pi * radius**2 / 2 + 12.7 * (length - radius),
        ),
        (made("v-groove", 6.0, diameter=12.7, angle=90.0), 6.0**2),
        (made("v-groove", 6.0, diameter=20.0, angle=90.0, tip=2.0), 6.0**2 + 2.0 * 6.0),
        (made("cove", 4.0, radius=4.0, tip=3.0), math.pi * 16.0 / 2 + 3.0 * 4.0),
        (made("roundover", 4.0, radius=4.0, tip=3.0), 2 * (1 - math.pi / 4) * 16.0 + 3.0 * 4.0),
        (made("bullnose", 8.0, radius=4.0, tip=3.0), 2 * (32.0 - math.pi * 8.0) + 3.0 * 8.0),
        (
            made("dovetail", 12.0, diameter=12.7, angle=14.0),
            12.7 * 12.0 - math.tan(lean) * 12.0**2,
        ),
    ]
    for bit, area in cases:
        outline = silhouette_path(bit)
        assert outline.is_closed
        assert outline.signed_area == pytest.approx(area, rel=1e-12)


def test_the_silhouette_is_its_own_mirror_image() -> None:
    outline = silhouette_path(made("ogee", 12.0, cove_radius=4.0, round_radius=5.0, tip=2.0))
    mirrored = outline.moved(lambda point: (-point[0], point[1]), mirrors=True)
    assert mirrored.signed_area == pytest.approx(-outline.signed_area)
    assert {step.to for step in mirrored.reversed().steps} == {step.to for step in outline.steps}


@pytest.mark.parametrize(
    ("bit", "undercut"),
    [
        (made("straight", 20.0, diameter=12.7), False),
        (made("core-box", 20.0, diameter=12.7), False),
        (made("v-groove", 6.0, diameter=12.7, angle=90.0, tip=0.5), False),
        (made("cove", 8.0, radius=6.0, tip=12.7), False),
        (made("roundover", 8.0, radius=6.0, tip=12.7), False),
        (made("ogee", 12.0, cove_radius=4.0, round_radius=5.0, tip=2.0), False),
        (made("reverse-ogee", 12.0, cove_radius=4.0, round_radius=5.0, tip=2.0), False),
        (made("taper-ball", 20.0, radius=1.5, angle=5.0, diameter=6.0), False),
        (made("bullnose", 14.0, radius=6.0, tip=5.0), True),
        (made("dovetail", 12.0, diameter=12.7, angle=14.0), True),
        # cut off below its waist a bullnose is undercut all the same
        (made("bullnose", 2.0, radius=6.0, tip=5.0), True),
        # a hollow at the tip is no undercut: nothing stands above the edge
        (made("outline", 6.0, outline=Path((0.0, 2.0)).line((4.0, 0.0)).line((5.0, 6.0))), False),
        # a disc on a neck
        (
            made(
                "outline",
                8.0,
                outline=Path((0.0, 0.0)).line((9.0, 0.0)).line((9.0, 3.0)).line((3.0, 3.0)),
            ),
            True,
        ),
        # an arc that swings out beyond its ends and back
        (
            made(
                "outline",
                8.0,
                outline=Path((2.0, 0.0)).arc((2.0, 8.0), center=(2.0, 4.0), turn="ccw"),
            ),
            True,
        ),
    ],
)
def test_undercut_is_a_radius_that_decreases_going_up(bit: Bit, undercut: bool) -> None:
    assert has_undercut(bit) is undercut


def test_the_largest_radius_counts_only_what_cuts() -> None:
    bit = made("v-groove", 4.0, diameter=12.7, angle=90.0)
    assert largest_radius(bit) == pytest.approx(4.0)
    swinging = Path((2.0, 0.0)).arc((2.0, 8.0), center=(2.0, 4.0), turn="ccw")
    assert largest_radius(made("outline", 8.0, outline=swinging)) == pytest.approx(6.0)


def test_a_radius_is_asked_for_within_the_edge() -> None:
    bit = made("straight", 20.0, diameter=12.7)
    assert radius_at(bit, 0.0) == pytest.approx(6.35)
    assert radius_at(bit, 20.0) == pytest.approx(6.35)
    with pytest.raises(GeometryError, match="20 mm"):
        radius_at(bit, 20.5)


def test_measured_as_new_changes_nothing() -> None:
    new = made("core-box", 20.0, diameter=12.7)
    assert edge_path(made("core-box", 20.0, diameter=12.7, measured=12.7)) == edge_path(new)


def test_a_core_box_loses_radius() -> None:
    bit = made("core-box", 20.0, diameter=12.7, measured=12.4)
    (ball,) = arcs_of(bit)
    assert ball.radius == pytest.approx(6.2)
    assert ball.center == pytest.approx((0.0, 6.2))
    # the tip lost as much as the side, 0.15
    assert edge_height(bit) == pytest.approx(20.0 - 0.15)
    assert edge_path(bit).end == pytest.approx((6.2, 19.85))


def test_a_roundover_gains_radius() -> None:
    bit = made("roundover", 9.0, radius=6.0, tip=3.0, measured=14.8)
    (hollow,) = arcs_of(bit)
    assert hollow.radius == pytest.approx(6.1)
    assert hollow.center == pytest.approx((7.5, -0.1))
    # flat and arc meet where the arc, grown by 0.1, passes h = 0.1 of the old bit
    tip = 7.5 - math.sqrt(6.1**2 - 0.1**2)
    assert edge_path(bit).segments[0].end == pytest.approx((tip, 0.0), abs=1e-9)
    assert edge_height(bit) == pytest.approx(8.9)


def test_both_arcs_of_an_ogee_keep_their_tangent_joint() -> None:
    bit = made("ogee", 12.0, cove_radius=4.0, round_radius=5.0, tip=2.0, measured=19.6)
    cove, hollow = arcs_of(bit)
    assert (cove.radius, hollow.radius) == pytest.approx((3.8, 5.2))
    assert math.dist(cove.center, hollow.center) == pytest.approx(9.0)
    assert cove.end == pytest.approx((4.8, 3.8))


def test_a_sharpened_v_keeps_its_angle_and_loses_its_flat() -> None:
    half = math.radians(30.0)
    tip, moved = 1.0, 0.2
    bit = made("v-groove", 14.0, diameter=12.7, angle=60.0, tip=tip, measured=12.7 - 2 * moved)
    flat, side, _ = edge_path(bit).segments
    assert 2 * flat.end[0] == pytest.approx(tip - 2 * moved * (1 - math.sin(half)) / math.cos(half))
    slope = (side.end[0] - side.start[0]) / (side.end[1] - side.start[1])
    assert slope == pytest.approx(math.tan(half))
    assert edge_height(bit) == pytest.approx(14.0 - moved)


def test_a_v_without_a_flat_loses_more_at_its_tip_than_at_its_side() -> None:
    moved = 0.2
    bit = made("v-groove", 14.0, diameter=12.7, angle=60.0, measured=12.7 - 2 * moved)
    assert edge_height(bit) == pytest.approx(14.0 - moved / math.sin(math.radians(30.0)))
    assert edge_path(bit).start == (0.0, 0.0)


def test_a_dovetail_is_widest_where_two_edges_meet() -> None:
    lean, moved = math.radians(14.0), 0.1
    measured = 12.7 - 2 * moved * (math.tan(lean) + 1 / math.cos(lean))
    bit = made("dovetail", 12.0, diameter=12.7, angle=14.0, measured=measured)
    assert edge_height(bit) == pytest.approx(12.0 - moved, abs=1e-8)
    top = 6.35 - 12.0 * math.tan(lean) - moved / math.cos(lean)
    assert edge_path(bit).end[0] == pytest.approx(top, abs=1e-8)


def test_a_hollow_corner_of_an_outline_is_rounded_by_sharpening() -> None:
    # a step: the corner at (3, 2) points into the bit, so the stone cannot keep it sharp
    stepped = Path((0.0, 0.0)).line((3.0, 0.0)).line((3.0, 2.0)).line((6.0, 2.0)).line((6.0, 5.0))
    bit = made("outline", 5.0, outline=stepped, measured=11.0)
    (arc,) = arcs_of(bit)
    assert arc.radius == pytest.approx(0.5)
    assert arc.center == pytest.approx((3.0, 1.5))  # h = 2 less the 0.5 that the tip lost
    assert [type(piece) for piece in edge_path(bit).segments] == [Line, Line, Arc, Line, Line]


def test_a_bit_over_its_nominal_size_grows_square_to_itself() -> None:
    bit = made("core-box", 20.0, diameter=12.7, measured=12.8)
    (ball,) = arcs_of(bit)
    assert ball.radius == pytest.approx(6.4)
    assert edge_height(bit) == pytest.approx(20.05)
    vee = made("v-groove", 14.0, diameter=12.7, angle=90.0, tip=1.0, measured=12.9)
    flat = edge_path(vee).segments[0]
    assert 2 * flat.end[0] == pytest.approx(1.0 + 0.2 * (math.sqrt(2.0) - 1.0))


@pytest.mark.parametrize(
    ("bit", "measured"),
    [
        ({"word": "straight", "cutting_length": 20.0, "diameter": 12.7}, 6.0),
        ({"word": "straight", "cutting_length": 20.0, "diameter": 12.7}, 13.8),
        # a disc 3 mm thick is gone long before its diameter has halved
        ({"word": "straight", "cutting_length": 3.0, "diameter": 40.0}, 30.0),
        # a bullnose that thin breaks at the waist
        ({"word": "bullnose", "cutting_length": 14.0, "radius": 6.0, "tip": 1.0}, 11.0),
    ],
)
def test_a_measured_diameter_that_leaves_no_bit_is_refused(
    bit: dict[str, Any], measured: float
) -> None:
    assert made(**bit).measured is None
    with pytest.raises(InputError) as caught:
        made(**bit, measured=measured)
    assert [problem.where for problem in caught.value.problems] == ["measured"]

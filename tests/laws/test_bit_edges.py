"""Laws of every bit edge, new, worn or over its size; shapely is the referee."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from profilestack.bits import (
    SHAPES,
    Bit,
    edge_height,
    edge_path,
    has_undercut,
    largest_radius,
    silhouette_path,
)
from profilestack.errors import GeometryError, InputError
from profilestack.geometry.offset import offset_path
from profilestack.geometry.path import Path

CHORD = 1e-4
"""Silhouettes become points at this chord error [mm]: the areas below are as good as that."""


def sizes(low: float, high: float) -> st.SearchStrategy[float]:
    return st.floats(low, high, allow_nan=False).map(lambda value: round(value, 3))


@st.composite
def bits(draw: st.DrawFn) -> Bit:
    word = draw(st.sampled_from(sorted(set(SHAPES) - {"outline"})))
    radius, other, tip = draw(sizes(1.0, 20.0)), draw(sizes(1.0, 20.0)), draw(sizes(0.2, 15.0))
    keys = {
        "straight": {"diameter": 2 * radius},
        "core-box": {"diameter": 2 * radius},
        "v-groove": {"diameter": 2 * radius + tip, "angle": draw(sizes(10.0, 150.0)), "tip": tip},
        "cove": {"radius": radius, "tip": tip},
        "roundover": {"radius": radius, "tip": tip},
        "ogee": {"cove_radius": radius, "round_radius": other, "tip": tip},
        "reverse-ogee": {"cove_radius": radius, "round_radius": other, "tip": tip},
        "bullnose": {"radius": radius, "tip": tip},
        "dovetail": {"diameter": 2 * radius, "angle": draw(sizes(3.0, 25.0))},
        "taper-ball": {
            "radius": radius / 4,
            "angle": draw(sizes(2.0, 30.0)),
            "diameter": radius / 2 + tip,
        },
    }[word]
    cutting_length = draw(sizes(1.0, 60.0))
    try:
        return Bit("it", SHAPES[word](**keys), cutting_length, 12.7, 200.0)
    except InputError:
        assume(False)
        raise


def region(path: Path) -> shapely.Polygon:
    return shapely.Polygon(path.flatten(CHORD))


def worn(bit: Bit, loss: float) -> Bit:
    """The bit after its diameter went down by ``loss``; too small a bit is no example."""
    try:
        return replace(bit, measured=2.0 * largest_radius(bit) - loss)
    except InputError:
        assume(False)
        raise


losses = st.floats(0.01, 0.6).map(lambda value: round(value, 4))


@settings(max_examples=150, deadline=None)
@given(bits())
def test_an_edge_leads_from_the_axis_to_its_end(bit: Bit) -> None:
    edge = edge_path(bit)
    assert edge.start == (0.0, 0.0)
    assert edge.end[1] == pytest.approx(bit.cutting_length, abs=1e-9)
    assert edge.flatten(CHORD)[:, 0].min() >= 0.0
    for before, after in zip(edge.segments, edge.segments[1:], strict=False):
        assert before.end == after.start


@settings(max_examples=150, deadline=None)
@given(bits())
def test_a_silhouette_encloses_its_bit_once_and_counter_clockwise(bit: Bit) -> None:
    outline = silhouette_path(bit)
    polygon = region(outline)
    assert polygon.is_valid
    assert polygon.exterior.is_ccw
    assert polygon.area == pytest.approx(outline.signed_area, abs=CHORD * outline.length)


@settings(max_examples=150, deadline=None)
@given(bits())
def test_without_undercut_the_radius_never_decreases(bit: Bit) -> None:
    radii = edge_path(bit).flatten(CHORD)[:, 0]
    decreases = bool((radii[1:] < radii[:-1] - 1e-9).any())
    assert has_undercut(bit) == decreases


@settings(max_examples=150, deadline=None)
@given(bits(), losses)
def test_the_measured_diameter_is_met(bit: Bit, loss: float) -> None:
    small = worn(bit, loss)
    assert 2.0 * largest_radius(small) == pytest.approx(small.measured, abs=1e-6)
    assert edge_path(small).flatten(CHORD)[:, 1].min() == pytest.approx(0.0, abs=1e-9)
    large = replace(bit, measured=2.0 * largest_radius(bit) + loss)
    assert 2.0 * largest_radius(large) == pytest.approx(large.measured, abs=1e-6)


@settings(max_examples=150, deadline=None)
@given(bits(), losses)
def test_a_worn_bit_lies_inside_the_new_one(bit: Bit, loss: float) -> None:
    small = worn(bit, loss)
    lost = edge_height(bit) - edge_height(small)
    assert lost > 0.0
    inside = shapely.affinity.translate(region(silhouette_path(small)), 0.0, lost)
    assert region(silhouette_path(bit)).buffer(2 * CHORD).contains(inside)


@settings(max_examples=100, deadline=None)
@given(bits(), losses, losses)
def test_more_wear_never_leaves_more(bit: Bit, first: float, second: float) -> None:
    less, more = worn(bit, first), worn(bit, first + second)
    lost = edge_height(less) - edge_height(more)
    inside = shapely.affinity.translate(region(silhouette_path(more)), 0.0, lost)
    assert region(silhouette_path(less)).buffer(2 * CHORD).contains(inside)


@settings(max_examples=100, deadline=None)
@given(bits(), st.floats(0.02, 1.5))
def test_an_offset_is_what_another_engine_makes_of_it(bit: Bit, distance: float) -> None:
    outline = silhouette_path(bit)
    fine = 64
    for signed in (distance, -distance):
        referee = region(outline).buffer(-signed, quad_segs=fine)
        try:
            moved = offset_path(outline, signed)
        except GeometryError:
            assert signed > 0.0
            assert referee.is_empty or referee.geom_type == "MultiPolygon" or referee.area < 0.01
            continue
        # a quarter disc of radius d in n chords loses up to (pi/2 - n sin(pi/2n)) d^2 / 2
        share = math.pi / 2 - fine * math.sin(math.pi / 2 / fine)
        slack = 4 * CHORD * (outline.length + 10.0) + 8 * share * distance**2
        assert moved.signed_area == pytest.approx(referee.area, abs=slack)

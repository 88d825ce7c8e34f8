"""Flattening keeps its chord error, whatever the path."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from profilestack.geometry.path import Arc, Path
from tests.laws.stacks import law, sizes

chords = st.sampled_from((1e-5, 1e-3, 0.02, 0.5))


@st.composite
def paths(draw: st.DrawFn) -> Path:
    """A chain of lines and arcs of any radius and sweep."""
    path = Path((draw(sizes(-50.0, 50.0)), draw(sizes(-50.0, 50.0))))
    for _ in range(draw(st.integers(1, 6))):
        if draw(st.booleans()):
            path = path.line((draw(sizes(-50.0, 50.0)), draw(sizes(-50.0, 50.0))))
            continue
        radius = draw(sizes(0.05, 80.0))
        start, sweep = draw(st.floats(0.0, 6.28)), draw(st.floats(0.01, 6.27))
        turn = draw(st.sampled_from(("cw", "ccw")))
        x, z = path.end
        center = (x - radius * math.cos(start), z - radius * math.sin(start))
        end = start + (sweep if turn == "ccw" else -sweep)
        to = (center[0] + radius * math.cos(end), center[1] + radius * math.sin(end))
        path = path.arc(to, center, turn)
    return path


@law
@given(paths(), chords)
def test_no_point_is_off_by_more_than_the_chord_error(path: Path, chord: float) -> None:
    points = path.flatten(chord)
    at = 0
    for piece in path.segments:
        if not isinstance(piece, Arc):
            at += 1
            assert tuple(points[at]) == piece.end
            continue
        while tuple(points[at]) != piece.end:
            ends = points[at : at + 2]
            middle = ends.mean(axis=0)
            off = [math.dist(place, piece.center) - piece.radius for place in (*ends, middle)]
            assert abs(off[0]) < 1e-9
            assert abs(off[1]) < 1e-9
            assert -chord - 1e-9 <= off[2] <= 1e-9
            at += 1
    assert at == len(points) - 1


@law
@given(paths(), chords)
def test_the_flattened_length_is_a_little_shorter(path: Path, chord: float) -> None:
    length = float(np.hypot(*np.diff(path.flatten(chord), axis=0).T).sum())
    assert length <= path.length + 1e-9
    finest = float(np.hypot(*np.diff(path.flatten(1e-5), axis=0).T).sum())
    assert length <= finest + 1e-6


@law
@given(paths())
def test_the_enclosed_area_is_met_within_the_bound(path: Path) -> None:
    """Two thirds of the chord error times the arcs' length."""
    closed = path.line(path.start) if not path.is_closed else path
    for chord in (1e-4, 0.01):
        x, z = closed.flatten(chord).T
        area = float((x[:-1] * z[1:] - x[1:] * z[:-1]).sum()) / 2.0
        arcs = math.fsum(piece.length for piece in closed.segments if isinstance(piece, Arc))
        assert area == pytest.approx(closed.signed_area, abs=2 / 3 * chord * arcs * 1.001 + 1e-6)

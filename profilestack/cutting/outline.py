"""The finished section as exact paths: the lines and arcs of blank, bits and setups."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from profilestack.bits.edge import silhouette_path
from profilestack.cutting.cut import Cut
from profilestack.cutting.stroke import Stroke
from profilestack.geometry.crossing import path_of
from profilestack.geometry.path import Path, Point, Points, Segment
from profilestack.geometry.region import rings_of
from profilestack.geometry.retracing import Source, retraced

OUTLINE_CHORD = 1e-5
"""A cut whose outline is told exactly is flattened so finely [mm]: what is thinner than this does
not come out of it."""

SHORTEST = 0.001
"""Shorter pieces of an outline are left out [mm]: rounded offsets and depths make them."""


def outline_of(cut: Cut, shortest: float = SHORTEST) -> tuple[Path, ...]:
    """The section's rings as closed paths: outer ones counter-clockwise, holes clockwise [mm].

    Joints are where the exact lines and circles meet, and each path has as few pieces as the
    section has, none of them shorter than ``shortest`` [mm]. Best from a cut at
    ``OUTLINE_CHORD``.
    """
    sources = [
        Source(piece, _flat(piece, cut.chord)) for piece in _pieces(cut.stack.blank.outline())
    ]
    for stroke in cut.strokes:
        sources += _stroke_sources(stroke, cut.chord)
    return retraced(rings_of(cut.section), sources, cut.chord, shortest)


def _stroke_sources(stroke: Stroke, chord: float) -> Iterator[Source]:
    def place(point: Point) -> Point:
        x, z = stroke.to_section(np.array(point)).tolist()
        return (x, z)

    silhouette = silhouette_path(stroke.bit)
    for piece in _pieces(silhouette):
        (moved,) = path_of([piece]).moved(place).segments
        yield Source(moved, stroke.to_section(_flat(piece, chord)))


def _pieces(path: Path) -> list[Segment]:
    return [piece for piece in path.segments if piece.length > 0.0]


def _flat(piece: Segment, chord: float) -> Points:
    """The chords that the whole path has for one of its pieces."""
    return path_of([piece]).flatten(chord)

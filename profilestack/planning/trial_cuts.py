"""Many cuts of one stack at once, each with its own errors: sections as arrays of shapes.

The work of all cuts is done stroke by stroke in arrays: the polygon engine is called once for
each stroke, not once for each stroke of each cut.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely

from profilestack.bits.bit import Bit
from profilestack.bits.edge import largest_radius
from profilestack.cutting.nearest import Numbers
from profilestack.cutting.stroke import exact_cos_sin, lie_of, silhouette_points
from profilestack.geometry.path import Points
from profilestack.geometry.region import polygon_from_points, subtract
from profilestack.planning.usual_errors import Source
from profilestack.stack import Pass, Stack

DIAMETER_STEP = 0.005
"""Diameters are rounded to this [mm], finer than they are measured, so that outlines are shared."""

Shapes = npt.NDArray[Any]
"""Regions of the section plane, one for each cut."""


@dataclass(frozen=True, slots=True, eq=False)
class TrialCuts:
    """``sections`` (n,) of n cuts, and their strokes.

    ``strokes`` (s, n) are the regions that each stroke swept in each cut; ``owners`` (s,) the
    places of their passes in the stack's, from 0.
    """

    sections: Shapes
    strokes: Shapes
    owners: npt.NDArray[np.intp]


def trial_cuts(
    stack: Stack,
    bits: Mapping[str, Bit],
    sources: Sequence[Source],
    errors: Numbers,
    chord: float,
    rounds: bool = True,
) -> TrialCuts:
    """Cut the stack once for each row of ``errors`` (n, number of sources) [mm, deg].

    ``rounds``: diameters in steps of ``DIAMETER_STEP``. Depths are kept above the bed and blank
    widths from the fence: zero on the bed, as where the back is the reference.
    """
    blank = polygon_from_points(stack.blank.outline().flatten(chord))
    sections: Shapes = np.full(len(errors), blank, dtype=object)
    swept, owners = [], []
    for place, single in enumerate(stack.passes):
        if not single.on:
            continue
        off = _Off.of(place, sources, errors)
        bit = bits[single.bit]
        edges = _silhouettes(bit, off.diameter, chord, rounds)
        for regions in _strokes(stack, single, edges, off):
            sections = without(sections, regions)
            swept.append(regions)
            owners.append(place)
    strokes = np.array(swept, dtype=object).reshape(len(swept), len(errors))
    return TrialCuts(sections, strokes, np.array(owners, dtype=np.intp))


@dataclass(frozen=True, slots=True, eq=False)
class _Off:
    """By how much one pass is off in every cut, each shape (n,) [mm, deg]."""

    across: Numbers
    deeper: Numbers
    diameter: Numbers
    tipped: Numbers

    @staticmethod
    def of(place: int, sources: Sequence[Source], errors: Numbers) -> _Off:
        sums = {key: np.zeros(len(errors)) for key in ("across", "deeper", "diameter", "tipped")}
        words = {
            "touch-off": "deeper", "depth": "deeper", "diameter": "diameter", "wedge": "tipped",
            "edge zero": "across", "offset": "across", "blank": "across",
        }  # fmt: skip
        for column, source in enumerate(sources):
            if place in source.passes:
                sums[words[source.kind]] += errors[:, column]
        return _Off(**sums)


@dataclass(frozen=True, slots=True, eq=False)
class _Edges:
    """The silhouettes of a bit in every cut: ``points`` in a row, ``cut`` whose each one is."""

    points: Points
    cut: npt.NDArray[np.intp]


def _silhouettes(bit: Bit, wider: Numbers, chord: float, rounds: bool) -> _Edges:
    if rounds:
        wider = np.round(wider / DIAMETER_STEP) * DIAMETER_STEP
    usual = 2.0 * largest_radius(bit)
    sizes, which = np.unique(wider, return_inverse=True)
    outlines = []
    for size in sizes.tolist():
        worn = bit if size == 0.0 else replace(bit, measured=usual + size)
        outlines.append(silhouette_points(worn, chord))
    counts = np.array([len(outline) for outline in outlines])[which]
    points = np.concatenate([outlines[k] for k in which.tolist()])
    return _Edges(points, np.repeat(np.arange(len(wider)), counts))


def _strokes(stack: Stack, single: Pass, edges: _Edges, off: _Off) -> list[Shapes]:
    """The strokes of one pass in all cuts, as cut by :func:`profilestack.cutting.cut.cut_stack`."""
    setup = stack.setup(single.setup)
    lie, upright = lie_of(stack.blank, setup.angle), lie_of(stack.blank, 0.0)
    middle = np.array((upright.width / 2.0, upright.height / 2.0))
    cut = edges.cut
    if off.tipped.any():
        turns = [_lie_numbers(stack, setup.angle + more) for more in off.tipped.tolist()]
    else:
        turns = [(lie.cos, lie.sin, lie.left, lie.bottom)] * len(off.tipped)
    cos, sin, left, bottom = np.array(turns).T[:, cut]
    tip = lie.height - single.depth - off.deeper
    made = []
    for copy in range(setup.copies):
        back = exact_cos_sin(360.0 * copy / setup.copies)
        for repeat in range(single.count):
            axis = single.offset + repeat * single.pitch + off.across
            x = edges.points[:, 0] + axis[cut] + left
            z = edges.points[:, 1] + tip[cut] + bottom
            placed = np.stack((cos * x + sin * z, cos * z - sin * x), axis=-1)
            if copy:
                beside = placed - middle
                placed = np.stack(
                    (back[0] * beside[:, 0] + back[1] * beside[:, 1],
                     back[0] * beside[:, 1] - back[1] * beside[:, 0]), axis=-1,
                ) + middle  # fmt: skip
            rings = shapely.linearrings(placed, indices=cut)
            made.append(np.asarray(shapely.polygons(rings), dtype=object))
    return made


def _lie_numbers(stack: Stack, angle: float) -> tuple[float, float, float, float]:
    """Cosine, sine, left and bottom of the blank tipped to ``angle`` [deg]."""
    lie = lie_of(stack.blank, angle)
    return lie.cos, lie.sin, lie.left, lie.bottom


def without(first: Any, second: Any) -> Shapes:
    """Each of the first without each of the second; one of them may be one for all."""
    try:
        return np.asarray(shapely.difference(first, second), dtype=object)
    except shapely.errors.GEOSException:  # one of them stumbled: each by itself, up the ladder
        one, two = np.broadcast_arrays(np.asarray(first, object), np.asarray(second, object))
        return np.array([subtract(a, b) for a, b in zip(one, two, strict=True)], dtype=object)

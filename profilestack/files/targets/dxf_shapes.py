"""What each kind of DXF entity is, as chains in drawing units: one function, one table line each.

``fine`` is the chord error of free curves, in drawing units.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from itertools import pairwise
from typing import Any

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.files.targets.sampling import ellipse_points, spline_points
from profilestack.files.targets.wishes import FARTHEST
from profilestack.geometry.motion import mirror
from profilestack.geometry.path import SAME_POINT, Arc, Line, Point, Turn
from profilestack.targets.bulges import center_of
from profilestack.targets.tracing import Chain, Curve, Piece, moved, points_of

ROUND = 1e-9
"""An ellipse whose axes differ by no more than this share is a circle."""

LARGEST_DEGREE = 25
MOST_CONTROL_POINTS = 10_000


def line_chains(entity: Any, fine: float) -> list[Chain]:
    """LINE."""
    del fine
    _refuse_incomplete(entity, "start", "end")
    start, end = _finite(entity.dxf.start), _finite(entity.dxf.end)
    return _chains([Line(start, end)])


def arc_chains(entity: Any, fine: float) -> list[Chain]:
    """ARC, counter-clockwise from its start angle to its end angle."""
    _refuse_incomplete(entity, "center", "radius", "start_angle", "end_angle")
    center, radius = _finite(entity.dxf.center), _radius(entity.dxf.radius)
    first, last = _numbers(entity.dxf.start_angle, entity.dxf.end_angle)
    start, end = (
        (
            center[0] + radius * math.cos(math.radians(a)),
            center[1] + radius * math.sin(math.radians(a)),
        )
        for a in (first, last)
    )
    if abs((last - first) % 360.0) < 1e-9:
        end = start
    return _upright(entity, _chains([Arc(start, end, center, "ccw")]), fine)


def circle_chains(entity: Any, fine: float) -> list[Chain]:
    """CIRCLE."""
    _refuse_incomplete(entity, "center", "radius")
    center, radius = _finite(entity.dxf.center), _radius(entity.dxf.radius)
    start = (center[0] + radius, center[1])
    return _upright(entity, _chains([Arc(start, start, center, "ccw")]), fine)


def lwpolyline_chains(entity: Any, fine: float) -> list[Chain]:
    """LWPOLYLINE, its bulges as arcs."""
    points = [tuple(_numbers(*values)) for values in entity.get_points("xyb")]
    return _upright(entity, _bulged(points, bool(entity.closed)), fine)


def polyline_chains(entity: Any, fine: float) -> list[Chain]:
    """POLYLINE, flat or in space; the control frame of a smoothed one is left out."""
    if not (entity.is_2d_polyline or entity.is_3d_polyline):
        return []
    points = []
    for vertex in entity.vertices:
        if vertex.dxf.get("flags", 0) & 16:
            continue
        _refuse_incomplete(vertex, "location")
        x, y = _finite(vertex.dxf.location)
        bulge = vertex.dxf.get("bulge", 0.0) if entity.is_2d_polyline else 0.0
        points.append((x, y, *_numbers(bulge)))
    chains = _bulged(points, bool(entity.is_closed))
    return _upright(entity, chains, fine) if entity.is_2d_polyline else chains


def ellipse_chains(entity: Any, fine: float) -> list[Chain]:
    """ELLIPSE; a circle as an arc, any other as a free curve."""
    _refuse_incomplete(entity, "center", "major_axis", "ratio")
    center = _finite(entity.dxf.center)
    long = _finite(entity.dxf.major_axis)
    (ratio,) = _numbers(entity.dxf.ratio)
    first, last = _numbers(entity.dxf.start_param, entity.dxf.end_param)
    if not (0.0 < abs(ratio) <= 1e6) or math.hypot(*long) <= 0.0:
        raise InputError(Problem("", f"has axes of {math.hypot(*long):g} and {ratio:g} times that"))
    _radius(math.hypot(*long))
    up = 1.0 if entity.dxf.extrusion.z >= 0.0 else -1.0
    short = (-long[1] * ratio * up, long[0] * ratio * up)
    sweep = (last - first) % math.tau or math.tau
    if abs(abs(ratio) - 1.0) <= ROUND:
        start, end = (
            (center[0] + math.cos(t) * long[0] + math.sin(t) * short[0],
             center[1] + math.cos(t) * long[1] + math.sin(t) * short[1])
            for t in (first, first + sweep)
        )  # fmt: skip
        turn: Turn = "ccw" if up * ratio > 0.0 else "cw"
        if sweep >= math.tau - 1e-12:
            end = start
        return _chains([Arc(start, end, center, turn)])
    return _chains([Curve(ellipse_points(center, long, short, first, sweep, fine))])


def spline_chains(entity: Any, fine: float) -> list[Chain]:
    """SPLINE by control points, or through its fit points where it has only those."""
    count = len(entity.control_points) or len(entity.fit_points)
    if count > MOST_CONTROL_POINTS:
        raise InputError(
            Problem("", f"has {count} control points", f"at most {MOST_CONTROL_POINTS}")
        )
    if count < 2:
        return []
    for point in (*entity.control_points, *entity.fit_points):
        _finite(point)
    tool = entity.construction_tool()
    control = np.array([(point[0], point[1]) for point in tool.control_points])
    knots, weights = np.array(tool.knots()), np.array(tool.weights() or [1.0] * len(control))
    degree = tool.order - 1
    sound = (
        1 <= degree <= LARGEST_DEGREE
        and len(knots) == len(control) + degree + 1 == len(weights) + degree + 1
        and bool(np.isfinite(knots).all() and (np.diff(knots) >= 0.0).all())
        and bool(np.isfinite(weights).all() and (weights > 0.0).all())
        and knots[degree] < knots[len(control)]
    )
    if not sound:
        told = f"degree {degree}, {len(control)} control points, {len(knots)} knots make no curve"
        raise InputError(Problem("", told, "rising knots, as many as control points + degree + 1"))
    return _chains([Curve(spline_points(control, knots, weights, degree, fine))])


SHAPES: dict[str, Callable[[Any, float], list[Chain]]] = {
    "LINE": line_chains,
    "ARC": arc_chains,
    "CIRCLE": circle_chains,
    "LWPOLYLINE": lwpolyline_chains,
    "POLYLINE": polyline_chains,
    "ELLIPSE": ellipse_chains,
    "SPLINE": spline_chains,
}
"""Which function reads which kind of entity."""


def _bulged(points: list[tuple[float, ...]], closed: bool) -> list[Chain]:
    """A chain through points (x, y, bulge of the piece that follows)."""
    if closed and points:
        points = [*points, (*points[0][:2], 0.0)]
    pieces: list[Piece] = []
    for (x0, y0, bulge), (x1, y1, _) in pairwise(points):
        start, end = (x0, y0), (x1, y1)
        chord = math.dist(start, end)
        if chord <= SAME_POINT:
            continue
        if abs(bulge) < 1e-9:
            pieces.append(Line(start, end))
            continue
        radius = chord * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
        if not radius <= FARTHEST:
            told = f"a bulge of {bulge:g} makes a radius of {radius:g}"
            raise InputError(Problem("", told, f"at most {FARTHEST:g}"))
        turn: Turn = "ccw" if bulge > 0.0 else "cw"
        pieces.append(Arc(start, end, center_of(start, end, bulge), turn))
    return _chains(pieces)


def _chains(pieces: Iterable[Piece]) -> list[Chain]:
    kept = tuple(piece for piece in pieces if piece.length > SAME_POINT)
    return [Chain(kept)] if kept else []


def _upright(entity: Any, chains: list[Chain], fine: float) -> list[Chain]:
    """Chains of an entity's own plane in the drawing's: as they are, mirrored, or tilted."""
    x, y, z = entity.dxf.extrusion
    if not all(math.isfinite(value) for value in (x, y, z)) or math.hypot(x, y, z) < 1e-12:
        raise InputError(Problem("", f"its extrusion ({x:g}, {y:g}, {z:g}) is no direction"))
    if math.hypot(x, y) <= 1e-9 * abs(z):
        return chains if z > 0.0 else [moved(chain, mirror()) for chain in chains]
    plane = entity.ocs()
    tilted = []
    for chain in chains:
        pieces: list[Piece] = []
        for piece in chain.pieces:
            seen = [plane.to_wcs((px, py, 0.0)) for px, py in points_of(piece, fine).tolist()]
            points = np.array([(point[0], point[1]) for point in seen])
            if float(np.ptp(points, axis=0).max()) > SAME_POINT:
                pieces.append(Curve(points))
        tilted += _chains(pieces)
    return tilted


def _refuse_incomplete(entity: Any, *words: str) -> None:
    """The DXF library takes zeros for what a broken file leaves out; we do not."""
    missing = [word for word in words if not entity.dxf.hasattr(word)]
    if missing:
        raise InputError(Problem("", f"lacks its {' and '.join(missing)}", "a whole entity"))


def _finite(vector: Any) -> Point:
    x, y = _numbers(vector[0], vector[1])
    return (x, y)


def _numbers(*values: Any) -> list[float]:
    numbers = [math.nan if value is None else float(value) for value in values]
    if not all(math.isfinite(number) and abs(number) <= 1e12 for number in numbers):
        listed = ", ".join(f"{number:g}" for number in numbers)
        raise InputError(Problem("", f"holds {listed}: not finite, or too large", "finite numbers"))
    return numbers


def _radius(value: Any) -> float:
    (radius,) = _numbers(value)
    if not 0.0 < radius <= FARTHEST:
        raise InputError(Problem("", f"a radius of {radius:g}", f"above 0, at most {FARTHEST:g}"))
    return radius

"""The edge of a bit as it really cuts: new, worn or ground.

A bit that is sharpened loses the same thickness everywhere, square to its outline: a core box
loses radius, a roundover gains it. (Common practice of the trade, from memory.)
"""

from __future__ import annotations

import math
from functools import lru_cache

from profilestack.bits.shapes.base import BitShape
from profilestack.errors import GeometryError, InputError, Problem
from profilestack.geometry.crossing import path_of
from profilestack.geometry.extent import box_of
from profilestack.geometry.offset import offset_path
from profilestack.geometry.path import SAME_POINT, Arc, Line, Path, Segment
from profilestack.geometry.trimming import beside_axis, until_height

CLOSE_ENOUGH = 1e-10
"""The measured diameter is met within this [mm]."""

MOST_TRIES = 200


@lru_cache(maxsize=4096)
def new_edge(shape: BitShape, cutting_length: float) -> Path:
    """The edge of a new bit: right half from the axis to ``cutting_length`` [mm], exact.

    Where the shape's formula ends below, the edge goes on straight up at the last radius; where
    it ends above, it is cut off.
    """
    return until_height(_led_up(shape.edge(), cutting_length), cutting_length)


@lru_cache(maxsize=4096)
def worn_edge(shape: BitShape, cutting_length: float, measured: float | None) -> Path:
    """The edge of a bit whose largest diameter was ``measured`` [mm], zeroed at its tip.

    The outline moves square to itself until the largest diameter over the edge is as measured:
    inward for a worn bit, outward for one that is over its nominal size. It is then trimmed at
    the axis and moved so that the lowest point is at h = 0 again; the cutting length is shorter
    by what the tip lost.

    Raises:
        InputError: no edge is left, or the bit falls apart, at that diameter.
    """
    edge = new_edge(shape, cutting_length)
    if measured is None:
        return edge
    full, wanted = largest_radius_of(edge), measured / 2.0
    if abs(full - wanted) <= CLOSE_ENOUGH:
        return edge
    moved = _solved(shape, cutting_length, full, wanted)
    lowest = box_of(moved).bottom
    return moved.moved(lambda point: (point[0], point[1] - lowest))


def largest_radius_of(edge: Path) -> float:
    """The largest radius of an edge [mm]."""
    return box_of(edge).right


def _solved(shape: BitShape, cutting_length: float, full: float, wanted: float) -> Path:
    """The moved edge whose largest radius is ``wanted``, by the false position method.

    Moving inward by d takes at least d from every radius, so the answer lies between 0 and
    full - wanted; where the largest radius is on an upright stretch it is that last value.
    """
    low, high = 0.0, full - wanted
    low_error, high_error = full - wanted, math.inf
    distance = high
    moved: Path | None = None
    for _ in range(MOST_TRIES):
        moved = _moved_edge(shape, cutting_length, distance)
        error = (largest_radius_of(moved) if moved else 0.0) - wanted
        if moved and abs(error) <= CLOSE_ENOUGH:
            return moved
        if (error > 0.0) == (low_error > 0.0):
            low, low_error = distance, error
            high_error = high_error / 2.0  # keeps the false position from creeping
        else:
            high, high_error = distance, error if moved else math.inf
            low_error = low_error / 2.0 if math.isfinite(high_error) else low_error
        if math.isfinite(high_error):
            distance = low + (high - low) * low_error / (low_error - high_error)
        else:
            distance = (low + high) / 2.0
    text = f"{2.0 * wanted:g} mm leaves no sound edge of this bit"
    raise InputError(Problem("measured", text, f"a diameter nearer to {2.0 * full:.3f} mm, as new"))


def _moved_edge(shape: BitShape, cutting_length: float, distance: float) -> Path | None:
    """The edge moved inward by ``distance`` [mm] (< 0: outward), not yet zeroed, or None."""
    edge = shape.edge()
    top = max(edge.end[1], cutting_length) + abs(distance) + 1.0
    whole = path_of([_other_side(edge.segments[0]), *_led_up(edge, top).segments])
    try:
        moved = offset_path(whole, distance, "round" if distance > 0.0 else "sharp")
        trimmed = until_height(beside_axis(moved), cutting_length)
    except GeometryError:
        return None
    return trimmed if trimmed.end[1] >= cutting_length - SAME_POINT and trimmed.steps else None


def _other_side(piece: Segment) -> Segment:
    """The first piece of an edge mirrored at the axis, leading to the axis."""
    start, end = (-piece.end[0], piece.end[1]), piece.start
    if isinstance(piece, Line):
        return Line(start, end)
    return Arc(start, end, (0.0 - piece.center[0], piece.center[1]), piece.turn)


def _led_up(edge: Path, height: float) -> Path:
    """The edge going on straight up at its last radius to ``height`` [mm], if it ends below."""
    if edge.end[1] >= height - SAME_POINT:
        return edge
    return edge.line((edge.end[0], height))

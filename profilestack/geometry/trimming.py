"""Paths cut off at a height or an axis, exactly."""

from __future__ import annotations

from itertools import pairwise

from profilestack.errors import GeometryError
from profilestack.geometry.crossing import (
    part_of,
    path_of,
    point_on,
    shares_at_level,
    shares_of_extremes,
)
from profilestack.geometry.path import SAME_POINT, Path, Segment


def until_height(path: Path, height: float) -> Path:
    """The path up to where it first rises above ``height`` [mm]; whole when it never does.

    Raises:
        GeometryError: the path starts above that height.
    """
    if path.start[1] > height + SAME_POINT:
        raise GeometryError(f"the path starts above the height {height:g} mm at which it ends")
    kept: list[Segment] = []
    for piece in path.segments:
        places = [0.0, *shares_of_extremes(piece, 1), 1.0]
        for begin, end in pairwise(places):
            if point_on(piece, end)[1] <= height + SAME_POINT:
                continue
            cut = [s for s in shares_at_level(piece, 1, height) if begin <= s <= end]
            share = cut[0] if cut else begin
            if share * piece.length > SAME_POINT:
                kept.append(part_of(piece, 0.0, share))
            return path_of(kept) if kept else Path(path.start)
        kept.append(piece)
    return path


def beside_axis(path: Path) -> Path:
    """The first stretch of a path at x > 0, from where it leaves the axis x = 0.

    Raises:
        GeometryError: no part of the path lies there.
    """
    kept: list[Segment] = []
    for piece in path.segments:
        places = [0.0, *shares_at_level(piece, 0, 0.0), 1.0]
        for begin, end in pairwise(places):
            if (end - begin) * piece.length <= SAME_POINT:
                continue
            if point_on(piece, (begin + end) / 2.0)[0] > 0.0:
                kept.append(part_of(piece, begin, end))
            elif kept:
                return _from_axis(kept)
    if not kept:
        raise GeometryError("no part of the path lies beside the axis")
    return _from_axis(kept)


def _from_axis(kept: list[Segment]) -> Path:
    """The path through the pieces, its start exactly on the axis where it was cut there."""
    path = path_of(kept)
    if abs(path.start[0]) > SAME_POINT:
        return path
    return Path((0.0, path.start[1]), path.steps)

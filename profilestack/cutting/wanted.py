"""The region that a target wants, inside a blank."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.nearest import Polyline, densified, polyline
from profilestack.errors import InputError, Problem
from profilestack.geometry.path import Path, Points
from profilestack.geometry.region import (
    EMPTY,
    crossing_of,
    polygon_from_points,
    region_from_points,
)
from profilestack.stack.blank import Blank
from profilestack.stack.target import Target

ON_OUTLINE = 0.01
"""A target may start and end so far from the blank's outline, or leave the blank by it [mm]."""

SAMPLES = 0.5
"""The target is looked at in steps of at most this length [mm], and at each of its points."""


@dataclass(frozen=True, slots=True, eq=False)
class Wanted:
    """A target laid into its blank, ready for comparing.

    ``samples`` are points along the target, shape (n, 2) [mm], every vertex among them, at
    ``places`` [mm] along it; ``on_outline`` tells which lie on the blank's outline.
    ``within_convex``: the flattened blank has no hollows, and no sample lies outside it.
    """

    path: Path
    points: Points
    region: BaseGeometry
    line: Polyline
    samples: Points
    places: np.ndarray
    on_outline: np.ndarray
    within_convex: bool

    @property
    def length(self) -> float:
        """Length of the flattened target [mm]."""
        return float(self.places[-1])


@lru_cache(maxsize=64)
def wanted_in(blank: Blank, target: Target, chord: float) -> Wanted:
    """Lay a target into a blank.

    Raises:
        InputError: the target has no extent, crosses itself, leaves the blank, or does not lead
            from the blank's outline to the blank's outline.
    """
    path = target.path()
    points = path.flatten(chord)
    _refuse_shape(path, points, target.closed)
    outline = blank.outline().flatten(min(chord, 1e-4))
    body = polygon_from_points(outline)
    _refuse_place(points, body)
    ring = shapely.get_coordinates(body.exterior)
    closed = points if target.closed else _closed_along(points, ring)
    region = region_from_points(closed) if len(closed) > 2 else EMPTY
    if region.area < 1e-6:
        raise InputError(
            Problem("target", "leaves no wood on its right hand", "the wood on the right hand")
        )
    samples = densified(points, SAMPLES)
    steps = np.hypot(*np.diff(samples, axis=0).T)
    places = np.concatenate(([0.0], np.cumsum(steps)))
    from_outline, _ = polyline([ring]).nearest(samples)
    # a sagitta of the outline's own flattening, and rounding
    on_outline = from_outline < 2e-4
    return Wanted(
        path,
        points,
        region,
        polyline([points]),
        samples,
        places,
        on_outline,
        _within_convex(polygon_from_points(blank.outline().flatten(chord)), samples),
    )


def _within_convex(body: BaseGeometry, samples: Points) -> bool:
    hull = shapely.convex_hull(body)
    return hull.area - body.area < 1e-9 * hull.area and bool(
        shapely.intersects_xy(body, samples).all()
    )


def _refuse_shape(path: Path, points: Points, closed: bool) -> None:
    problem = None
    if not path.steps or len(points) < 2 or float(np.ptp(points, axis=0).max()) < 1e-6:
        problem = ("is one point", "a path with some length")
    elif closed and not path.is_closed:
        problem = (f"is called closed but ends at {path.end}", f"an end at its start {path.start}")
    elif not closed and path.is_closed:
        problem = ("ends where it starts", "closed = true, or two places on the blank's outline")
    elif crossing := crossing_of(points):
        problem = (f"crosses itself near ({crossing[0]:.3f}, {crossing[1]:.3f}) mm", "a plain path")
    if problem:
        raise InputError(Problem("target", *problem))


def _refuse_place(points: Points, body: BaseGeometry) -> None:
    grown = shapely.buffer(body, ON_OUTLINE, join_style="mitre")
    shapely.prepare(grown)
    inside = shapely.covers(grown, shapely.points(points))
    if not inside.all():
        x, z = points[int(np.argmin(inside))]
        far = shapely.distance(body, shapely.points(points)).max()
        text = f"leaves the blank by {far:.3f} mm, first at ({x:.3f}, {z:.3f})"
        raise InputError(Problem("target", text, "a path inside the blank"))


def _closed_along(points: Points, ring: Points) -> Points:
    """The target closed along the blank's outline so that the wood is on its right hand.

    The wood's ring runs clockwise: along the target, then from its end along the outline
    (clockwise) back to its start. ``ring`` is the closed outline, counter-clockwise.
    """
    backward = ring[::-1]
    line = LineString(backward)
    total = line.length
    ends = [Point(points[0]), Point(points[-1])]
    for word, point, end in zip(("starts", "ends"), points[[0, -1]], ends, strict=True):
        off = line.distance(end)
        if off > ON_OUTLINE:
            text = f"{word} at ({point[0]:.3f}, {point[1]:.3f}), {off:.3f} mm inside the blank"
            raise InputError(Problem("target", text, "both ends on the blank's outline"))
    start, stop = (line.project(end) for end in ends)
    places = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(backward, axis=0).T))))[:-1]
    reach = (start - stop) % total
    ahead = (places - stop) % total
    between = np.flatnonzero((ahead > 1e-9) & (ahead < reach - 1e-9))
    order = between[np.argsort(ahead[between])]
    return np.concatenate((points, backward[order]))

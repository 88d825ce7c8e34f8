"""Points along free curves: cubic and quadratic ones, ellipses, splines. True to a chord error."""

from __future__ import annotations

import math

import numpy as np

from profilestack.geometry.path import Point, Points
from profilestack.targets.bulges import Numbers
from profilestack.targets.tracing import FINE

MOST_POINTS = 4000
"""One curve gives no more points."""

LARGEST = 1e12
"""No control point may lie further from the origin."""

FEWEST = 8
"""One span of a curve gives at least so many."""


def bezier_points(control: Points, fine: float = FINE) -> Points:
    """Points along a Bezier curve of degree 2 or 3 with the control points, shape (3 or 4, 2).

    A step h of the parameter leaves the curve by at most h^2/8 times the largest second
    derivative, which is d (d-1) times the largest second difference (computed).

    Raises:
        OverflowError: a point that is not finite or lies too far away.
    """
    if not float(np.abs(control).max()) <= LARGEST:
        raise OverflowError("a control point lies too far away")
    degree = len(control) - 1
    second = np.diff(control, n=2, axis=0)
    bend = degree * (degree - 1) * float(np.hypot(*second.T).max())
    count = min(MOST_POINTS, max(FEWEST, math.ceil(math.sqrt(bend / (8.0 * fine)))))
    t = np.linspace(0.0, 1.0, count + 1)[:, None]
    points = control[None, :, :].repeat(len(t), axis=0)
    for _ in range(degree):
        points = points[:, :-1] + t[:, :, None] * (points[:, 1:] - points[:, :-1])
    found: Points = points[:, 0]
    found[0], found[-1] = control[0], control[-1]
    return found


def ellipse_points(
    center: Point, long: Point, short: Point, first: float, sweep: float, fine: float = FINE
) -> Points:
    """Points center + cos(t) long + sin(t) short for t from ``first`` over ``sweep`` [rad]."""
    size = max(math.hypot(*long), math.hypot(*short))
    count = math.ceil(abs(sweep) * math.sqrt(size / (8.0 * fine)))
    count = min(MOST_POINTS, max(FEWEST, count))
    t = np.linspace(first, first + sweep, count + 1)[:, None]
    points: Points = np.array(center) + np.cos(t) * np.array(long) + np.sin(t) * np.array(short)
    if abs(sweep) >= math.tau - 1e-12:
        points[-1] = points[0]
    return points


def spline_points(
    control: Points, knots: Numbers, weights: Numbers, degree: int, fine: float = FINE
) -> Points:
    """Points along a rational B-spline; its knots are among their parameters.

    De Boor's recursion (C. de Boor, A Practical Guide to Splines, 1978, ch. X, from memory), all
    parameters at once, weights carried along as a third coordinate.
    """
    spans = np.unique(knots[degree : len(control) + 1])
    each = FEWEST
    while True:
        steps = np.arange(each) / each
        inner = (spans[:-1, None] + steps * np.diff(spans)[:, None]).ravel()
        points = _on_spline(np.append(inner, spans[-1]), control, knots, weights, degree)
        if len(points) * 2 > MOST_POINTS or _sag(points) <= fine:
            return points
        each *= 2


def _on_spline(
    t: Numbers, control: Points, knots: Numbers, weights: Numbers, degree: int
) -> Points:
    span = np.clip(np.searchsorted(knots, t, side="right") - 1, degree, len(control) - 1)
    whole = np.column_stack((control * weights[:, None], weights))
    d = whole[span[:, None] + np.arange(-degree, 1)]
    for level in range(1, degree + 1):
        for j in range(degree, level - 1, -1):
            low = knots[span + j - degree]
            width = knots[span + j + 1 - level] - low
            share = np.divide(t - low, width, out=np.zeros_like(t), where=width > 0.0)
            d[:, j] = d[:, j - 1] + share[:, None] * (d[:, j] - d[:, j - 1])
    found: Points = d[:, degree, :2] / d[:, degree, 2:]
    return found


def _sag(points: Points) -> float:
    """How far every second point lies from the line between its neighbours, at most, over 4.

    That is about how far the curve itself leaves the line between two points.
    """
    begin, middle, end = points[:-2], points[1:-1], points[2:]
    along = end - begin
    length = np.maximum(np.hypot(*along.T), 1e-300)
    away = middle - begin
    off = np.abs(along[:, 0] * away[:, 1] - along[:, 1] * away[:, 0]) / length
    # at a corner of the spline the middle point is the corner, not a place of a curve
    bends = np.abs((away * along).sum(axis=1)) < 0.9 * length * np.hypot(*away.T)
    off[bends] = 0.0
    return float(off.max(initial=0.0)) / 4.0

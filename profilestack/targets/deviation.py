"""How far a fitted path lies from what it was fitted to, both ways."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from profilestack.geometry.path import Path, Points
from profilestack.geometry.polyline import distances_to_row, filled
from profilestack.targets.bulges import (
    FLAT,
    BulgePath,
    Numbers,
    bulge_of,
    carrier_distances,
    center_of,
    distances_to,
    distances_to_piece,
    shares_along,
)
from profilestack.targets.rows import Corner

LOOK = 0.2
"""The path is looked at in steps of at most this [mm]."""

FINEST = 2e-4
"""Arcs are looked at as points of at most this chord error [mm]."""

ASTRAY = 10.0
"""A piece that is so many times longer than the whole chain is wide has gone astray."""

MOST_BOW = 0.5
"""Between measured points the path leaves the line through them by this at most [mm]."""

SEEN = 4000
"""More points are thinned while a fit is sought; in the end all are looked at."""


@dataclass(frozen=True, slots=True, eq=False)
class Yardstick:
    """What a path is measured against.

    ``points``, shape (n, 2) [mm], are the chain's; ``row`` is the line through them. Between
    measured points nothing is known: there the path may lie off that line by half the distance of
    two points, up to ``MOST_BOW``. Near blunt ``corners`` nothing is measured.
    """

    points: Points
    row: Points
    measured: bool
    corners: tuple[Corner, ...] = ()

    def thinned(self) -> Yardstick:
        """The same with fewer points."""
        if len(self.points) <= SEEN:
            return self
        kept = np.linspace(0, len(self.points) - 1, SEEN).round().astype(int)
        return Yardstick(self.points[kept], self.row, self.measured, self.corners)


@dataclass(frozen=True, slots=True)
class Deviation:
    """Largest distance from a point to the path, and from the path to the line through the points.

    The latter [mm] is less half the distance of two points, where they were measured.
    """

    points: float
    path: float

    @property
    def largest(self) -> float:
        """The larger of the two [mm]."""
        return max(self.points, self.path)


def deviation_of(joined: BulgePath, yardstick: Yardstick, enough: float = math.inf) -> Deviation:
    """How far path and points lie apart; a path beyond ``enough`` [mm] is not looked at further."""
    points = _off_corners(yardstick.points, yardstick.corners)
    there = float(distances_to(joined, points).max(initial=0.0))
    far = float(np.hypot(*np.ptp(yardstick.row, axis=0))) * ASTRAY
    lengths = joined.chords() * np.sqrt(1.0 + joined.bulges**2) * (1.0 + np.abs(joined.bulges))
    if not (there <= enough and float(lengths.max()) <= far):
        return Deviation(there, math.inf)
    walked = [
        _walked(BulgePath(joined.joints[k : k + 2], joined.bulges[k : k + 1]))
        for k in range(joined.count)
    ]
    seen = _off_corners(np.concatenate(walked), yardstick.corners)
    back = float(distances_to_row(seen, yardstick.row).max(initial=0.0))
    bow = _bow(yardstick.row) if yardstick.measured else 0.0
    return Deviation(there, max(0.0, back - bow))


def _walked(single: BulgePath) -> Points:
    """Points on one piece, at most ``LOOK`` apart [mm]."""
    bulge, chord = float(single.bulges[0]), float(single.chords()[0])
    if abs(bulge) * chord / 2.0 <= FLAT:
        return filled(single.joints, LOOK)
    begin, end = ((float(x), float(z)) for x, z in single.joints)
    x, z = center_of(begin, end, bulge)
    radius = chord * (1.0 + bulge * bulge) / (4.0 * abs(bulge))
    sweep = 4.0 * math.atan(bulge)
    # so far apart, points leave their arc by no more than FINEST
    step = min(LOOK, math.sqrt(8.0 * radius * FINEST))
    count = max(1, math.ceil(abs(sweep) * radius / step))
    angles = math.atan2(begin[1] - z, begin[0] - x) + sweep * np.arange(count + 1) / count
    walked: Points = radius * np.column_stack((np.cos(angles), np.sin(angles)))
    walked += np.array((x, z))
    return walked


def _bow(row: Points) -> float:
    """How far a path may lead away from the line through measured points, between two of them [mm].

    Half their usual distance: a square corner between two points does so. But no more than
    ``MOST_BOW``: any three points lie on an arc, and far apart they say nothing for it.
    """
    steps = np.hypot(*np.diff(row, axis=0).T)
    return min(float(np.quantile(steps, 0.95)) / 2.0, MOST_BOW)


def _off_corners(points: Points, corners: tuple[Corner, ...]) -> Points:
    kept = np.ones(len(points), dtype=bool)
    for corner in corners:
        if corner.blunt > 0.0:
            # the neighbouring points are up to this far, and the path is led on between them
            kept &= np.hypot(*(points - np.array(corner.at)).T) >= 1.5 * corner.blunt
    return points[kept]


def signed_along(path: Path, points: Points) -> tuple[Numbers, Numbers]:
    """For each point, how far along a path it lies, and how far to the left of it [mm].

    With the wood at the right of the path, a point above 0 stands proud of it.
    """
    best = np.full(len(points), np.inf)
    places, signs = np.zeros(len(points)), np.ones(len(points))
    begun = 0.0
    for piece in path.segments:
        bulge = bulge_of(piece)
        begin, end = np.array(piece.start), np.array(piece.end)
        off = distances_to_piece(points, begin, end, bulge)
        nearer = off < best
        best[nearer] = off[nearer]
        shares = np.clip(shares_along(points[nearer], piece.start, piece.end, bulge), 0.0, 1.0)
        places[nearer] = begun + shares * piece.length
        bulges = np.full(int(nearer.sum()), bulge)
        right = carrier_distances(points[nearer], begin, end, bulges)
        signs[nearer] = np.where(right > 0.0, -1.0, 1.0)
        begun += piece.length
    return places, signs * best

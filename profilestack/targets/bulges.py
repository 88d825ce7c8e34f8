"""Lines and arcs by their joints and bulges: the form in which a path is fitted.

The bulge of an arc is the tangent of a quarter of its sweep, positive counter-clockwise, 0 for a
line; the arc's height over its chord c is bulge x c / 2. Joints move freely in this form: whatever
they do, the pieces stay joined.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from profilestack.geometry.path import SAME_POINT, Arc, Path, Point, Points, Segment

Numbers = npt.NDArray[np.float64]

FLAT = 1e-7
"""An arc no higher than this over its chord is a line [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class BulgePath:
    """Joints, shape (m + 1, 2) [mm], and a bulge for each of the m pieces between them."""

    joints: Points
    bulges: Numbers

    @property
    def count(self) -> int:
        """How many pieces."""
        return len(self.bulges)

    @property
    def is_closed(self) -> bool:
        """Whether it ends where it starts."""
        return math.dist(self.joints[0], self.joints[-1]) <= SAME_POINT

    def chords(self) -> Numbers:
        """The length of each piece's chord [mm]."""
        steps: Numbers = np.hypot(*np.diff(self.joints, axis=0).T)
        return steps

    def headings(self) -> tuple[Numbers, Numbers]:
        """Directions of travel where each piece starts and where it ends [rad]."""
        steps = np.diff(self.joints, axis=0)
        along = np.arctan2(steps[:, 1], steps[:, 0])
        half = 2.0 * np.arctan(self.bulges)
        return along - half, along + half

    def path(self) -> Path:
        """The exact path."""
        joints = [(float(x), float(z)) for x, z in self.joints]
        path = Path(joints[0])
        for begin, end, bulge in zip(joints, joints[1:], self.bulges.tolist(), strict=False):
            if abs(bulge) * math.dist(begin, end) / 2.0 <= FLAT:
                path = path.line(end)
            else:
                path = path.arc(end, center_of(begin, end, bulge), "ccw" if bulge > 0.0 else "cw")
        return path


def center_of(begin: Point, end: Point, bulge: float) -> Point:
    """The centre of the arc with that bulge [mm]: (1 - b^2) / (4 b) chords left of the middle."""
    share = (1.0 - bulge * bulge) / (4.0 * bulge)
    return (
        (begin[0] + end[0]) / 2.0 - share * (end[1] - begin[1]),
        (begin[1] + end[1]) / 2.0 + share * (end[0] - begin[0]),
    )


def bulge_of(piece: Segment) -> float:
    """The bulge of a line or of an arc that is not a full turn."""
    return math.tan(piece.sweep / 4.0) if isinstance(piece, Arc) else 0.0


def tidied(path: Path, digits: int) -> Path:
    """The path with its points rounded to ``digits`` decimals of a mm; arcs keep their sweep.

    Fitting and turning leave digits that mean nothing and nobody wants to read in a file.
    """
    points = [path.start, *(step.to for step in path.steps)]
    bulges = np.array([bulge_of(piece) for piece in path.segments])
    return BulgePath(np.round(np.array(points), digits) + 0.0, bulges).path()


def kinks(joined: BulgePath) -> Numbers:
    """How far the direction jumps at each joint [rad], -pi to pi, left positive; shape (m + 1,).

    0 at the ends of an open path; at those of a closed one the jump of its closing joint.
    """
    begins, ends = joined.headings()
    jumps = np.zeros(joined.count + 1)
    jumps[1:-1] = begins[1:] - ends[:-1]
    if joined.is_closed:
        jumps[0] = jumps[-1] = begins[0] - ends[-1]
    turned: Numbers = (jumps + math.pi) % (2.0 * math.pi) - math.pi
    return turned


def carrier_distances(points: Points, begins: Points, ends: Points, bulges: Numbers) -> Numbers:
    """Signed distances of points to the whole lines or circles under pieces [mm], right positive.

    All arguments have one row for each point (or one for all). With u along the chord c and v to
    its left, both from its middle, g = u^2 + v^2 - c^2/4 and height s, the circle is
    s g + (s^2 - c^2/4) v = 0; f, the left side over s^2 + c^2/4, is the distance to first order,
    and the exact one is 2 f / (1 + sqrt(1 + 2 k f)) with the curvature k (computed). It stays
    smooth where the arc becomes a line.
    """
    steps = ends - begins
    chords = np.hypot(steps[..., 0], steps[..., 1])
    ux, uz = steps[..., 0] / chords, steps[..., 1] / chords
    away = points - (begins + ends) / 2.0
    u = away[..., 0] * ux + away[..., 1] * uz
    v = away[..., 1] * ux - away[..., 0] * uz
    quarter = chords * chords / 4.0
    height = bulges * chords / 2.0
    whole = height * height + quarter
    first_order = (height * (u * u + v * v - quarter) + (height * height - quarter) * v) / whole
    curvature = 2.0 * height / whole
    root = np.sqrt(np.maximum(0.0, 1.0 + 2.0 * curvature * first_order))
    exact: Numbers = 2.0 * first_order / (1.0 + root)
    return exact


def shares_along(points: Points, begin: Point, end: Point, bulge: float) -> Numbers:
    """Where the feet of points lie along a piece: 0 at its start, 1 at its end, shape (n,)."""
    ax, az = begin
    bx, bz = end
    if bulge == 0.0:
        along = np.array((bx - ax, bz - az))
        shares: Numbers = ((points - np.array(begin)) @ along) / float(along @ along)
        return shares
    x, z = center_of(begin, end, bulge)
    sweep = 4.0 * math.atan(bulge)
    first = math.atan2(az - z, ax - x)
    angles = np.arctan2(points[:, 1] - z, points[:, 0] - x) - first
    # seen from the middle of the arc, so that the jump of the angle lies opposite to it
    middle = sweep / 2.0
    angles = (angles - middle + math.pi) % (2.0 * math.pi) - math.pi + middle
    turned: Numbers = angles / sweep
    return turned


def distances_to(joined: BulgePath, points: Points) -> Numbers:
    """From each point to the nearest point of the path [mm], shape (n,)."""
    nearest = np.full(len(points), np.inf)
    for k in range(joined.count):
        begin, end = joined.joints[k], joined.joints[k + 1]
        nearest = np.minimum(nearest, distances_to_piece(points, begin, end, joined.bulges[k]))
    return nearest


def distances_to_piece(points: Points, begin: Points, end: Points, bulge: float) -> Numbers:
    """From each point to the nearest point of one piece, its ends included [mm]."""
    off: Numbers = np.minimum(
        np.hypot(*(points - begin).T), np.hypot(*(points - end).T)
    )  # fmt: skip
    if math.dist(begin, end) <= SAME_POINT:
        return off
    a, b = (float(begin[0]), float(begin[1])), (float(end[0]), float(end[1]))
    shares = shares_along(points, a, b, float(bulge))
    beside = (shares >= 0.0) & (shares <= 1.0)
    if beside.any():
        bulges = np.full(int(beside.sum()), bulge)
        off[beside] = np.abs(carrier_distances(points[beside], begin, end, bulges))
    return off

"""Distances from many points to a polyline, fast enough for a drag under the hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from profilestack.geometry.path import Points

if TYPE_CHECKING:
    from scipy.spatial import cKDTree

Numbers = npt.NDArray[np.float64]
Indices = npt.NDArray[np.intp]

SPACING = 0.25
"""Long pieces are cut to this length [mm], so that the nearest vertex is near the nearest piece."""

NEIGHBOURS = (3, 12, 100)
"""So many nearest vertices are found, and the pieces at all but the last are looked at; more only
for points that might have a nearer piece between two vertices further off. In the end all are."""

APART = 1e4
"""Places of one chain begin so far after the end of the chain before it [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Polyline:
    """Chains of points with a search tree over them.

    ``vertices`` has shape (n, 2) [mm]; ``place`` is the length along the chains at each [mm],
    with a gap of 10 m from one chain to the next; ``along`` (n, 2) leads from each vertex to the
    next one [mm], zero at a chain's end; ``before`` is the index of the vertex before it, its own
    at a chain's start; ``inverse2`` is one over the square of each piece's length, 0 at a chain's
    end; ``longest`` is the length of the longest piece [mm].
    """

    vertices: Points
    place: Numbers
    along: Points
    before: Indices
    inverse2: Numbers
    longest: float
    tree: cKDTree | None

    def nearest(self, points: Points) -> tuple[Numbers, Numbers]:
        """Distance [mm] and place along the chains [mm] of the nearest point, each shape (m,)."""
        if self.tree is None or len(points) == 0:
            return np.full(len(points), np.inf), np.zeros(len(points))
        total = len(self.vertices)
        distance2, place, least2 = self._nearest_of(points, min(NEIGHBOURS[0], total))
        for count in (*NEIGHBOURS[1:], total):
            doubtful = distance2 > least2
            if not doubtful.any():
                break
            found = self._nearest_of(points[doubtful], min(count, total))
            distance2[doubtful], place[doubtful], least2[doubtful] = found
        return np.sqrt(distance2), place

    def _nearest_of(self, points: Points, count: int) -> tuple[Numbers, Numbers, Numbers]:
        """Squared distance and place, looking at ``count`` nearest vertices (2 at least).

        And what bounds the squared distance of the pieces not looked at.
        """
        assert self.tree is not None
        queried = self.tree.query(points, k=count)
        far, found = np.asarray(queried[0]), np.asarray(queried[1])
        if count == len(self.vertices):
            least2 = np.full(len(points), np.inf)
        else:
            # a piece with neither end among those looked at keeps at least so far away
            least2 = far[:, -1] * far[:, -1] - self.longest * self.longest / 4.0
            np.maximum(least2, 1e-24, out=least2)
            found = found[:, :-1]  # the last one is the nearest of those not looked at
        off = far[:, 0] > 1e-12  # the others lie on a vertex
        if off.all():
            return (*self._beside(points, found), least2)
        distance2, place = np.zeros(len(points)), self.place.take(found[:, 0])
        if off.any():
            distance2[off], place[off] = self._beside(points[off], found[off])
        return distance2, place, least2

    def _beside(self, points: Points, found: Indices) -> tuple[Numbers, Numbers]:
        """Squared distance and place on the pieces that meet at the vertices found (m, k)."""
        starts = np.concatenate((found, self.before.take(found)), axis=1)
        along_x, along_z = self.along[:, 0].take(starts), self.along[:, 1].take(starts)
        to_x = points[:, :1] - self.vertices[:, 0].take(starts)
        to_z = points[:, 1:] - self.vertices[:, 1].take(starts)
        share = (to_x * along_x + to_z * along_z) * self.inverse2.take(starts)
        np.minimum(np.maximum(share, 0.0, out=share), 1.0, out=share)
        to_x -= share * along_x
        to_z -= share * along_z
        distance2 = to_x * to_x + to_z * to_z
        best = distance2.argmin(axis=1)
        best += np.arange(0, starts.size, starts.shape[1])
        start, share = starts.take(best), share.take(best)
        run = share * np.hypot(along_x.take(best), along_z.take(best))
        return distance2.take(best), self.place.take(start) + run

    def at(self, places: Numbers) -> tuple[Numbers, Numbers]:
        """Where places along the chains lie: x and z, each shape (m,) [mm]."""
        x, z = self.vertices.T
        return np.interp(places, self.place, x), np.interp(places, self.place, z)


def polyline(chains: Sequence[Points], spacing: float = SPACING) -> Polyline:
    """A searchable polyline of one or more chains, each shape (n, 2) [mm]; closed ones repeat."""
    from scipy.spatial import cKDTree  # heavy: only where distances are asked for

    chains = [chain for chain in chains if len(chain) > 1]
    if not chains:
        none = np.zeros((0, 2))
        return Polyline(none, none[:, 0], none, np.zeros(0, dtype=np.intp), none[:, 0], 0.0, None)
    points = np.concatenate(chains)
    joints = np.cumsum([len(chain) for chain in chains]) - 1
    steps = points[1:] - points[:-1]
    counts = counts_of(steps, spacing)
    counts[joints[:-1]] = 1  # from one chain to the next nothing leads
    vertices = np.concatenate((divided(points[:-1], steps, counts), points[-1:]))
    ends = np.append(np.cumsum(counts)[joints[:-1]] - 1, len(vertices) - 1)
    before = np.arange(len(vertices)) - 1
    starts = np.append(0, ends[:-1] + 1)
    before[starts] = starts
    along = np.empty_like(vertices)
    np.subtract(vertices[1:], vertices[:-1], out=along[:-1])
    along[ends] = 0.0
    lengths = np.hypot(along[:, 0], along[:, 1])
    longest = float(lengths.max())
    inverse2 = np.where(lengths > 0.0, 1.0 / np.maximum(lengths, 1e-150) ** 2, 0.0)
    lengths[ends] = APART
    place = np.empty(len(vertices))
    place[0] = 0.0
    np.cumsum(lengths[:-1], out=place[1:])
    return Polyline(vertices, place, along, before, inverse2, longest, cKDTree(vertices))


def densified(chain: Points, spacing: float) -> Points:
    """The chain with no piece longer than ``spacing`` [mm]; the given points all stay."""
    steps = chain[1:] - chain[:-1]
    counts = counts_of(steps, spacing)
    if counts.max(initial=1) == 1:
        return chain
    return np.concatenate((divided(chain[:-1], steps, counts), chain[-1:]))


def counts_of(steps: Points, spacing: float) -> Indices:
    """Into how many equal parts steps (n, 2) are divided, none longer than ``spacing`` [mm]."""
    counts = np.ceil(np.hypot(steps[:, 0], steps[:, 1]) / spacing).astype(np.intp)
    return np.maximum(counts, 1, out=counts)


def divided(points: Points, steps: Points, counts: Indices) -> Points:
    """Each point, and after it those that divide the step from it."""
    owner = np.repeat(np.arange(len(steps)), counts)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    share = (np.arange(len(owner)) - first) / counts[owner]
    return points[owner] + share[:, None] * steps[owner]

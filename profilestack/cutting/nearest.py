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
        count = min(NEIGHBOURS[0], len(self.vertices))
        distance, place, least = self._nearest_of(points, count)
        for count in (*NEIGHBOURS[1:], len(self.vertices)):
            doubtful = np.flatnonzero(distance > least)
            if len(doubtful) == 0:
                break
            count = min(count, len(self.vertices))
            found = self._nearest_of(points[doubtful], count)
            distance[doubtful], place[doubtful], least[doubtful] = found
        return distance, place

    def _nearest_of(self, points: Points, count: int) -> tuple[Numbers, Numbers, Numbers]:
        """Distance and place, looking at ``count`` nearest vertices, and what bounds the others."""
        assert self.tree is not None
        queried = self.tree.query(points, k=count)
        far, found = (np.reshape(each, (-1, count)) for each in queried)
        if count == len(self.vertices):
            least = np.full(len(points), np.inf)
        else:
            # a piece with neither end among those looked at keeps at least so far away
            least = np.sqrt(np.maximum(far[:, -1] ** 2 - (self.longest / 2.0) ** 2, 1e-24))
            found = found[:, :-1]  # the last one is the nearest of those not looked at
        distance, place = far[:, 0].copy(), self.place[found[:, 0]]
        off = np.flatnonzero(distance > 1e-12)  # the others lie on a vertex
        if len(off) > 0:
            distance[off], place[off] = self._beside(points[off], found[off])
        return distance, place, least

    def _beside(self, points: Points, found: Indices) -> tuple[Numbers, Numbers]:
        """Distance and place on the pieces that begin or end at the vertices found (m, k)."""
        starts = np.concatenate((found, self.before.take(found)), axis=1)
        along_x, along_z = self.along[:, 0].take(starts), self.along[:, 1].take(starts)
        to_x = points[:, :1] - self.vertices[:, 0].take(starts)
        to_z = points[:, 1:] - self.vertices[:, 1].take(starts)
        share = (to_x * along_x + to_z * along_z) * self.inverse2.take(starts)
        np.clip(share, 0.0, 1.0, out=share)
        to_x -= share * along_x
        to_z -= share * along_z
        distance2 = to_x * to_x + to_z * to_z
        best = np.argmin(distance2, axis=1) + np.arange(len(points)) * starts.shape[1]
        start, share = starts.take(best), share.take(best)
        run = share * np.hypot(along_x.take(best), along_z.take(best))
        return np.sqrt(distance2.take(best)), self.place.take(start) + run

    def at(self, places: Numbers) -> tuple[Numbers, Numbers]:
        """Where places along the chains lie: x and z, each shape (m,) [mm]."""
        x, z = self.vertices.T
        return np.interp(places, self.place, x), np.interp(places, self.place, z)


def polyline(chains: Sequence[Points], spacing: float = SPACING) -> Polyline:
    """A searchable polyline of one or more chains, each shape (n, 2) [mm]; closed ones repeat."""
    from scipy.spatial import cKDTree  # heavy: only where distances are asked for

    dense = [densified(chain, spacing) for chain in chains if len(chain) > 1]
    if not dense:
        none = np.zeros((0, 2))
        return Polyline(none, none[:, 0], none, np.zeros(0, dtype=np.intp), none[:, 0], 0.0, None)
    vertices = np.concatenate(dense)
    before = np.arange(len(vertices)) - 1
    along = np.diff(vertices, axis=0, append=vertices[-1:])
    ends = np.cumsum([len(chain) for chain in dense])
    starts = ends - [len(chain) for chain in dense]
    before[starts] = starts
    along[ends - 1] = 0.0
    steps = np.hypot(along[:, 0], along[:, 1])
    longest = float(steps.max())
    inverse2 = np.where(steps > 0.0, 1.0 / np.maximum(steps, 1e-150) ** 2, 0.0)
    steps[ends - 1] = APART
    place = np.concatenate(([0.0], np.cumsum(steps)[:-1]))
    return Polyline(vertices, place, along, before, inverse2, longest, cKDTree(vertices))


def densified(chain: Points, spacing: float) -> Points:
    """The chain with no piece longer than ``spacing`` [mm]; the given points all stay."""
    along = np.diff(chain, axis=0)
    counts = np.maximum(1, np.ceil(np.hypot(along[:, 0], along[:, 1]) / spacing).astype(np.intp))
    if counts.max(initial=1) == 1:
        return chain
    owner = np.repeat(np.arange(len(along)), counts)
    first = np.repeat(np.cumsum(counts) - counts, counts)
    share = (np.arange(len(owner)) - first) / counts[owner]
    inner = chain[owner] + share[:, None] * along[owner]
    return np.concatenate((inner, chain[-1:]))

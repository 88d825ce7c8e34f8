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

SPACING = 0.5
"""Long pieces are cut to this length [mm], so that the nearest vertex is near the nearest piece."""

NEIGHBOURS = 2
"""So many nearest vertices are looked at: enough where two branches of a polyline come close."""


@dataclass(frozen=True, slots=True, eq=False)
class Polyline:
    """Chains of points with a search tree over them.

    ``vertices`` has shape (n, 2) [mm]; ``place`` is the length along the chain at each [mm];
    ``along`` (n, 2) leads from each vertex to the next one [mm], zero at a chain's end; ``before``
    is the index of the vertex before it, its own at a chain's start.
    """

    vertices: Points
    place: Numbers
    along: Points
    before: npt.NDArray[np.intp]
    tree: cKDTree | None

    def nearest(self, points: Points) -> tuple[Numbers, Numbers]:
        """Distance [mm] and place along the chain [mm] of the nearest point, each shape (m,).

        The distance is to the pieces around the nearest vertices: never too small.
        """
        if self.tree is None or len(points) == 0:
            return np.full(len(points), np.inf), np.zeros(len(points))
        count = min(NEIGHBOURS, len(self.vertices))
        far, found = self.tree.query(points, k=count)
        far, found = far.reshape(len(points), count), found.reshape(len(points), count)
        distance, place = far[:, 0].copy(), self.place[found[:, 0]]
        off = np.flatnonzero(distance > 1e-12)  # the others lie on a vertex
        if len(off) == 0:
            return distance, place
        found = found[off]
        starts = np.concatenate((found, self.before[found]), axis=1)
        first, along = self.vertices[starts], self.along[starts]
        along_x, along_z = along[..., 0], along[..., 1]
        to_x = points[off, 0][:, None] - first[..., 0]
        to_z = points[off, 1][:, None] - first[..., 1]
        length2 = along_x * along_x + along_z * along_z
        share = (to_x * along_x + to_z * along_z) / np.where(length2 > 0.0, length2, 1.0)
        np.clip(share, 0.0, 1.0, out=share)
        to_x -= share * along_x
        to_z -= share * along_z
        distance2 = to_x * to_x + to_z * to_z
        rows = np.arange(len(off))
        best = np.argmin(distance2, axis=1)
        distance[off] = np.sqrt(distance2[rows, best])
        run = share[rows, best] * np.sqrt(length2[rows, best])
        place[off] = self.place[starts[rows, best]] + run
        return distance, place


def polyline(chains: Sequence[Points], spacing: float = SPACING) -> Polyline:
    """A searchable polyline of one or more chains, each shape (n, 2) [mm]; closed ones repeat."""
    from scipy.spatial import cKDTree  # heavy: only where distances are asked for

    dense = [densified(chain, spacing) for chain in chains if len(chain) > 1]
    if not dense:
        none = np.zeros((0, 2))
        return Polyline(none, none[:, 0], none, np.zeros(0, dtype=np.intp), None)
    vertices = np.concatenate(dense)
    before = np.arange(len(vertices)) - 1
    along = np.diff(vertices, axis=0, append=vertices[-1:])
    places, at = [], 0
    for chain in dense:
        end = at + len(chain)
        before[at] = at
        along[end - 1] = 0.0
        steps = np.hypot(along[at : end - 1, 0], along[at : end - 1, 1])
        places.append(np.concatenate(([0.0], np.cumsum(steps))))
        at = end
    return Polyline(vertices, np.concatenate(places), along, before, cKDTree(vertices))


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

"""Distances from many points to a polyline, fast enough for a drag under the hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from profilestack.geometry.path import Points

Numbers = npt.NDArray[np.float64]

SPACING = 0.5
"""Long pieces are cut to this length [mm], so that the nearest vertex is near the nearest piece."""

NEIGHBOURS = 3
"""So many nearest vertices are looked at: enough where two branches of a polyline come close."""


@dataclass(frozen=True, slots=True, eq=False)
class Polyline:
    """Chains of points with a search tree over them.

    ``vertices`` has shape (n, 2) [mm]; ``place`` is the length along the chain at each [mm].
    """

    vertices: Points
    place: Numbers
    before: npt.NDArray[np.intp]
    after: npt.NDArray[np.intp]
    tree: object

    def nearest(self, points: Points) -> tuple[Numbers, Numbers]:
        """Distance [mm] and place along the chain [mm] of the nearest point, each shape (m,).

        The distance is to the pieces around the nearest vertices: never too small.
        """
        if len(points) == 0:
            return np.zeros(0), np.zeros(0)
        if len(self.vertices) == 0:
            return np.full(len(points), np.inf), np.zeros(len(points))
        count = min(NEIGHBOURS, len(self.vertices))
        _, found = self.tree.query(points, k=count)  # type: ignore[attr-defined]
        found = np.asarray(found).reshape(len(points), count)
        starts = np.concatenate((found, self.before[found]), axis=1)
        ends = np.concatenate((self.after[found], found), axis=1)
        first = self.vertices[starts]
        along = self.vertices[ends] - first
        to_point = points[:, None, :] - first
        length2 = np.einsum("ijk,ijk->ij", along, along)
        share = np.einsum("ijk,ijk->ij", to_point, along) / np.where(length2 > 0.0, length2, 1.0)
        share = np.clip(share, 0.0, 1.0)
        off = to_point - share[..., None] * along
        distance2 = np.einsum("ijk,ijk->ij", off, off)
        best = np.argmin(distance2, axis=1)
        rows = np.arange(len(points))
        chosen = starts[rows, best]
        place = self.place[chosen] + share[rows, best] * np.sqrt(length2[rows, best])
        return np.sqrt(distance2[rows, best]), place


def polyline(chains: Sequence[Points], spacing: float = SPACING) -> Polyline:
    """A searchable polyline of one or more chains, each shape (n, 2) [mm]; closed ones repeat."""
    from scipy.spatial import cKDTree  # heavy: only where distances are asked for

    dense = [densified(chain, spacing) for chain in chains if len(chain) > 1]
    if not dense:
        none = np.zeros(0, dtype=np.intp)
        return Polyline(np.zeros((0, 2)), np.zeros(0), none, none, None)
    vertices = np.concatenate(dense)
    index = np.arange(len(vertices))
    before, after = index - 1, index + 1
    places, at = [], 0
    for chain in dense:
        steps = np.hypot(*np.diff(chain, axis=0).T)
        places.append(np.concatenate(([0.0], np.cumsum(steps))))
        before[at] = at
        at += len(chain)
        after[at - 1] = at - 1
    return Polyline(vertices, np.concatenate(places), before, after, cKDTree(vertices))


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

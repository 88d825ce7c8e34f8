"""The largest distances between a region and a line, and where they are.

Samples find the neighbourhood, closer and closer samples find the place, and the figure given is
the exact distance there (to the flattened shapes).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.nearest import Numbers, Polyline, densified
from profilestack.cutting.wanted import Wanted
from profilestack.geometry.path import Point, Points
from profilestack.geometry.region import pieces_of

_SPACING = 0.25
_ROUNDS = 3
_SHARES = np.linspace(0.0, 1.0, 33)
_CANDIDATES = 4

THICK = 0.2
"""Only pieces thicker than this on average [mm] can hide a farthest point in their inside."""


@dataclass(frozen=True, slots=True)
class Farthest:
    """A largest distance [mm] and its place [mm]; 0 and None when there is nothing."""

    distance: float
    at: Point | None


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """The rings of a region, sampled, with their distances to a line.

    ``pieces`` are the polygons; ``chains`` their rings, each (n, 2) [mm] without the closing
    point; ``owners`` the piece of each chain; ``far`` and ``places`` belong to all the chains'
    points in a row: distance to the line and length along it [mm].
    """

    pieces: tuple[Polygon, ...]
    chains: tuple[Points, ...]
    owners: tuple[int, ...]
    far: Numbers
    places: Numbers

    def parts(self) -> Iterator[tuple[Points, Numbers, Numbers]]:
        """Each ring's points, distances and places."""
        at = 0
        for chain in self.chains:
            end = at + len(chain)
            yield chain, self.far[at:end], self.places[at:end]
            at = end


def sample_edges(region: BaseGeometry, line: Polyline) -> Edges:
    """Sample the rings of a region in steps of at most 0.25 mm; crumbs below 1e-9 mm2 are left."""
    pieces = tuple(piece for piece in pieces_of(region) if piece.area > 1e-9)
    chains, owners = [], []
    for index, piece in enumerate(pieces):
        for ring in (piece.exterior, *piece.interiors):
            chains.append(densified(shapely.get_coordinates(ring), _SPACING)[:-1])
            owners.append(index)
    points = np.concatenate(chains) if chains else np.zeros((0, 2))
    far, places = line.nearest(points)
    return Edges(pieces, tuple(chains), tuple(owners), far, places)


def farthest_in(edges: Edges, line: Polyline, ripple: float) -> Farthest:
    """The point of a region that is farthest from a line.

    It lies on the region's edge, except where the line bends round the region; so the edges are
    searched and then the inside of every thick piece. Below ``ripple`` [mm], the flattening's own
    error, the sample is good enough.
    """
    if not edges.pieces:
        return Farthest(0.0, None)
    starts = np.concatenate(edges.chains)
    top = int(np.argmax(edges.far))
    best, at = float(edges.far[top]), starts[top]
    if best > ripple:
        ends = np.concatenate([np.roll(chain, -1, axis=0) for chain in edges.chains])
        best, at = _along_edges(starts, ends, edges.far, line)
    for piece in edges.pieces:
        if piece.area > 1.0 and 2.0 * piece.area / piece.length > THICK:
            inner, place = _inside(piece, line, best)
            if inner > best:
                best, at = inner, place
    return Farthest(best, (float(at[0]), float(at[1])))


def _along_edges(
    starts: Points, ends: Points, far: Numbers, line: Polyline
) -> tuple[float, Points]:
    """The farthest point of many short edges: the best few are looked at more and more closely."""
    top = int(np.argmax(far))
    best, at = float(far[top]), starts[top]
    # an edge can rise above its start by its own length at most
    reach = far + np.hypot(*(ends - starts).T)
    chosen = np.argsort(-reach)[:_CANDIDATES]
    low, high = starts[chosen], ends[chosen]
    rows = np.arange(len(low))
    last = len(_SHARES) - 1
    for _ in range(_ROUNDS):
        grid = low[:, None, :] + _SHARES[None, :, None] * (high - low)[:, None, :]
        values, _ = line.nearest(grid.reshape(-1, 2))
        values = values.reshape(len(low), -1)
        peak = np.argmax(values, axis=1)
        top = int(np.argmax(values[rows, peak]))
        if values[top, peak[top]] > best:
            best, at = float(values[top, peak[top]]), grid[top, peak[top]]
        low = grid[rows, np.maximum(peak - 1, 0)]
        high = grid[rows, np.minimum(peak + 1, last)]
    return best, at


def _inside(piece: BaseGeometry, line: Polyline, floor: float) -> tuple[float, Points]:
    """The farthest point inside a piece, looked for on finer and finer grids."""
    low_x, low_z, high_x, high_z = piece.bounds
    middle = np.array(((low_x + high_x) / 2.0, (low_z + high_z) / 2.0))
    half = np.array(((high_x - low_x) / 2.0, (high_z - low_z) / 2.0))
    best, at = floor, middle
    shapely.prepare(piece)
    for _ in range(12):
        shares = np.linspace(-1.0, 1.0, 9)
        grid = np.stack(np.meshgrid(shares, shares), axis=-1).reshape(-1, 2) * half + middle
        inside = grid[shapely.contains_xy(piece, grid)]
        if len(inside) == 0:
            break
        far, _ = line.nearest(inside)
        top = int(np.argmax(far))
        middle = inside[top]
        if far[top] > best:
            best, at = float(far[top]), inside[top]
        elif far[top] + float(np.hypot(*half)) / 4.0 < best:
            break  # no point between these can be farther
        half = half / 3.0
    return best, at


def largest_along(
    wanted: Wanted, values: Numbers, region: BaseGeometry, counted: Numbers | None = None
) -> float:
    """The largest distance from a target point to a region [mm].

    ``values`` are the distances at the target's samples; the stretches beside the largest ones
    are searched more closely. Samples that are not ``counted`` are passed over, and so are the
    stretches between two of them.
    """
    if counted is None:
        counted = np.ones(len(values), dtype=bool)
    if not counted.any():
        return 0.0
    values = np.where(counted, values, 0.0)
    best = float(values.max())
    if best <= 1e-9:
        return best
    open_stretch = counted[:-1] | counted[1:]
    lengths = np.diff(wanted.places)
    bound = np.where(open_stretch, np.maximum(values[:-1], values[1:]) + lengths / 2.0, 0.0)
    for k in np.argsort(-bound)[:_CANDIDATES]:
        if bound[k] > best and open_stretch[k]:
            best = max(best, _peak_between(wanted.samples[k], wanted.samples[k + 1], region))
    return best


def _peak_between(low: Points, high: Points, region: BaseGeometry) -> float:
    best = 0.0
    for _ in range(3):
        grid = low + np.linspace(0.0, 1.0, 7)[:, None] * (high - low)
        values = shapely.distance(region, shapely.points(grid))
        peak = int(np.argmax(values))
        best = max(best, float(values[peak]))
        low, high = grid[max(peak - 1, 0)], grid[min(peak + 1, 6)]
    return best

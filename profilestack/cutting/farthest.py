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

_SPACING = 0.5
_SHARES = np.linspace(0.0, 1.0, 17)
_CANDIDATES = 3
_ROUNDS = 5

THICK = 0.2
"""Only pieces thicker than this on average [mm] can hide a farthest point in their inside."""


@dataclass(frozen=True, slots=True)
class Farthest:
    """A largest distance [mm] and its place [mm]; 0 and None when there is nothing."""

    distance: float
    at: Point | None


NOWHERE = Farthest(0.0, None)


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
    """Sample the rings of a region in steps of at most 0.5 mm; crumbs below 1e-9 mm2 are left."""
    pieces = tuple(piece for piece in pieces_of(region) if piece.area > 1e-9)
    chains, owners = [], []
    for index, piece in enumerate(pieces):
        for ring in (piece.exterior, *piece.interiors):
            chains.append(densified(shapely.get_coordinates(ring), _SPACING)[:-1])
            owners.append(index)
    points = np.concatenate(chains) if chains else np.zeros((0, 2))
    far, places = line.nearest(points)
    return Edges(pieces, tuple(chains), tuple(owners), far, places)


def farthest_in(
    edges: Edges, line: Polyline, ripple: float, crest: Farthest = NOWHERE
) -> Farthest:
    """The point of a region that is farthest from a line.

    It lies on the region's edge, except where the line bends round the region; so the edges are
    searched and then the inside of every thick piece. Below ``ripple`` [mm], the flattening's own
    error, the sample is good enough; so is a ``crest`` above all samples that is known already.
    """
    if not edges.pieces:
        return NOWHERE
    points = np.concatenate(edges.chains)
    top = int(np.argmax(edges.far))
    best, at = float(edges.far[top]), (float(points[top, 0]), float(points[top, 1]))
    if crest.at is not None and crest.distance >= best - 1e-12:
        best, at = crest.distance, crest.at
    elif best > ripple:
        ahead = np.concatenate([np.roll(chain, -1, axis=0) for chain in edges.chains])
        behind = np.concatenate([np.roll(chain, 1, axis=0) for chain in edges.chains])
        # the peak is beside one of the highest samples
        chosen = np.argsort(-edges.far)[:_CANDIDATES]
        heights, places = polish(behind[chosen], points[chosen], ahead[chosen], line)
        highest = int(np.argmax(heights))
        best = float(heights[highest])
        at = (float(places[highest, 0]), float(places[highest, 1]))
    for piece in edges.pieces:
        if piece.area > 1.0 and 2.0 * piece.area / piece.length > THICK:
            inner, place = _inside(piece, line, best)
            if inner > best:
                best, at = inner, place
    return Farthest(best, at)


def polish(
    behind: Points, peaks: Points, ahead: Points, line: Polyline
) -> tuple[Numbers, Points]:
    """Climb from samples to the peaks beside them.

    Each peak (n, 2) [mm] is looked for on the two edges that meet in it, from ``behind`` to
    ``ahead``, eight times as closely each round. Gives distances (n,) and places (n, 2) [mm].
    """
    tops = peaks.copy()
    probes = np.stack((peaks, 0.999 * peaks + 0.001 * behind, 0.999 * peaks + 0.001 * ahead))
    heights, back, on = line.nearest(probes.reshape(-1, 2))[0].reshape(3, -1)
    # where both edges fall away at once the sample is the peak: the tip between two cuts
    rising = np.flatnonzero((back > heights) | (on > heights))
    if len(rising) == 0:
        return heights, tops
    start, to_back, to_on = peaks[rising], behind[rising], ahead[rising]
    rows = np.arange(len(rising))
    low, high = np.full(len(rising), -1.0), np.full(len(rising), 1.0)
    for _ in range(_ROUNDS):
        share = low[:, None] + _SHARES[None, :] * (high - low)[:, None]
        grid = start[:, None, :] + np.maximum(-share, 0.0)[..., None] * (to_back - start)[:, None]
        grid += np.maximum(share, 0.0)[..., None] * (to_on - start)[:, None]
        values = line.nearest(grid.reshape(-1, 2))[0].reshape(share.shape)
        top = np.argmax(values, axis=1)
        low = share[rows, np.maximum(top - 1, 0)]
        high = share[rows, np.minimum(top + 1, len(_SHARES) - 1)]
    heights[rising], tops[rising] = values[rows, top], grid[rows, top]
    return heights, tops


def _inside(piece: BaseGeometry, line: Polyline, floor: float) -> tuple[float, Point]:
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
    return best, (float(at[0]), float(at[1]))


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

"""The largest distances between a region and a line, and where they are.

Samples find the neighbourhood; stretches between them that might hold more are looked into until
none is left that could, so that the figure is the exact distance (to the flattened shapes).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.climbing import Stretches, highest_between, promising
from profilestack.cutting.nearest import (
    Indices,
    Numbers,
    Polyline,
    counts_of,
    divided,
    polyline,
)
from profilestack.cutting.wanted import Wanted
from profilestack.geometry.path import Point, Points
from profilestack.geometry.region import chains_of, pieces_of, subtract

_SPACING = 1.0
_SHARES = np.linspace(0.0, 1.0, 17)
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

    ``pieces`` are the polygons; ``points`` (n, 2) [mm] those of all their rings in a row, without
    the closing ones; ``after`` the index of the next point round the ring; ``starts`` where each
    ring begins; ``far`` and ``places`` distance to the line and length along it [mm].
    """

    pieces: tuple[Polygon, ...]
    points: Points
    after: Indices
    starts: Indices
    far: Numbers
    places: Numbers

    def parts(self) -> Iterator[tuple[Points, Numbers, Numbers]]:
        """Each ring's points, distances and places."""
        for begin, end in zip(self.starts, (*self.starts[1:], len(self.points)), strict=False):
            yield self.points[begin:end], self.far[begin:end], self.places[begin:end]

    def stretches(self) -> Stretches:
        """From each point to the next one."""
        return Stretches(
            self.points,
            self.points[self.after],
            np.stack((self.far, self.far[self.after]), axis=1),
            np.stack((self.places, self.places[self.after]), axis=1),
        )


def sample_edges(regions: Sequence[BaseGeometry], line: Polyline) -> list[Edges]:
    """Sample the rings of regions in steps of at most 1 mm; crumbs below 1e-9 mm2 are left.

    All are measured at once: what a call costs does not depend on a few points.
    """
    pieces = [
        tuple(piece for piece in pieces_of(region) if piece.area > 1e-9) for region in regions
    ]
    points, ring, piece = _ring_points([each for some in pieces for each in some])
    far, places = line.nearest(points)
    found = []
    ends = np.searchsorted(piece, np.cumsum([len(some) for some in pieces]))
    for some, begin, end in zip(pieces, (0, *ends), ends, strict=False):
        part = slice(begin, end)
        starts = np.flatnonzero(np.diff(ring[part], prepend=-1))
        after = np.arange(1, end - begin + 1)
        after[np.append(starts[1:], end - begin)[: len(starts)] - 1] = starts
        found.append(Edges(some, points[part], after, starts, far[part], places[part]))
    return found


def _ring_points(pieces: list[Polygon]) -> tuple[Points, Indices, Indices]:
    """Points on all rings, without the closing ones, and the ring and the piece of each."""
    rings, ring_piece = shapely.get_rings(pieces, return_index=True)
    points, owner = shapely.get_coordinates(rings, return_index=True)
    if len(points) == 0:
        none = np.zeros(0, dtype=np.intp)
        return np.zeros((0, 2)), none, none
    inside = owner[1:] == owner[:-1]  # from a ring's closing point on leads nowhere
    along = (points[1:] - points[:-1])[inside]
    begins, rings_of_them = points[:-1][inside], owner[:-1][inside]
    counts = counts_of(along, _SPACING)
    ring = np.repeat(rings_of_them, counts)
    return divided(begins, along, counts), ring, ring_piece[ring]


def farthest_in(edges: Edges, line: Polyline, ripple: float, crest: Farthest = NOWHERE) -> Farthest:
    """The point of a region that is farthest from a line.

    It lies on the region's edge, except where the line bends round the region; so the edges are
    searched and then, unless the line always leads one way, the inside of every thick piece. The
    distance is met within a quarter of ``ripple`` [mm], the flattening's own error, or within two
    ripples where it is no larger. A ``crest`` that is known already spares the search below it.
    """
    if not edges.pieces:
        return NOWHERE
    top = int(np.argmax(edges.far))
    best = float(edges.far[top])
    at: Point | None = (float(edges.points[top, 0]), float(edges.points[top, 1]))
    if crest.at is not None and crest.distance >= best - 1e-12:
        best, at = crest.distance, crest.at
    higher, place = highest_between(edges.stretches(), line.nearest, line, best, ripple)
    if place is not None:
        best, at = higher, place
    if not _leads_one_way(line):
        for piece in edges.pieces:
            if piece.area > 1.0 and 2.0 * piece.area / piece.length > THICK:
                inner, inside = _inside(piece, line, best)
                if inner > best:
                    best, at = inner, inside
    return Farthest(best, at)


def _leads_one_way(line: Polyline) -> bool:
    """Whether a line never turns back in x, or never in z.

    Then no point beside it is the farthest of its surroundings: all its nearest points would have
    to lie around it, and those of a line that leads one way lie on one side.
    """
    along = line.along
    return bool(((along >= -1e-9).all(axis=0) | (along <= 1e-9).all(axis=0)).any())


def polish(behind: Points, peaks: Points, ahead: Points, line: Polyline) -> tuple[Numbers, Points]:
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


@dataclass(frozen=True, slots=True, eq=False)
class Reach:
    """How far the target's samples are from the section, or from what was ``removed``.

    ``section`` is prepared for questions: what lies in the blank and not in the section is
    removed. ``far`` (n,) [mm] is below 0 inside; ``places`` (n,) are those of the nearest points
    on the region's ``rings`` [mm].
    """

    section: BaseGeometry
    removed: bool
    rings: Polyline
    far: Numbers
    places: Numbers

    def measure(self, points: Points) -> tuple[Numbers, Numbers]:
        """Distance of points to the region, below 0 inside, and place on its rings [mm]."""
        far, places = self.rings.nearest(points)
        inside = shapely.intersects_xy(self.section, points)
        return np.where(inside == self.removed, far, -far), places

    def holds(self, chords: Points) -> npt.NDArray[np.bool_]:
        """Whether chords (n, 2, 2) [mm] lie in the region, its edge with it."""
        lines = np.asarray(shapely.linestrings(chords))
        if not self.removed:
            return np.asarray(shapely.covers(self.section, lines))
        met = np.asarray(shapely.intersects(self.section, lines))
        met[met] = np.logical_not(shapely.touches(self.section, lines[met]))
        return np.logical_not(met)

    @property
    def outside(self) -> Numbers:
        """The distances, 0 inside [mm]; without a region as far as the samples are apart."""
        return np.maximum(self.far, 0.0)


def reaches_of(blank: BaseGeometry, section: BaseGeometry, wanted: Wanted) -> tuple[Reach, Reach]:
    """Measure every sample of a target to what was removed, and to the section.

    In a blank without hollows the way from wood to what was removed, and back, always leads over
    an edge that a bit made: both are measured to those edges at once. Not so for a target that
    strays out of the blank by a hair, as it may: what is beside the outline belongs to neither.
    """
    shapely.prepare(section)
    none = np.zeros(0)
    if section.is_empty:
        return _nowhere_near(section, wanted, 1.0)
    if wanted.within_convex:
        chains = _cut_chains(blank, section)
        if not chains:
            return _nowhere_near(section, wanted, -1.0)
        rings = polyline(chains)
        first = Reach(section, True, rings, none, none)
        first = Reach(section, True, rings, *first.measure(wanted.samples))
        return first, Reach(section, False, rings, -first.far, first.places)
    removed = subtract(blank, section, "the removed stock")
    if removed.is_empty:
        return _nowhere_near(section, wanted, -1.0)
    to_removed = Reach(section, True, polyline(chains_of(removed)), none, none)
    to_section = Reach(section, False, polyline(chains_of(section)), none, none)
    return (
        Reach(section, True, to_removed.rings, *to_removed.measure(wanted.samples)),
        Reach(section, False, to_section.rings, *to_section.measure(wanted.samples)),
    )


def _nowhere_near(section: BaseGeometry, wanted: Wanted, side: float) -> tuple[Reach, Reach]:
    """Where all is removed (``side`` 1) or nothing (-1): as far as the part is wide."""
    wide = np.full(len(wanted.samples), float(np.hypot(*np.ptp(wanted.samples, axis=0))))
    nowhere, places = polyline([]), np.zeros(len(wanted.samples))
    return (
        Reach(section, True, nowhere, -side * wide, places),
        Reach(section, False, nowhere, side * wide, places),
    )


def _cut_chains(blank: BaseGeometry, section: BaseGeometry) -> list[Points]:
    """The edges of a section that do not lie on the convex blank's own outline, as chains [mm]."""
    outline = shapely.get_coordinates(shapely.get_exterior_ring(blank))
    along = np.diff(outline, axis=0)
    along /= np.hypot(along[:, 0], along[:, 1])[:, None]
    square = np.stack((-along[:, 1], along[:, 0]))
    off = (outline[:-1] * square.T).sum(axis=1)
    chains = []
    for chain in chains_of(section):
        # no place of a convex blank lies in line with a side, but those on it
        beside = np.abs((chain[:-1] + chain[1:]) / 2.0 @ square - off)
        cut = beside.min(axis=1) > 1e-9
        before, after = np.append(False, cut[:-1]), np.append(cut[1:], False)
        begins, ends = np.flatnonzero(cut & ~before), np.flatnonzero(cut & ~after)
        chains += [chain[begin : end + 2] for begin, end in zip(begins, ends, strict=True)]
    return chains


def largest_along(
    wanted: Wanted,
    reach: Reach,
    ripple: float,
    counted: npt.NDArray[np.bool_] | None = None,
) -> Farthest:
    """The target point that is farthest from a region, as exact as :func:`farthest_in`.

    Samples that are not ``counted`` are passed over, and so are the stretches between two of
    them; where the target comes to such a sample, the distances come to that sample's.
    """
    begin, end = np.arange(len(reach.far) - 1), np.arange(1, len(reach.far))
    if counted is not None:
        chosen = np.flatnonzero(counted[:-1] | counted[1:])
        begin, end = begin[chosen], end[chosen]
    if len(begin) == 0:
        return NOWHERE
    ends = np.concatenate((begin, end))
    top = ends[np.argmax(reach.far[ends])]
    best = float(reach.far[top])
    at = (float(wanted.samples[top, 0]), float(wanted.samples[top, 1]))
    highest = Farthest(best, at) if best > 0.0 else NOWHERE
    if reach.rings.tree is None:
        return highest
    stretches = Stretches(
        wanted.samples[begin],
        wanted.samples[end],
        np.stack((reach.far[begin], reach.far[end]), axis=1),
        np.stack((reach.places[begin], reach.places[end]), axis=1),
    )
    bounds, shares = stretches.bounds(reach.rings)
    chosen = promising(bounds, highest.distance, ripple)
    inside = chosen[(stretches.far[chosen] <= 0.0).all(axis=1)]
    if len(inside) > 0:
        chords = np.stack((stretches.starts[inside], stretches.ends[inside]), axis=1)
        chosen = np.setdiff1d(chosen, inside[reach.holds(chords)], assume_unique=True)
    known = bounds[chosen], shares[chosen]
    few = stretches.taken(chosen)
    floor = highest.distance
    higher, place = highest_between(few, reach.measure, reach.rings, floor, ripple, known)
    return highest if place is None else Farthest(higher, place)

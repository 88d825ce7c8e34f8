"""How far leftover and overcut spread when a stack is cut with usual errors, and what matters."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
import shapely

from profilestack.bits.bit import Bit
from profilestack.cutting.climbing import Stretches
from profilestack.cutting.nearest import Indices, Numbers, Polyline
from profilestack.cutting.wanted import Wanted, wanted_in
from profilestack.geometry.path import Points
from profilestack.geometry.region import polygon_from_points
from profilestack.planning.trial_cuts import Shapes, TrialCuts, trial_cuts, without
from profilestack.planning.usual_errors import ON_A_CNC, Source, UsualErrors, sources_of
from profilestack.stack import Stack

CHORD = 0.005
"""Arcs of the trial cuts are flattened so finely [mm]: well below what a machine is off by."""

CLOSE = 0.002
"""Largest distances are met within this [mm]."""

ROUNDS = 8
PARTS = 4

BANDS = (5.0, 50.0, 95.0)
"""Percent of the cuts that lie below the band's lower side, its middle and its upper side."""

CLASSES = 10
"""An error is sorted into so many classes to see how much it explains."""


@dataclass(frozen=True, slots=True)
class Share:
    """What one source of errors explains alone of the spread of leftover and overcut (0 to 1)."""

    source: Source
    leftover: float
    overcut: float


@dataclass(frozen=True, slots=True)
class Blame:
    """In which share of the cuts (0 to 1) a pass (number from 1) leaves or gouges the most."""

    number: int
    leftover: float
    overcut: float


@dataclass(frozen=True, slots=True, eq=False)
class Trials:
    """What came out of many cuts, one value each [mm].

    ``leftover`` and ``overcut`` (n,) are the largest of each cut, at ``leftover_at`` and
    ``overcut_at`` (n, 2), nan where there is nothing. ``unreached`` and ``missing`` are as
    :class:`profilestack.cutting.comparison.Comparison` has them, at the samples.
    ``band`` (3, places) holds the ``BANDS`` of the signed deviation at ``places`` along the target.
    """

    sources: tuple[Source, ...]
    errors: Numbers
    leftover: Numbers
    overcut: Numbers
    leftover_at: Points
    overcut_at: Points
    unreached: Numbers
    missing: Numbers
    places: Numbers
    band: Numbers
    shares: tuple[Share, ...]
    blames: tuple[Blame, ...]

    @property
    def overcut_worst(self) -> Numbers:
        """What the overcut tolerance bounds, in each cut (n,) [mm]."""
        return np.maximum(self.overcut, self.missing)

    @property
    def leftover_worst(self) -> Numbers:
        """What the leftover tolerance bounds, in each cut (n,) [mm]."""
        return np.maximum(self.leftover, self.unreached)


def try_cuts(
    stack: Stack,
    bits: Mapping[str, Bit],
    cuts: int,
    seed: int,
    errors: UsualErrors = ON_A_CNC,
    samples: tuple[Numbers, Points] | None = None,
) -> Trials:
    """Cut a stack with a target many times, each time with other errors.

    The same ``seed`` gives the same errors. ``samples`` are places along the target and their
    points (n, 2) [mm] where the band is told; by default every half millimetre.

    Raises:
        InputError: a target that does not fit the blank, or a diameter that no bit can have.
    """
    assert stack.target is not None
    sources = sources_of(stack, bits, errors)
    chance = np.random.default_rng(seed)
    sigma, mean = (np.array([getattr(each, key) for each in sources]) for key in ("sigma", "mean"))
    drawn = mean + sigma * chance.standard_normal((cuts, len(sources)))
    wanted = wanted_in(stack.blank, stack.target, CHORD)
    tried = trial_cuts(stack, bits, sources, drawn, CHORD)
    leftover, left_at = _largest(without(tried.sections, wanted.region), wanted.line)
    overcut, over_at = _largest(without(wanted.region, tried.sections), wanted.line)
    places, points = samples or (wanted.places, wanted.samples)
    above, below, on_outline = _deviation(stack, tried, wanted, points)
    # a place on the outline counts only as the end of a stretch that is not
    free = np.pad(~on_outline, 1)
    unreached = above[:, free[:-2] | free[1:-1] | free[2:]].max(axis=1, initial=0.0)
    missing = below.max(axis=1, initial=0.0)
    deviation = np.where(on_outline, 0.0, above) - below
    worst = np.maximum(overcut, missing)
    return Trials(
        sources, drawn, leftover, overcut, left_at, over_at, unreached, missing, places,
        np.percentile(deviation, BANDS, axis=0),
        _shares(sources, drawn, leftover, worst),
        _blames(tried, (leftover, left_at), (overcut, over_at)),
    )  # fmt: skip


def _deviation(
    stack: Stack, tried: TrialCuts, wanted: Wanted, points: Points
) -> tuple[Numbers, Numbers, npt.NDArray[np.bool_]]:
    """How far points of the target are from what each cut removed, and from what it left.

    Both (n, points) [mm], at most one of the two above 0; and which points lie on the blank's
    outline.
    """
    outline = polygon_from_points(stack.blank.outline().flatten(CHORD))
    removed = without(outline, tried.sections)
    shapely.prepare(removed)
    shapely.prepare(tried.sections)
    targets = np.asarray(shapely.points(points))[None, :]
    above = shapely.distance(removed[:, None], targets)
    below = shapely.distance(tried.sections[:, None], targets)
    # what was nowhere removed is as far as the target is wide
    wide = float(np.hypot(*np.ptp(wanted.samples, axis=0)))
    above, below = (np.nan_to_num(each, nan=wide) for each in (above, below))
    on_outline = shapely.distance(shapely.boundary(outline), targets[0]) <= 0.01
    return np.asarray(above), np.asarray(below), np.asarray(on_outline)


def _largest(regions: Shapes, line: Polyline) -> tuple[Numbers, Points]:
    """The largest distance to a line on the edges of each region [mm], and where (n, 2)."""
    starts, ends, owner = _edges(regions)
    best, at = np.zeros(len(regions)), np.full((len(regions), 2), np.nan)
    if len(starts) == 0:
        return best, at
    far, places = line.nearest(np.concatenate((starts, ends)))
    count = len(starts)
    stretches = Stretches(starts, ends, far.reshape(2, count).T, places.reshape(2, count).T)
    _take(best, at, owner, stretches.far[:, 0], starts)
    for _ in range(ROUNDS):
        bounds, shares = stretches.bounds(line)
        chosen = np.flatnonzero(bounds > np.maximum(best[owner] + CLOSE, 2.0 * CLOSE))
        if len(chosen) == 0:
            break
        owner = np.repeat(owner[chosen], PARTS)
        stretches = _divided(stretches.taken(chosen), shares[chosen], line)
        _take(best, at, owner, stretches.far[:, 0], stretches.starts)
    return best, at


def _edges(regions: Shapes) -> tuple[Points, Points, Indices]:
    """All edges of the regions, from and to [mm], and whose each is."""
    parts, owner = shapely.get_parts(regions, return_index=True)
    solid = (shapely.get_type_id(parts) == 3) & (shapely.area(parts) > 1e-9)
    parts, owner = parts[solid], owner[solid]
    rings, part = shapely.get_rings(parts, return_index=True)
    points, ring = shapely.get_coordinates(rings, return_index=True)
    if len(points) == 0:
        return np.zeros((0, 2)), np.zeros((0, 2)), np.zeros(0, dtype=np.intp)
    inside = ring[1:] == ring[:-1]
    return points[:-1][inside], points[1:][inside], owner[part[ring[:-1][inside]]]


def _take(best: Numbers, at: Points, owner: Indices, far: Numbers, points: Points) -> None:
    """Keep the farthest point of each owner, where it is farther than the one known."""
    order = np.argsort(far, kind="stable")  # the farthest of an owner is written last
    top = np.full(len(best), -1, dtype=np.intp)
    top[owner[order]] = order
    found = np.flatnonzero(top >= 0)
    better = found[far[top[found]] > best[found]]
    best[better], at[better] = far[top[better]], points[top[better]]


def _divided(stretches: Stretches, shares: Numbers, line: Polyline) -> Stretches:
    """Each stretch in ``PARTS``, one of the cuts where it may be highest."""
    half = np.stack((shares / 2.0, shares, (1.0 + shares) / 2.0), axis=1)
    along = stretches.ends - stretches.starts
    inner = stretches.starts[:, None] + half[..., None] * along[:, None]
    far, places = (each.reshape(half.shape) for each in line.nearest(inner.reshape(-1, 2)))
    points = np.concatenate((stretches.starts[:, None], inner, stretches.ends[:, None]), axis=1)
    far = np.concatenate((stretches.far[:, :1], far, stretches.far[:, 1:]), axis=1)
    places = np.concatenate((stretches.places[:, :1], places, stretches.places[:, 1:]), axis=1)
    return Stretches(
        points[:, :-1].reshape(-1, 2),
        points[:, 1:].reshape(-1, 2),
        np.stack((far[:, :-1], far[:, 1:]), axis=-1).reshape(-1, 2),
        np.stack((places[:, :-1], places[:, 1:]), axis=-1).reshape(-1, 2),
    )


def _shares(
    sources: tuple[Source, ...], drawn: Numbers, leftover: Numbers, overcut: Numbers
) -> tuple[Share, ...]:
    """What each error explains alone, the most for the overcut first."""
    found = [
        Share(source, explained(drawn[:, k], leftover), explained(drawn[:, k], overcut))
        for k, source in enumerate(sources)
    ]
    return tuple(sorted(found, key=lambda share: -share.overcut))


def explained(error: Numbers, outcome: Numbers) -> float:
    """Share of an outcome's spread, by ranks, that one error explains alone: 0 to 1.

    The correlation ratio: variance of the means of ``CLASSES`` classes of the error over the
    variance of all, less what chance alone would show. It sees errors that harm on both sides too.
    """
    count = len(error)
    if count <= CLASSES or np.ptp(outcome) == 0.0 or np.ptp(error) == 0.0:
        return 0.0
    ranks = _ranks(outcome)
    groups = np.array_split(ranks[np.argsort(error, kind="stable")], CLASSES)
    total = float(((ranks - ranks.mean()) ** 2).sum())
    within = sum(float(((group - group.mean()) ** 2).sum()) for group in groups)
    return max(0.0, 1.0 - within / total * (count - 1) / (count - CLASSES))


def _ranks(values: Numbers) -> Numbers:
    """The rank of each value from 0; equal ones share the mean of theirs."""
    _, inverse, counts = np.unique(values, return_inverse=True, return_counts=True)
    ends = np.cumsum(counts)
    middles: Numbers = ends - (counts + 1) / 2.0
    return middles[inverse]


def _blames(
    tried: TrialCuts, leftover: tuple[Numbers, Points], overcut: tuple[Numbers, Points]
) -> tuple[Blame, ...]:
    """Which pass's edge lies at the worst place of each cut, the most often first."""
    if len(tried.owners) == 0:
        return ()
    edges = shapely.boundary(tried.strokes)
    counts = []
    for most, at in (leftover, overcut):
        found = np.flatnonzero(most > CLOSE)
        far = shapely.distance(edges[:, found], np.asarray(shapely.points(at[found]))[None, :])
        nearest = tried.owners[np.argmin(far, axis=0)] if len(found) else np.zeros(0, dtype=np.intp)
        counts.append(np.bincount(nearest, minlength=int(tried.owners.max()) + 1) / len(most))
    blames = [
        Blame(place + 1, float(counts[0][place]), float(counts[1][place]))
        for place in sorted(set(tried.owners.tolist()))
    ]
    return tuple(sorted(blames, key=lambda blame: (-blame.overcut, -blame.leftover)))

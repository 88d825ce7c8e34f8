"""How far leftover and overcut spread when a stack is cut with usual errors, and what matters."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from profilestack.bits.bit import Bit
from profilestack.cutting.nearest import Numbers
from profilestack.cutting.wanted import Wanted, wanted_in
from profilestack.errors import Cancelled
from profilestack.geometry.path import Points
from profilestack.geometry.region import polygon_from_points
from profilestack.planning.largest_distances import CLOSE, largest_distances
from profilestack.planning.trial_cuts import TrialCuts, trial_cuts, without
from profilestack.planning.usual_errors import ON_A_CNC, Source, UsualErrors, sources_of
from profilestack.progress import SILENT, Progress
from profilestack.stack import Stack

CHORD = 0.005
"""Arcs of the trial cuts are flattened so finely [mm]: well below what a machine is off by."""

BATCH = 50
"""So many cuts are made between two looks at whether they are still wanted."""

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
    progress: Progress = SILENT,
) -> Trials:
    """Cut a stack with a target many times, each time with other errors.

    The same ``seed`` gives the same errors. ``samples`` are places along the target and their
    points (n, 2) [mm] where the band is told; by default every half millimetre.

    Raises:
        InputError: a target that does not fit the blank, or a diameter that no bit can have.
        Cancelled: the progress was stopped: some of the cuts alone would tell another spread.
    """
    assert stack.target is not None
    sources = sources_of(stack, bits, errors)
    chance = np.random.default_rng(seed)
    sigma, mean = (np.array([getattr(each, key) for each in sources]) for key in ("sigma", "mean"))
    drawn = mean + sigma * chance.standard_normal((cuts, len(sources)))
    wanted = wanted_in(stack.blank, stack.target, CHORD)
    places, points = samples or (wanted.places, wanted.samples)
    outline = polygon_from_points(stack.blank.outline().flatten(CHORD))
    far = shapely.distance(shapely.boundary(outline), np.asarray(shapely.points(points)))
    on_outline = np.asarray(far) <= 0.01
    batches = []
    for some in _told(drawn, progress):
        tried = trial_cuts(stack, bits, sources, some, CHORD)
        batches.append(_Batch.of(tried, outline, wanted, points))
    parts = (np.concatenate(each) for each in zip(*(b.cuts for b in batches), strict=True))
    leftover, overcut, left_at, over_at, above, below = parts
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
        _blames(batches[0].owners, np.sum([each.worst for each in batches], axis=0) / cuts),
    )  # fmt: skip


def _told(drawn: Numbers, progress: Progress) -> Iterator[Numbers]:
    """The errors of some cuts after the other, while they are wanted."""
    for first in range(0, len(drawn), BATCH):
        if progress.left == 0.0:
            raise Cancelled
        progress.report(first / len(drawn), f"trial cut {first + 1:,} of {len(drawn):,}")
        yield drawn[first : first + BATCH]


@dataclass(frozen=True, slots=True, eq=False)
class _Batch:
    """What came out of some of the cuts.

    ``cuts``: leftover, overcut, where each is the largest, and how far points of the target are
    from what was removed and from what was left, one row for each cut. ``owners`` are the places
    of the passes that cut, and ``worst`` (2, passes) how often each has the leftover's and the
    overcut's worst place.
    """

    cuts: tuple[Numbers, ...]
    owners: tuple[int, ...]
    worst: Numbers

    @staticmethod
    def of(tried: TrialCuts, outline: Polygon, wanted: Wanted, points: Points) -> _Batch:
        sections = tried.sections
        leftover, left_at = largest_distances(without(sections, wanted.region), wanted.line)
        overcut, over_at = largest_distances(without(wanted.region, sections), wanted.line)
        above, below = _deviation(tried, outline, wanted, points)
        return _Batch(
            (leftover, overcut, left_at, over_at, above, below),
            tuple(sorted(set(tried.owners.tolist()))),
            _worst(tried, (leftover, left_at), (overcut, over_at)),
        )


def _deviation(
    tried: TrialCuts, outline: Polygon, wanted: Wanted, points: Points
) -> tuple[Numbers, Numbers]:
    """How far points of the target are from what each cut removed, and from what it left.

    Both (n, points) [mm], at most one of the two above 0.
    """
    removed = without(outline, tried.sections)
    shapely.prepare(removed)
    shapely.prepare(tried.sections)
    targets = np.asarray(shapely.points(points))[None, :]
    above = shapely.distance(removed[:, None], targets)
    below = shapely.distance(tried.sections[:, None], targets)
    # what was nowhere removed is as far as the target is wide
    wide = float(np.hypot(*np.ptp(wanted.samples, axis=0)))
    above, below = (np.nan_to_num(each, nan=wide) for each in (above, below))
    return np.asarray(above), np.asarray(below)


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


def _worst(
    tried: TrialCuts, leftover: tuple[Numbers, Points], overcut: tuple[Numbers, Points]
) -> Numbers:
    """At how many worst places of leftover and overcut each pass's edge lies (2, passes)."""
    if len(tried.owners) == 0:
        return np.zeros((2, 0))
    edges = shapely.boundary(tried.strokes)
    counts = []
    for most, at in (leftover, overcut):
        found = np.flatnonzero(most > CLOSE)
        far = shapely.distance(edges[:, found], np.asarray(shapely.points(at[found]))[None, :])
        nearest = tried.owners[np.argmin(far, axis=0)] if len(found) else np.zeros(0, dtype=np.intp)
        counts.append(np.bincount(nearest, minlength=int(tried.owners.max()) + 1))
    return np.array(counts, dtype=float)


def _blames(owners: tuple[int, ...], worst: Numbers) -> tuple[Blame, ...]:
    """Which pass's edge lies at the worst place, the most often first."""
    blames = [Blame(place + 1, float(worst[0, place]), float(worst[1, place])) for place in owners]
    return tuple(sorted(blames, key=lambda blame: (-blame.overcut, -blame.leftover)))

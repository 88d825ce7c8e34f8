"""How far the fit spreads when the stack is cut with usual errors, and what matters most."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.cutting.nearest import Numbers
from profilestack.geometry.path import Point, Points
from profilestack.jobs.cut import CutReport
from profilestack.planning.spreading import Blame, Share, try_cuts
from profilestack.planning.usual_errors import ON_A_CNC, UsualErrors
from profilestack.progress import SILENT, Progress

CUTS = 1000

WASTE = 3.0
"""Stock that stands proud by more tolerances, and by more than 1 mm, is waste not cut off."""


@dataclass(frozen=True, slots=True, eq=False)
class Spread:
    """What leftover and overcut come to over ``cuts`` trial cuts with ``errors``.

    ``leftover`` and ``overcut`` are median and 95th percentile [mm]; ``leftover_at`` and
    ``overcut_at`` [mm] are where the cut at that percentile is worst, None where there is
    nothing. ``within`` is the share of the cuts (0 to 1) in which both tolerances hold,
    ``standing`` that in which waste stands by more than ``WASTE`` tolerances.
    ``shares``: what each error explains alone, ``blames``: which pass is the worst; both begin
    with what matters most for the overcut. ``low``, ``middle`` and ``high`` (n,) [mm] bound the
    signed deviation at ``places`` along the target: 5, 50 and 95 % of the cuts lie below.
    """

    cuts: int
    leftover: tuple[float, float]
    overcut: tuple[float, float]
    leftover_at: Point | None
    overcut_at: Point | None
    within: float
    standing: float
    errors: UsualErrors
    shares: tuple[Share, ...]
    blames: tuple[Blame, ...]
    places: Numbers
    low: Numbers
    middle: Numbers
    high: Numbers


def spread_of(
    report: CutReport,
    bits: Mapping[str, Bit],
    seed: int = 1,
    errors: UsualErrors = ON_A_CNC,
    progress: Progress = SILENT,
) -> Spread | None:
    """Cut the stack many times with usual errors; None without a target.

    The same ``seed`` gives the same errors. Bits that were measured are taken as measured. The
    band has the places of the report's comparison.

    Raises:
        Cancelled: the progress was stopped.
    """
    comparison = report.comparison
    if comparison is None:
        return None
    samples = (comparison.places, comparison.samples)
    trials = try_cuts(report.stack, bits, CUTS, seed, errors, samples, progress)
    leftover, overcut = trials.leftover, trials.overcut_worst
    tolerance = report.stack.tolerance
    holds = (trials.leftover_worst <= tolerance.leftover) & (overcut <= tolerance.overcut)
    low, middle, high = trials.band
    return Spread(
        CUTS,
        _quantiles(leftover),
        _quantiles(overcut),
        _place_of(leftover, trials.leftover_at),
        _place_of(overcut, trials.overcut_at),
        float(holds.mean()),
        float((leftover > max(1.0, WASTE * tolerance.leftover)).mean()),
        errors,
        trials.shares,
        trials.blames,
        trials.places,
        low,
        middle,
        high,
    )


def _quantiles(values: Numbers) -> tuple[float, float]:
    half, most = np.percentile(values, (50.0, 95.0)).tolist()
    return half, most


def _place_of(values: Numbers, places: Points) -> Point | None:
    """Where the cut nearest to the 95th percentile has its worst place."""
    x, z = places[int(np.argmin(np.abs(values - np.percentile(values, 95.0))))].tolist()
    return None if np.isnan(x) else (x, z)

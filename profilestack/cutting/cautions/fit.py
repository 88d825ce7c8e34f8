"""Where the finished section breaks its tolerances."""

from __future__ import annotations

import shapely

from profilestack.cutting.caution import Caution
from profilestack.cutting.comparison import Comparison
from profilestack.cutting.cut import Cut

TELLING = 0.005
"""By so much more [mm] a distance tells something else than another one."""


def tolerances(cut: Cut, comparison: Comparison) -> list[Caution]:
    """Overcut and leftover beyond what the stack allows."""
    tolerance = cut.stack.tolerance
    found = []
    if comparison.overcut_worst > tolerance.overcut:
        lengths: tuple[float, ...] = (comparison.overcut_worst, tolerance.overcut)
        number = culprit(cut, comparison)
        found.append(Caution("overcut", "stop", number, _OVERCUT, lengths))
    if comparison.leftover.max > tolerance.leftover:
        worst, far = comparison.leftover.max, comparison.unreached_max
        words, lengths = _LEFTOVER, (worst, tolerance.leftover)
        if cut.passes and far > worst + TELLING:
            words, lengths = _LEFTOVER_AND_FAR, (*lengths, far)
        found.append(Caution("leftover", "warn", None, words, lengths))
    elif comparison.unreached_max > tolerance.leftover:
        lengths = (comparison.unreached_max, tolerance.leftover)
        found.append(Caution("leftover", "warn", None, _UNREACHED, lengths))
    return found


_OVERCUT = (
    "The section is cut away by {0}, more than the {1} allowed: raise the bit, move it away, or "
    "take a smaller one."
)
_LEFTOVER = (
    "Stock stands proud by {0}, more than the {1} allowed: add a pass there, or plan to carve "
    "and sand it."
)
_LEFTOVER_AND_FAR = (
    "Stock stands proud by {0}, more than the {1} allowed, and some of the wanted profile is {2} "
    "away from the nearest cut: add a pass there, or plan to carve and sand it."
)
_UNREACHED = (
    "Some of the wanted profile is {0} away from the nearest cut, more than the {1} allowed, "
    "though the stock on it is thinner: cut a little deeper or nearer there, or take a bit that "
    "fits."
)


def culprit(cut: Cut, comparison: Comparison) -> int | None:
    """The first pass that cut where the overcut is deepest."""
    if comparison.overcut.at is None:
        return None
    place = shapely.points(comparison.overcut.at)
    for stroke in cut.strokes:
        if shapely.dwithin(stroke.region, place, 1e-6):
            return stroke.number
    return None

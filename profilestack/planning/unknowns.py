"""What a test cut may tell of each pass, bit and wedge, and what is expected of it before.

Errors that always act together (edge zero, how the blank lies, the offset of one cut) cannot be
told apart by any measurement, so the unknowns are their sums: one offset and one depth for each
pass, one diameter for each bit, one angle for each wedge. What the sums share makes the prior's
covariance.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import shapely

from profilestack.bits.bit import Bit
from profilestack.cutting.nearest import Numbers
from profilestack.geometry.path import Points
from profilestack.planning.trial_cuts import Shapes, trial_cuts
from profilestack.planning.usual_errors import ON_A_CNC, Source, UsualErrors, sources_of
from profilestack.stack import Stack

CHORD = 0.002
"""Arcs are flattened so finely [mm]: below what any gauge shows."""

STEPS = {"wedge": 0.02}
STEP = 0.01
"""Each unknown is moved by so much [mm, deg] on both sides to see what it does."""

_FEEDS = {
    "touch-off": "depth", "depth": "depth", "edge zero": "offset", "blank": "offset",
    "offset": "offset", "diameter": "diameter", "wedge": "wedge",
}  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Unknowns:
    """The unknowns of a stack: what each is, what is expected (mean, covariance) [mm, deg]."""

    stack: Stack
    bits: Mapping[str, Bit]
    sources: tuple[Source, ...]
    mean: Numbers
    covariance: Numbers

    @property
    def usual(self) -> Numbers:
        """Standard deviation of each before anything is measured [mm, deg]."""
        return np.asarray(np.sqrt(np.diag(self.covariance)))

    def sections(self, values: Numbers) -> Shapes:
        """The section for each row of values (n, unknowns)."""
        return trial_cuts(self.stack, self.bits, self.sources, values, CHORD, rounds=False).sections

    def distances(self, values: Numbers, points: Points) -> Numbers:
        """How far points (m, 2) lie outside each row's section, < 0 inside: (n, m) [mm]."""
        sections = self.sections(values)
        edges = np.asarray(shapely.boundary(sections))
        shapely.prepare(edges)
        shapely.prepare(sections)
        places = np.asarray(shapely.points(points))[None, :]
        far = shapely.distance(edges[:, None], places)
        inside = shapely.intersects_xy(sections[:, None], points[None, :, 0], points[None, :, 1])
        return np.where(inside, -far, far)

    def slopes(self, values: Numbers, points: Points, wary: bool = False) -> Numbers:
        """What each unknown does to the distances of points: (m, unknowns) [mm/mm, mm/deg].

        ``wary``: where it acts to one side only, as a pass that just does not touch, it is taken
        to do nothing: such points bound it, and do not tell it.
        """
        steps = np.array([STEPS.get(source.kind, STEP) for source in self.sources])
        moved = np.concatenate((values + np.diag(steps), values - np.diag(steps)))
        far = self.distances(moved, points).reshape(2, len(steps), -1)
        both = (far[0] - far[1]) / (2.0 * steps[:, None])
        if not wary:
            return np.asarray(both.T)
        here = self.distances(values[None, :], points)
        ahead, behind = (far[0] - here) / steps[:, None], (here - far[1]) / steps[:, None]
        least = np.where(np.abs(ahead) < np.abs(behind), ahead, behind)
        return np.asarray(np.where(ahead * behind > 0.0, least, 0.0).T)


def unknowns_of(stack: Stack, bits: Mapping[str, Bit], errors: UsualErrors = ON_A_CNC) -> Unknowns:
    """The unknowns of a stack, with a shop's usual errors as what is expected of them."""
    causes = sources_of(stack, bits, errors)
    sources: list[Source] = []
    for place, single in enumerate(stack.passes):
        if single.on:
            for kind in ("offset", "depth"):
                one = Source(kind, (place,), 0.0, bit=single.bit, setup=single.setup)
                sources.append(one)
    sources += [cause for cause in causes if cause.kind in ("diameter", "wedge")]
    reach = np.array([[_acts(cause, one) for cause in causes] for one in sources], dtype=np.float64)
    sigma, mean = (np.array([getattr(each, key) for each in causes]) for key in ("sigma", "mean"))
    covariance = reach @ np.diag(np.maximum(sigma, 1e-6) ** 2) @ reach.T
    return Unknowns(stack, bits, tuple(sources), reach @ mean, covariance)


def _acts(cause: Source, unknown: Source) -> bool:
    if _FEEDS[cause.kind] != unknown.kind:
        return False
    if unknown.kind in ("diameter", "wedge"):
        return cause is unknown
    return unknown.passes[0] in cause.passes

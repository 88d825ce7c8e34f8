"""What a cut section leaves and lacks against the target.

Leftover is stock standing proud of the target; overcut is stock cut away that the target needed.

- ``leftover.max``: over the section outside the wanted region, the largest distance to the target.
- ``unreached_max``: the largest distance from a target point to the nearest removed stock.
- ``overcut.max``: over the wanted region outside the section, the largest distance to the target.
- ``missing_max``: the largest distance from a target point to the section.
- Signed deviation at a target point: its distance to removed stock (+, proud) less its distance to
  the section (-, gouged); at most one of the two is not zero.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from shapely.geometry.base import BaseGeometry

from profilestack.cutting.cut import Cut
from profilestack.cutting.farthest import (
    NOWHERE,
    Farthest,
    Reach,
    farthest_in,
    largest_along,
    reaches_of,
    sample_edges,
)
from profilestack.cutting.nearest import Numbers
from profilestack.cutting.ridges import Ridge, ridges_of
from profilestack.cutting.wanted import Wanted, wanted_in
from profilestack.geometry.path import Point, Points
from profilestack.geometry.region import Region, as_region, moments_of, subtract

DUST = 1e-5
"""Gouges of less area than this [mm2] are the flattening's own: samples tell enough of them."""


@dataclass(frozen=True, slots=True)
class Side:
    """Leftover or overcut: ``max`` and ``rms`` [mm], ``area`` [mm2], ``volume`` [mm3].

    ``at`` is where the maximum is [mm], None where there is nothing.
    """

    max: float
    rms: float
    area: float
    volume: float
    at: Point | None


@dataclass(frozen=True, slots=True)
class Corner:
    """A place on the target that no pass reaches: ``at`` [mm], ``distance`` to the cut [mm]."""

    at: Point
    distance: float


@dataclass(frozen=True, slots=True, eq=False)
class Comparison:
    """A cut section against its target.

    ``unreached_at`` [mm] is the target point that is so far from what was cut away.
    ``places`` (n,) are lengths along the target [mm] of the points ``samples`` (n, 2) [mm];
    ``deviation`` (n,) is the signed deviation there [mm], + proud, - gouged.
    """

    leftover: Side
    overcut: Side
    unreached_max: float
    unreached_at: Point | None
    missing_max: float
    ridges: tuple[Ridge, ...]
    corners: tuple[Corner, ...]
    places: Numbers
    samples: Points
    deviation: Numbers
    target: Points
    wanted: Region
    leftover_region: Region
    overcut_region: Region

    @property
    def leftover_worst(self) -> float:
        """What the leftover tolerance bounds [mm]."""
        return max(self.leftover.max, self.unreached_max)

    @property
    def overcut_worst(self) -> float:
        """What the overcut tolerance bounds [mm]."""
        return max(self.overcut.max, self.missing_max)


def compare(cut: Cut) -> Comparison | None:
    """Compare a cut with its stack's target; None without a target.

    Raises:
        InputError: a target that cannot be laid into the blank.
    """
    stack = cut.stack
    if stack.target is None:
        return None
    wanted = wanted_in(stack.blank, stack.target, cut.chord)
    section = cut.sections[-1]
    proud = subtract(section, wanted.region, "the leftover")
    gouged = subtract(wanted.region, section, "the overcut")
    unreached, missing = reaches_of(cut.sections[0], section, wanted)
    above = np.where(wanted.on_outline, 0.0, unreached.outside)
    steps = np.diff(wanted.places)
    # along the outline nothing counts as proud; where the target leaves it, all but a point does
    inner = np.where(wanted.on_outline[:-1] & wanted.on_outline[1:], 0.0, steps)
    below = missing.outside
    edges, gouges = sample_edges((proud, gouged), wanted.line)
    ridges = ridges_of(cut, edges, wanted.line)
    crest = max((Farthest(ridge.height, ridge.at) for ridge in ridges), default=NOWHERE, key=_far)
    top = farthest_in(edges, wanted.line, cut.chord, crest)
    deep = farthest_in(gouges, wanted.line, cut.chord)
    apart = largest_along(wanted, unreached, cut.chord, ~wanted.on_outline)
    return Comparison(
        leftover=_side(cut, proud, top, _rms(unreached.outside, inner, wanted.length)),
        overcut=_side(cut, gouged, deep, _rms(below, steps, wanted.length)),
        unreached_max=apart.distance,
        unreached_at=apart.at,
        missing_max=_missing_max(wanted, missing, gouged, cut.chord),
        ridges=ridges,
        corners=_corners(above, wanted),
        places=wanted.places,
        samples=wanted.samples,
        deviation=above - below,
        target=wanted.points,
        wanted=as_region(wanted.region),
        leftover_region=as_region(proud),
        overcut_region=as_region(gouged),
    )


def _missing_max(wanted: Wanted, missing: Reach, gouged: BaseGeometry, chord: float) -> float:
    """The largest distance from a target point to the section [mm]."""
    if gouged.area < DUST:
        return float(missing.outside.max())
    return largest_along(wanted, missing, chord).distance


def _far(farthest: Farthest) -> float:
    return farthest.distance


def _side(cut: Cut, region: BaseGeometry, farthest: Farthest, rms: float) -> Side:
    area = region.area
    volume = cut.stack.run.volume(area, moments_of(region))
    return Side(farthest.distance, rms, area, volume, farthest.at)


def _rms(along: Numbers, steps: Numbers, length: float) -> float:
    """Root of the mean square of distances at samples ``steps`` apart, over a length [mm]."""
    squares = along**2
    return math.sqrt(float((steps * (squares[:-1] + squares[1:])).sum()) / (2.0 * length))


def _corners(above: Numbers, wanted: Wanted) -> tuple[Corner, ...]:
    """Sharp places of the target where stock stays, worst first."""
    before = np.diff(wanted.samples, axis=0)
    angles = np.arctan2(before[:, 1], before[:, 0])
    bends = np.abs((np.diff(angles) + np.pi) % (2.0 * np.pi) - np.pi)
    # flattened arcs bend by a few degrees at a vertex, corners by more
    sharp = np.flatnonzero(bends > np.radians(20.0)) + 1
    found = [
        Corner((float(wanted.samples[k, 0]), float(wanted.samples[k, 1])), float(above[k]))
        for k in sharp
        if above[k] > 0.005
    ]
    return tuple(sorted(found, key=lambda corner: -corner.distance))

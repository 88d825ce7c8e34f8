"""Several slices of one profile made one: laid upon each other, then averaged square to it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from profilestack.errors import InputError, Problem
from profilestack.geometry.crossing import direction_at, point_on
from profilestack.geometry.path import Path, Points
from profilestack.targets.fitting import FitWishes, fit
from profilestack.targets.tracing import Chain, Curve

Pieces = npt.NDArray[np.int64]

ROUNDS = 30
"""Steps of laying one slice upon another."""

REACH = 0.1
"""A slice is looked for within this share of the profile's size beside the first one."""

LEAST_SHARED = 0.6
"""Slices that share less of the profile than this are of different things."""

SAMPLES = 1200
"""At about so many places along the profile the slices are averaged."""

BASE = 3.0
"""The first slice is smoothed within so many tolerances before the others are laid upon it."""

KINK = math.sin(math.radians(15.0))
"""Joints that bend less than this (its sine) are no corners."""

AT_ONCE = 100
"""So many places are looked at together: enough to be quick, few enough for the memory."""

THIN = 4
"""One place in so many is enough for laying a slice upon the first."""

NEAR = 15
"""So many places on either side tell where a corner lies."""

CLEAR = 0.3
"""Nothing is averaged nearer to a corner or a joint than this [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Average:
    """The mean of slices, how far they scatter about it, and how each was moved.

    ``spread`` is the largest distance of a slice from the mean [mm], ``rms`` that of all [mm];
    ``moves`` hold for each slice the shift [mm, mm] and turn [deg] that laid it upon the first.
    """

    chain: Chain
    spread: float
    rms: float
    moves: tuple[tuple[float, float, float], ...]


def averaged(slices: Sequence[Chain], tolerance: float) -> Average:
    """The mean of slices of one profile.

    A smooth path is fitted to the first within a few times ``tolerance`` [mm]; all are laid upon
    it by a shift and a small turn (least squares of the distances square to it), and the mean is
    taken square to it. Where a slice does not reach, those that do count.

    Raises:
        InputError: slices that do not lie upon each other.
    """
    smooth = fit(slices[0], FitWishes(min(BASE * tolerance, 1.0), "nowhere", level=False)).path
    base, normals, pieces = _places(smooth)
    size = float(np.hypot(*np.ptp(base, axis=0)))
    offsets, moves = [], []
    for number, single in enumerate(slices, 1):
        row, move = single.flatten(), (0.0, 0.0, 0.0)
        if number > 1:
            row, move = _laid_upon(row, base, normals, size)
        off = _offsets(base, normals, row, REACH * size)
        shared = float(np.isfinite(off).mean())
        if shared < LEAST_SHARED:
            raise InputError(
                Problem(f"slice {number}",
                        f"shares only {100.0 * shared:.0f} % of the first one's profile",
                        "slices of one profile, laid alike", "check its units and orientation")
            )  # fmt: skip
        offsets.append(off)
        moves.append(move)
    table = np.array(offsets)
    seen = np.isfinite(table).any(axis=0)
    table, base, normals, pieces = table[:, seen], base[seen], normals[seen], pieces[seen]
    mean = np.nanmean(table, axis=0)
    away = table - mean
    points = _with_corners(smooth, base, normals, pieces, mean)
    label = f"mean of {len(slices)} slices"
    return Average(
        Chain((Curve(points),), label, measured=True),
        float(np.nanmax(np.abs(away))),
        float(np.sqrt(np.nanmean(away**2))),
        tuple(moves),
    )


def _places(path: Path) -> tuple[Points, Points, Pieces]:
    """Points along a path, the unit directions to the left of travel there, and their pieces.

    None close to a joint: at a corner it is not clear what lies square to what.
    """
    step = path.length / SAMPLES
    points, normals, owners = [], [], []
    for number, piece in enumerate(path.segments):
        margin = min(CLEAR, piece.length / 4.0)
        first = 0.0 if number == 0 and not path.is_closed else margin
        is_last = number == len(path.steps) - 1
        last = piece.length - (0.0 if is_last and not path.is_closed else margin)
        count = max(3, math.ceil((last - first) / step))
        for share in np.linspace(first, last, count) / piece.length:
            along = direction_at(piece, float(share))
            points.append(point_on(piece, float(share)))
            normals.append((-along[1], along[0]))
            owners.append(number)
    return np.array(points), np.array(normals), np.array(owners)


def _with_corners(
    path: Path, base: Points, normals: Points, owners: Pieces, mean: Points
) -> Points:
    """The averaged points; at each corner one more, where both its sides, as averaged, meet."""
    moved = base + mean[:, None] * normals
    pieces = path.segments
    parts = []
    for k, piece in enumerate(pieces):
        parts.append(moved[owners == k])
        after = (k + 1) % len(pieces)
        if (after == 0 and not path.is_closed) or not (owners == after).any():
            continue
        one, two = direction_at(piece, 1.0), direction_at(pieces[after], 0.0)
        turn = one[0] * two[1] - one[1] * two[0]
        if abs(turn) < KINK or not (owners == k).any():
            continue
        sides = np.array(((-one[1], one[0]), (-two[1], two[0])))
        off = (mean[owners == k][-NEAR:].mean(), mean[owners == after][:NEAR].mean())
        parts.append((np.array(piece.end) + np.linalg.solve(sides, off))[None])
    if path.is_closed:
        parts.append(parts[0][:1])
    return np.concatenate(parts)


def _laid_upon(
    row: Points, base: Points, normals: Points, size: float
) -> tuple[Points, tuple[float, float, float]]:
    """A row shifted and turned onto the base, with the shift [mm, mm] and turn [deg] it took."""
    base, normals = base[::THIN], normals[::THIN]
    middle = base.mean(axis=0)
    start = row.copy()
    # a first shift: the middles of the boxes; the tracing's origin means nothing
    row = row + (base.min(axis=0) + base.max(axis=0) - row.min(axis=0) - row.max(axis=0)) / 2.0
    for _ in range(ROUNDS):
        off = _offsets(base, normals, row, REACH * size)
        seen = np.isfinite(off)
        if seen.mean() < LEAST_SHARED / 2.0:
            break
        # far-off places are mostly other parts of the profile: they count less
        limit = 3.0 * float(np.median(np.abs(off[seen]))) + 1e-9
        seen &= np.abs(np.nan_to_num(off, nan=np.inf)) <= limit
        away = base[seen] - middle
        turning = away[:, 0] * normals[seen, 1] - away[:, 1] * normals[seen, 0]
        table = np.column_stack((normals[seen], turning))
        step, *_ = np.linalg.lstsq(table, -off[seen], rcond=None)
        row = _turned(row, float(step[2]), middle) + step[:2]
        if float(np.abs(step[:2]).max()) < 1e-7 and abs(float(step[2])) * size < 1e-7:
            break
    one, two = start[-1] - start[0], row[-1] - row[0]
    if float(np.hypot(*one)) < size / 4.0:
        one, two = start[len(start) // 2] - start[0], row[len(row) // 2] - row[0]
    angle = math.atan2(one[0] * two[1] - one[1] * two[0], float(one @ two))
    shift = row.mean(axis=0) - start.mean(axis=0)
    return row, (float(shift[0]), float(shift[1]), math.degrees(angle))


def _turned(row: Points, angle: float, about: Points) -> Points:
    cosine, sine = math.cos(angle), math.sin(angle)
    away = row - about
    turned = np.column_stack(
        (cosine * away[:, 0] - sine * away[:, 1], sine * away[:, 0] + cosine * away[:, 1])
    )
    return turned + about


def _offsets(base: Points, normals: Points, row: Points, reach: float) -> Points:
    """How far to the left of each base point the row crosses its normal [mm], nan where not.

    Of several crossings the nearest counts.
    """
    parts = []
    for begin in range(0, len(base), AT_ONCE):
        points, left = base[begin : begin + AT_ONCE], normals[begin : begin + AT_ONCE]
        # of every point of the row, how far along and how far to the left it lies of each place
        along = left[:, 1:] * row[:, 0] - left[:, :1] * row[:, 1]
        along -= (left[:, 1] * points[:, 0] - left[:, 0] * points[:, 1])[:, None]
        aside = left @ row.T - (left * points).sum(axis=1)[:, None]
        one, two = along[:, :-1], along[:, 1:]
        crossing = (one <= 0.0) != (two <= 0.0)
        share = np.divide(one, one - two, out=np.zeros_like(one), where=crossing)
        height = aside[:, :-1] + share * np.diff(aside, axis=1)
        height[~crossing | (np.abs(height) > reach)] = np.inf
        nearest = np.take_along_axis(height, np.abs(height).argmin(axis=1)[:, None], axis=1)[:, 0]
        parts.append(np.where(np.isfinite(nearest), nearest, np.nan))
    found: Points = np.concatenate(parts)
    return found

"""What a measured test cut tells: the offsets, depths, diameters and wedges that explain it best.

Least squares on the distances of the measured points to the section, each weighed by how truly it
was measured, with the shop's usual errors as prior: what no point tells stays as expected. The
uncertainties are those of the Jacobian at the answer.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.cutting.nearest import Numbers
from profilestack.errors import InputError, Problem
from profilestack.geometry.path import Points
from profilestack.planning.unknowns import Unknowns, unknowns_of
from profilestack.planning.usual_errors import ON_A_CNC, Source, UsualErrors
from profilestack.stack import Stack

TRUE_TO = 0.05
"""Points are true to so much, one standard deviation [mm] (common practice for a gauge)."""

SEEN = 2.0
"""An unknown is seen by the points when it alone would show by so many standard deviations."""

SINGULAR = 0.02
"""Directions that the points tell less of than this share are said not to be told apart."""

TOGETHER = 0.2
"""So large an entry of the untold directions joins two unknowns."""

OUTLYING = 5.0
"""Points further off than so many standard deviations after the fit are named."""

LAY_SIGMAS = (2.0, 2.0, 1.0)
"""How far points that lie anywhere may be off across, up [mm] and in their turn [deg]."""

MOST_POINTS = 1500
"""Of more points, so many are taken, evenly."""


@dataclass(frozen=True, slots=True)
class Found:
    """What one unknown came to: ``error`` give or take ``sigma`` [mm, deg].

    ``usual`` is what was expected before; ``seen`` says whether the points tell it at all.
    """

    source: Source
    error: float
    sigma: float
    usual: float
    seen: bool


@dataclass(frozen=True, slots=True, eq=False)
class Explanation:
    """What explains a measured cut.

    ``before`` and ``after`` are root mean squares of the distances to the section as set and as
    explained, outlying points left out [mm]; ``noise`` is how true the points are taken to be
    [mm]. ``mixed`` are groups of unknowns (places in ``found``) that the points cannot tell apart.
    ``distances`` (m,) [mm] are those of ``points`` after the fit, + outside the wood; ``outlying``
    are places in them. ``lay`` is how the points were moved: across, up [mm], turned [deg]; None
    where they lay fixed.
    """

    stack: Stack
    found: tuple[Found, ...]
    mixed: tuple[tuple[int, ...], ...]
    before: float
    after: float
    noise: float
    points: Points
    distances: Numbers
    outlying: tuple[int, ...]
    lay: tuple[float, float, float] | None

    def error(self, kind: str, place: int) -> float:
        """The error of a pass's (place from 0) offset, depth, diameter or wedge [mm, deg]."""
        fitting = (
            each.error
            for each in self.found
            if each.source.kind == kind and place in each.source.passes
        )
        return next(fitting, 0.0)


def explain(
    stack: Stack,
    bits: Mapping[str, Bit],
    points: Points,
    noise: float = TRUE_TO,
    lies_anywhere: bool = False,
    errors: UsualErrors = ON_A_CNC,
    weights: Numbers | None = None,
) -> Explanation:
    """What explains points (m, 2) [mm] measured on the outline of a test cut.

    ``noise`` is how true they are [mm]; ``weights`` (m,) count single points more or less.
    Points are measured from the blank's lower left unless they lie anywhere: then they are laid
    over the section too.

    Raises:
        InputError: no passes, no points, or points far from the part.
    """
    unknowns = unknowns_of(stack, bits, errors)
    if len(points) > MOST_POINTS and weights is None:
        points = points[np.linspace(0, len(points) - 1, MOST_POINTS).astype(np.intp)]
    _check(unknowns, points, lies_anywhere)
    told = np.ones(len(points)) if weights is None else weights
    first = _Fit(unknowns, points, noise, lies_anywhere, told)
    robust = first.solved("soft_l1", np.zeros(len(first.prior()[0])))
    far = np.abs(first.far(robust))
    # single points that nothing explains must not pull at the rest
    most = OUTLYING * max(noise, 1.5 * float(np.median(far)))
    return replace(first, weights=np.where(far > most, 0.0, told)).explanation(robust)


def _check(unknowns: Unknowns, points: Points, lies_anywhere: bool) -> None:
    if not unknowns.sources:
        raise InputError(Problem("pass", "the stack cuts nothing", "at least one pass"))
    if len(points) < 2:
        raise InputError(Problem("points", f"{len(points)} measured", "at least two"))
    far = np.abs(unknowns.distances(np.zeros((1, len(unknowns.sources))), points)[0])
    if float(np.median(far)) > 5.0:
        hint = "measure from the blank's lower left" + ("" if lies_anywhere else ", or --lay")
        text = f"half of the points lie more than {float(np.median(far)):.1f} mm off the section"
        raise InputError(Problem("points", text, "points on the cut's outline", hint))


@dataclass(frozen=True, slots=True, eq=False)
class _Fit:
    """One least-squares problem: unknowns of the cut, then three of how the points lie."""

    unknowns: Unknowns
    points: Points
    noise: float
    lies_anywhere: bool
    weights: Numbers

    @property
    def count(self) -> int:
        return len(self.unknowns.sources)

    def laid(self, lay: Numbers) -> Points:
        """The points moved by across, up [mm] and turned about their middle [deg]."""
        if not self.lies_anywhere:
            return self.points
        middle = self.points.mean(axis=0)
        turn = math.radians(float(lay[2]))
        cos, sin = math.cos(turn), math.sin(turn)
        beside = self.points - middle
        turned = np.column_stack(
            (cos * beside[:, 0] - sin * beside[:, 1], sin * beside[:, 0] + cos * beside[:, 1])
        )
        return np.asarray(turned + middle + lay[:2])

    def far(self, values: Numbers) -> Numbers:
        """Distances of the points [mm]."""
        cut, lay = values[: self.count], values[self.count :]
        return np.asarray(self.unknowns.distances(cut[None, :], self.laid(lay))[0])

    def slopes(self, values: Numbers, wary: bool = False) -> Numbers:
        """What each unknown does to the distances, (m, unknowns)."""
        cut, lay = values[: self.count], values[self.count :]
        found = self.unknowns.slopes(cut, self.laid(lay), wary)
        if not self.lies_anywhere:
            return found
        columns = []
        for k in range(3):
            step = np.zeros(3)
            step[k] = 0.01
            pair = [
                self.unknowns.distances(cut[None, :], self.laid(lay + sign * step))[0]
                for sign in (1.0, -1.0)
            ]
            columns.append((pair[0] - pair[1]) / 0.02)
        return np.column_stack((found, *columns))

    def prior(self) -> tuple[Numbers, Numbers]:
        """Mean of all unknowns, and the covariance of what is expected."""
        if not self.lies_anywhere:
            return self.unknowns.mean, self.unknowns.covariance
        size = self.count + 3
        covariance = np.zeros((size, size))
        covariance[: self.count, : self.count] = self.unknowns.covariance
        covariance[self.count :, self.count :] = np.diag(np.array(LAY_SIGMAS) ** 2)
        return np.concatenate((self.unknowns.mean, np.zeros(3))), covariance

    def root(self) -> Numbers:
        """A root of the prior's covariance."""
        covariance = self.prior()[1]
        return np.asarray(np.linalg.cholesky(covariance + 1e-12 * np.eye(len(covariance))))

    def solved(self, loss: Literal["linear", "soft_l1"], start: Numbers) -> Numbers:
        """The unknowns that explain the points best, looked for from ``start`` on."""
        from scipy.optimize import least_squares

        mean, root = self.prior()[0], self.root()
        scale = self.weights / self.noise

        # values = mean + root u: in u the prior is one standard deviation in every direction
        def rest(u: Numbers) -> Numbers:
            return np.concatenate((self.far(mean + root @ u) * scale, u))

        def slope(u: Numbers) -> Numbers:
            data = self.slopes(mean + root @ u) * scale[:, None]
            return np.concatenate((np.asarray(data @ root), np.eye(len(u))))

        begin = np.linalg.solve(root, start - mean)
        found = least_squares(rest, begin, slope, loss=loss, f_scale=2.0, max_nfev=40)
        return np.asarray(mean + root @ found.x)

    def explanation(self, start: Numbers) -> Explanation:
        """The answer, with the uncertainties of the Jacobian there."""
        values, root = self.solved("linear", start), self.root()
        scale = self.weights / self.noise
        data = self.slopes(values, wary=True) * scale[:, None]
        far = self.far(values)
        inner = np.linalg.inv(root.T @ data.T @ data @ root + np.eye(len(root)))
        told = len(root) - float(np.trace(inner))  # so many unknowns the points really tell
        spare = max(1.0, np.count_nonzero(scale) - told)
        worse = max(1.0, float(((far * scale) ** 2).sum()) / spare)
        after = root @ inner @ root.T * worse
        return self._told(values, after, data, far, math.sqrt(worse))

    def _told(
        self, values: Numbers, after: Numbers, data: Numbers, far: Numbers, worse: float
    ) -> Explanation:
        usual = np.sqrt(np.diag(self.prior()[1]))
        strength = np.sqrt((data**2).sum(axis=0)) * usual
        sources = self.unknowns.sources
        found = tuple(
            Found(source, float(values[k]), math.sqrt(float(after[k, k])), float(usual[k]),
                  bool(strength[k] > SEEN))
            for k, source in enumerate(sources)
        )  # fmt: skip
        noise = self.noise * worse
        zero = self.far(np.zeros(len(values)))
        outlying = np.flatnonzero(np.abs(far) > OUTLYING * noise)
        lay = values[self.count :]
        return Explanation(
            self.unknowns.stack, found, mixed_of(data[:, : self.count], strength[: self.count]),
            _rms(zero), _rms(far[self.weights > 0.0]), noise, self.points, far,
            tuple(outlying.tolist()),
            (float(lay[0]), float(lay[1]), float(lay[2])) if self.lies_anywhere else None,
        )  # fmt: skip


def mixed_of(data: Numbers, strength: Numbers) -> tuple[tuple[int, ...], ...]:
    """Groups of unknowns that are seen, but that the points cannot tell apart.

    ``data`` (m, unknowns) are the slopes over the noise, ``strength`` how well each is seen
    alone. Near-singular directions of the columns, each scaled to one, join their unknowns.
    """
    seen = np.flatnonzero(strength > SEEN)
    if len(seen) < 2:
        return ()
    columns = data[:, seen] / np.linalg.norm(data[:, seen], axis=0)
    told, directions = np.linalg.eigh(columns.T @ columns)
    hidden = directions[:, told < SINGULAR]
    joined = np.abs(hidden @ hidden.T) > TOGETHER
    groups: list[tuple[int, ...]] = []
    left = [k for k in range(len(seen)) if joined[k, k]]
    while left:
        group, edge = {left[0]}, [left[0]]
        while edge:
            here = edge.pop()
            more = [k for k in left if joined[here, k] and k not in group]
            group.update(more)
            edge += more
        left = [k for k in left if k not in group]
        if len(group) > 1:
            groups.append(tuple(int(seen[k]) for k in sorted(group)))
    return tuple(groups)


def _rms(values: Numbers) -> float:
    return math.sqrt(float((values**2).mean()))

"""From a chain of lines, arcs, free curves or measured points to a path of few lines and arcs.

A drawing's own lines and arcs stay exactly as they are; what is a free curve, or a curve cut into
short lines or shallow arcs, becomes few arcs within a chosen tolerance. Measured points become few
lines and arcs that even out their scatter.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.geometry.crossing import direction_at
from profilestack.geometry.path import Arc, Line, Path, Point, Points
from profilestack.geometry.polyline import filled
from profilestack.targets.deviation import FINEST, Deviation, Yardstick, deviation_of
from profilestack.targets.moving import Rules
from profilestack.targets.rows import Corner, Row, first_cut, row_of
from profilestack.targets.smoothing import (
    Draft,
    levelled,
    merged,
    settled,
    tangent_everywhere,
    tangent_where_it_fits,
)
from profilestack.targets.tracing import Chain, Curve, Piece

Tangent = Literal["where-it-fits", "everywhere", "nowhere"]

TOLERANCES = (1e-4, 10.0)
"""A tolerance outside these is a slip [mm]."""

STRICTER = (1.0, 0.8, 0.6, 0.4)
"""Shares of the tolerance that are tried until the whole path keeps the whole tolerance."""

CORNER = math.radians(20.0)
"""A closed chain is opened at a joint that bends more, if there is one."""

CLOSE = 0.5
"""Points that are put between measured ones are no farther apart [mm]."""

MOST_PIECES = 60
"""Paths of more pieces stay as they are first found: the points scatter more than the tolerance,
and evening them out against it would take long and help nobody."""


@dataclass(frozen=True, slots=True)
class FitWishes:
    """How a path is to be fitted.

    ``tolerance`` [mm] bounds the deviation both ways. ``tangent``: joints with a small kink are
    made tangent "where-it-fits" without more pieces, or "everywhere" with as many as it takes, or
    "nowhere". ``level``: nearly level and upright lines become exactly so. ``corners`` are places
    that are said to be sharp.
    """

    tolerance: float = 0.02
    tangent: Tangent = "where-it-fits"
    level: bool = True
    corners: tuple[Corner, ...] = ()

    def __post_init__(self) -> None:
        low, high = TOLERANCES
        if not low <= self.tolerance <= high:
            raise InputError(
                Problem("tolerance", f"{self.tolerance!r} is impossible", f"{low:g} to {high:g} mm")
            )


@dataclass(frozen=True, slots=True)
class Fit:
    """A fitted path, its deviation from the chain [mm], and the pieces before and after."""

    path: Path
    deviation: Deviation
    before: int
    after: int


def fit(chain: Chain, wishes: FitWishes | None = None) -> Fit:
    """Fit few lines and arcs to a chain; a closed chain gives a closed path.

    Where measured points are so few that an arc through them would lead far off the lines between
    them, those lines count as measured too.

    Raises:
        InputError: the chain has no length.
    """
    wishes = wishes or FitWishes()
    plain = _fit(chain, wishes)
    if not chain.measured or plain.deviation.path <= wishes.tolerance:
        return plain
    close = _fit(_between_the_points(chain), wishes)
    if close.deviation.largest >= plain.deviation.largest:
        return plain
    return replace(close, before=plain.before)


def _between_the_points(chain: Chain) -> Chain:
    """The chain with points put on the lines between its points, ``CLOSE`` apart at most."""
    points: list[Point] = [(float(x), float(z)) for x, z in filled(chain.flatten(), CLOSE)]
    lines = tuple(Line(start, end) for start, end in itertools.pairwise(points))
    return replace(chain, pieces=lines)


def _fit(chain: Chain, wishes: FitWishes) -> Fit:
    if chain.length < 1e-6:
        raise InputError(Problem("target", "is one point", "a path with some length"))
    chain = _opened(chain)
    row = row_of(chain, wishes.corners, wishes.tolerance)
    blunt = wishes.corners if chain.measured else ()
    yardstick = Yardstick(_seen_points(chain, row), chain.flatten(FINEST), chain.measured, blunt)
    best: tuple[Draft, Deviation] | None = None
    for share in STRICTER:
        draft = _draft(row, yardstick.thinned(), wishes, share * wishes.tolerance)
        off = deviation_of(draft.joined, yardstick)
        if best is None or off.largest < best[1].largest:
            best = (draft, off)
        if off.largest <= wishes.tolerance:
            break
    assert best is not None
    draft, off = best
    return Fit(draft.joined.path(), off, chain.count, draft.joined.count)


def _draft(row: Row, yardstick: Yardstick, wishes: FitWishes, tolerance: float) -> Draft:
    joined, joints, exact = first_cut(row, tolerance)
    sharp = frozenset(k for k, point in enumerate(joints) if point in row.sharp)
    held = _held(row, joined.count, exact)
    draft = Draft(joined, tuple(joints), exact, sharp, Rules(held, exact))
    if row.measured and joined.count > MOST_PIECES:
        return draft
    if row.measured:
        tried = settled(draft, row, draft.rules)
        if tried.keeps(tolerance, yardstick):
            draft = tried
        draft = merged(draft, row, yardstick, tolerance)
    if wishes.level:
        draft = levelled(draft, row, yardstick, tolerance)
    if draft.joined.count > MOST_PIECES or wishes.tangent == "nowhere":
        return draft
    if wishes.tangent == "everywhere":
        return tangent_everywhere(draft, row, yardstick, tolerance)
    return tangent_where_it_fits(draft, row, yardstick, tolerance)


def _held(row: Row, count: int, exact: frozenset[int]) -> frozenset[int]:
    """The joints of a drawing's own pieces, and its ends, stay where they are."""
    if row.measured:
        return frozenset()
    return frozenset({0, count, *exact, *(k + 1 for k in exact)})


def _seen_points(chain: Chain, row: Row) -> Points:
    """What the path has to pass near: every measured point, every sample of a drawing."""
    return chain.flatten() if chain.measured else row.points


def _opened(chain: Chain) -> Chain:
    """A closed chain begun at its sharpest corner; others as they are."""
    if not chain.is_closed:
        return chain
    if chain.measured:
        return _rolled(chain)
    pieces = [piece for piece in chain.pieces if piece.length > 0.0]
    bends = [_bend(pieces[k - 1], pieces[k]) for k in range(len(pieces))]
    sharpest = int(np.argmax(bends))
    if bends[sharpest] < CORNER:
        return chain
    return Chain((*pieces[sharpest:], *pieces[:sharpest]), chain.label)


def _rolled(chain: Chain) -> Chain:
    """Measured points round a closed outline, begun where they bend most over a short way."""
    points = chain.flatten()[:-1]
    reach = max(1, min(len(points) // 60, 12))
    back = points - np.roll(points, reach, axis=0)
    ahead = np.roll(points, -reach, axis=0) - points
    turn = np.arctan2(
        back[:, 0] * ahead[:, 1] - back[:, 1] * ahead[:, 0], (back * ahead).sum(axis=1)
    )
    first = int(np.argmax(np.abs(turn)))
    if abs(float(turn[first])) < CORNER:
        first = 0
    rolled = np.roll(points, -first, axis=0)
    return Chain((Curve(np.concatenate((rolled, rolled[:1]))),), chain.label, True)


def _bend(before: Piece, after: Piece) -> float:
    """The change of direction from one piece to the next [rad], 0 to pi."""
    one, two = _direction(before, 1.0), _direction(after, 0.0)
    cross, dot = one[0] * two[1] - one[1] * two[0], one[0] * two[0] + one[1] * two[1]
    return abs(math.atan2(cross, dot))


def _direction(piece: Piece, share: float) -> tuple[float, float]:
    if not isinstance(piece, Curve):
        return direction_at(piece, share)
    first, last = (piece.points[-2], piece.points[-1]) if share else piece.points[:2]
    step = last - first
    return (float(step[0]), float(step[1]))


def exact_path(chain: Chain) -> Path | None:
    """The chain as a path when it is made of lines and arcs alone, else None."""
    path = Path(chain.start)
    for piece in chain.pieces:
        if isinstance(piece, Curve):
            return None
        if isinstance(piece, Arc):
            path = path.arc(piece.end, piece.center, piece.turn)
        else:
            path = path.line(piece.end)
    return path

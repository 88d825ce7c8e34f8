"""Flattened rings told again as the lines and arcs that they came from.

Cutting is done with polygons: each side of a ring is part of a chord of some exact piece. Knowing
the pieces, the rings are followed side by side, each stretch is given back to its line or circle,
and neighbouring stretches are met exactly.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from profilestack.geometry.carriers import are_one_carrier, carrier_key, joint_of
from profilestack.geometry.crossing import path_of
from profilestack.geometry.path import (
    SAME_POINT,
    Arc,
    Line,
    Path,
    Point,
    Points,
    Segment,
    Turn,
    agreed_center,
)

ON_CHORD = 1e-7
"""A side of a ring lies on the chord that it is part of within this [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Source:
    """An exact piece, and the points (n, 2) [mm] of the chords that stood for it."""

    piece: Segment
    points: Points


@dataclass(frozen=True, slots=True, eq=False)
class _Stretch:
    """Sides of a ring that follow each other on one line or circle; ``points`` are their ends."""

    piece: Segment
    points: Points

    @property
    def length(self) -> float:
        """Length of its sides [mm]."""
        return float(np.hypot(*np.diff(self.points, axis=0).T).sum())

    def swept(self, begin: Point, end: Point) -> float:
        """How far it goes round its circle [rad], counter-clockwise above 0, between two joints."""
        center = np.array(self.piece.center)  # type: ignore[union-attr]  # arcs only
        points = np.concatenate(([begin], self.points[1:-1], [end])) - center
        turned = np.diff(np.unwrap(np.arctan2(points[:, 1], points[:, 0])))
        return float(turned.sum())


def retraced(
    rings: Iterable[Points], sources: Sequence[Source], chord: float, shortest: float
) -> tuple[Path, ...]:
    """Closed paths of as few lines and arcs as the rings really have.

    Args:
        rings: each shape (n, 2) [mm], the first point not repeated.
        sources: every piece that a side may come from.
        chord: how far a flattened side may be off its piece [mm]. What is thinner than that comes
            from the flattening and is not told.
        shortest: no piece is shorter than this [mm]; its neighbours take over its way.

    Returns:
        One path a ring, turning as the ring does. Pieces meet exactly; where they miss each
        other by no more than the chord error or the shortest piece, they meet in the middle or
        on the arc.
    """
    table = _Table(sources)
    found = []
    for ring in rings:
        stretches = _stretches(ring, table)
        if path := _path_through(stretches, ring, chord, max(shortest, SAME_POINT)):
            found.append(path)
    return tuple(found)


class _Table:
    """The chords of all sources, to look up what a side is part of."""

    def __init__(self, sources: Sequence[Source]) -> None:
        self._sources = sources
        chords: list[Points] = []
        owners: list[int] = []
        numbers: dict[tuple[float, ...], int] = {}
        for source in sources:
            number = numbers.setdefault(carrier_key(source.piece), len(numbers))
            chords.append(np.stack((source.points[:-1], source.points[1:]), axis=1))
            owners += [number] * (len(source.points) - 1)
        self._owners = np.array(owners)
        self.pieces: dict[int, Segment] = {}
        for source in sources:
            self.pieces.setdefault(numbers[carrier_key(source.piece)], source.piece)
        lines = shapely.linestrings(np.concatenate(chords))
        self._tree = shapely.STRtree(np.asarray(lines))

    def owners_of(self, ring: Points) -> list[set[int]]:
        """For each side of a closed ring the lines and circles that it may lie on."""
        ends = np.roll(ring, -1, axis=0)
        middles = (ring + ends) / 2.0
        found: list[set[int]] = [set() for _ in ring]
        for places in (middles, ring, ends):
            near: list[set[int]] = [set() for _ in ring]
            which, chord = self._tree.query(
                shapely.points(places), predicate="dwithin", distance=ON_CHORD
            )
            for side, owner in zip(which.tolist(), self._owners[chord].tolist(), strict=True):
                near[side].add(owner)
            found = (
                near
                if places is middles
                else [a & b or a for a, b in zip(found, near, strict=True)]
            )
        for side, owners in enumerate(found):
            if not owners:  # a coarser grid moved the points: the nearest chord is meant
                owners.add(int(self._owners[self._tree.nearest(shapely.points(middles[side]))]))
        return found


def _stretches(ring: Points, table: _Table) -> list[_Stretch]:
    """The sides of a ring gathered greedily: as long as one line or circle can be all of them."""
    sizes = np.hypot(*(np.roll(ring, -1, axis=0) - ring).T)
    keep = sizes > ON_CHORD
    ring = ring[keep]
    if len(ring) < 3:
        return []
    owners = table.owners_of(ring)
    count = len(ring)
    # begin where nothing goes on, so that no stretch is told in two halves
    first = next((k for k in range(count) if not owners[k - 1] & owners[k]), 0)
    found: list[_Stretch] = []
    begin, shared = 0, set(owners[first])
    for k in range(1, count + 1):
        here = owners[(first + k) % count] if k < count else set[int]()
        if both := shared & here:
            shared = both
            continue
        places = [(first + j) % count for j in range(begin, k + 1)]
        found.append(_Stretch(table.pieces[min(shared)], ring[places]))
        begin, shared = k, set(here)
    return found


def _path_through(
    stretches: list[_Stretch], ring: Points, chord: float, shortest: float
) -> Path | None:
    """The exact path along stretches that follow each other round a ring."""
    area = abs(_area(ring))
    around = float(np.hypot(*(np.roll(ring, -1, axis=0) - ring).T).sum())
    if area <= chord * around:
        return None
    stretches = _merged(stretches)
    while len(stretches) > 1:
        joints = [
            joint_of(stretches[k - 1].piece, single.piece, _point(single.points[0]), chord)
            for k, single in enumerate(stretches)
        ]
        ends = [*joints[1:], joints[0]]
        doubtful = [
            (single.length, k)
            for k, single in enumerate(stretches)
            if _is_doubtful(single, joints[k], ends[k], shortest)
        ]
        if not doubtful:
            return path_of(
                [
                    _exact(single, begin, end)
                    for single, begin, end in zip(stretches, joints, ends, strict=True)
                ]
            )
        _, gone = min(doubtful)
        stretches = _merged(_without(stretches, gone))
    if not stretches or isinstance(stretches[0].piece, Line):
        return None
    circle = stretches[0].piece
    start = (circle.center[0] + circle.radius, circle.center[1])
    return Path(start).arc(start, circle.center, "ccw" if _area(ring) > 0.0 else "cw")


def _exact(single: _Stretch, begin: Point, end: Point) -> Segment:
    if isinstance(single.piece, Line):
        return Line(begin, end)
    turn: Turn = "ccw" if single.swept(begin, end) > 0.0 else "cw"
    # a joint between pieces that miss each other is off both: the centre gives way
    return Arc(begin, end, agreed_center(begin, end, single.piece.center), turn)


def _is_doubtful(single: _Stretch, begin: Point, end: Point, shortest: float) -> bool:
    """Whether a stretch is too short, or turns about when it is exact."""
    if math.dist(begin, end) <= shortest and single.length <= math.pi * shortest:
        return True
    if isinstance(single.piece, Line):
        along = single.points[-1] - single.points[0]
        return bool(along @ (np.array(end) - np.array(begin)) <= 0.0)
    given = single.swept(_point(single.points[0]), _point(single.points[-1]))
    return single.swept(begin, end) * given <= 0.0


def _without(stretches: list[_Stretch], gone: int) -> list[_Stretch]:
    """The stretches without one; its neighbours take over half of its way each."""
    kept = list(stretches)
    middle = kept[gone].points[[0, -1]].mean(axis=0)
    before, after = (gone - 1) % len(kept), (gone + 1) % len(kept)
    if before == after:
        points = kept[before].points
        kept[before] = replace(
            kept[before], points=np.concatenate(([middle], points[1:-1], [middle]))
        )
    else:
        points = kept[before].points
        kept[before] = replace(kept[before], points=np.concatenate((points[:-1], [middle])))
        points = kept[after].points
        kept[after] = replace(kept[after], points=np.concatenate(([middle], points[1:])))
    del kept[gone]
    return kept


def _merged(stretches: list[_Stretch]) -> list[_Stretch]:
    """Neighbours on one line or circle as one stretch."""
    kept: list[_Stretch] = []
    for single in stretches:
        if kept and are_one_carrier(kept[-1].piece, single.piece):
            points = np.concatenate((kept[-1].points, single.points[1:]))
            kept[-1] = replace(kept[-1], points=points)
        else:
            kept.append(single)
    if len(kept) > 1 and are_one_carrier(kept[-1].piece, kept[0].piece):
        last = kept.pop()
        points = np.concatenate((last.points, kept[0].points[1:]))
        kept[0] = replace(kept[0], points=points)
    return kept


def _area(ring: Points) -> float:
    """Signed area of a ring [mm2]."""
    x, z = ring.T
    return float(x @ np.roll(z, -1) - z @ np.roll(x, -1)) / 2.0


def _point(row: Points) -> Point:
    return (float(row[0]), float(row[1]))

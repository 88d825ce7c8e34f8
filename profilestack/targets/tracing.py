"""What a drawing, a list of points or a picture gives: chains of lines, arcs and free curves.

A tracing is not yet a target: it may come in many chains, in any order, with thousands of points.
Lines and arcs stay exact; a free curve is a row of points along it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from profilestack.geometry.motion import Motion
from profilestack.geometry.path import SAME_POINT, Arc, Line, Point, Points, Turn

ROUND = 1e-6
"""Scales that differ by no more than this share leave circles round."""

FINE = 0.001
"""Free curves, and arcs that a stretch makes oval, are true to this chord error [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Curve:
    """A free curve, or a row of measured points, shape (n, 2), n >= 2 [mm]."""

    points: Points

    @property
    def start(self) -> Point:
        """The first point [mm]."""
        return (float(self.points[0, 0]), float(self.points[0, 1]))

    @property
    def end(self) -> Point:
        """The last point [mm]."""
        return (float(self.points[-1, 0]), float(self.points[-1, 1]))

    @property
    def length(self) -> float:
        """Length through the points [mm]."""
        return float(np.hypot(*np.diff(self.points, axis=0).T).sum())


Piece = Line | Arc | Curve


@dataclass(frozen=True, slots=True, eq=False)
class Chain:
    """Pieces that follow each other, end to start [mm].

    ``label`` says where it comes from (a layer, a row of the file). ``measured`` tells that its
    points are samples with errors of their own, between which nothing is known.
    """

    pieces: tuple[Piece, ...]
    label: str = ""
    measured: bool = False

    @property
    def start(self) -> Point:
        """Where it starts [mm]."""
        return self.pieces[0].start

    @property
    def end(self) -> Point:
        """Where it ends [mm]."""
        return self.pieces[-1].end

    @property
    def length(self) -> float:
        """Length along the pieces [mm]."""
        return math.fsum(piece.length for piece in self.pieces)

    @property
    def is_closed(self) -> bool:
        """Whether it ends where it starts."""
        return math.dist(self.start, self.end) <= SAME_POINT and self.length > SAME_POINT

    @property
    def count(self) -> int:
        """How many lines and arcs it is made of; a free curve counts its segments."""
        return sum(len(p.points) - 1 if isinstance(p, Curve) else 1 for p in self.pieces)

    def reversed(self) -> Chain:
        """The same chain walked from its end."""
        return replace(self, pieces=tuple(reversed_piece(p) for p in reversed(self.pieces)))

    def flatten(self, chord: float = FINE) -> Points:
        """Points along it, shape (n, 2) [mm]; arcs are off by no more than ``chord`` [mm]."""
        parts = [np.array([self.start])]
        parts += [points_of(piece, chord)[1:] for piece in self.pieces]
        return np.concatenate(parts)


@dataclass(frozen=True, slots=True, eq=False)
class Tracing:
    """All chains of one file [mm].

    ``units`` ("mm" or "in") are the file's own; ``tolerance`` [mm] is what suits such a source;
    ``notes`` tell what was left out or taken for granted.
    """

    chains: tuple[Chain, ...]
    units: str = "mm"
    tolerance: float = 0.02
    notes: tuple[str, ...] = ()


def points_of(piece: Piece, chord: float = FINE) -> Points:
    """Points along a piece, shape (n, 2) [mm], its ends among them."""
    if isinstance(piece, Curve):
        return piece.points
    if isinstance(piece, Line):
        return np.array([piece.start, piece.end])
    widest = 2.0 * math.acos(max(0.0, 1.0 - chord / piece.radius))
    count = max(1, math.ceil(abs(piece.sweep) / widest))
    angles = piece.start_angle + piece.sweep * np.arange(count + 1) / count
    points = np.column_stack((np.cos(angles), np.sin(angles))) * piece.radius
    points += np.array(piece.center)
    points[0], points[-1] = piece.start, piece.end
    return points


def reversed_piece(piece: Piece) -> Piece:
    """The piece walked from its end."""
    if isinstance(piece, Curve):
        return Curve(piece.points[::-1])
    if isinstance(piece, Line):
        return Line(piece.end, piece.start)
    turn: Turn = "ccw" if piece.turn == "cw" else "cw"
    return Arc(piece.end, piece.start, piece.center, turn)


def moved(chain: Chain, motion: Motion) -> Chain:
    """The chain put through a motion."""
    return replace(chain, pieces=tuple(_moved(piece, motion) for piece in chain.pieces))


def stretched(chain: Chain, across: float, up: float) -> Chain:
    """The chain with x and z multiplied apart, both above 0.

    Unlike factors make arcs free curves.
    """
    if math.isclose(across, up, rel_tol=ROUND):
        return moved(chain, Motion(scale=across)) if across != 1.0 else chain
    scale = np.array((across, up))
    fine = FINE / max(across, up)
    pieces: list[Piece] = []
    for piece in chain.pieces:
        points = points_of(piece, fine) * scale
        if isinstance(piece, Line):
            pieces.append(Line(_point(points[0]), _point(points[1])))
        else:
            pieces.append(Curve(points))
    return replace(chain, pieces=tuple(pieces))


def box_of_chains(chains: Iterable[Chain]) -> tuple[float, float, float, float]:
    """Least x, least z, largest x and largest z over the chains [mm]."""
    points = np.concatenate([chain.flatten() for chain in chains])
    low, high = points.min(axis=0), points.max(axis=0)
    return (float(low[0]), float(low[1]), float(high[0]), float(high[1]))


def _moved(piece: Piece, motion: Motion) -> Piece:
    if isinstance(piece, Line):
        return Line(motion.apply(piece.start), motion.apply(piece.end))
    if isinstance(piece, Arc):
        turn = piece.turn
        if motion.mirrors:
            turn = "ccw" if turn == "cw" else "cw"
        start, end, center = (motion.apply(p) for p in (piece.start, piece.end, piece.center))
        return Arc(start, end, center, turn)
    x = -piece.points[:, 0] if motion.mirrors else piece.points[:, 0]
    z = piece.points[:, 1]
    points = motion.scale * np.column_stack(
        (motion.cosine * x - motion.sine * z, motion.sine * x + motion.cosine * z)
    )
    return Curve(points + np.array(motion.shift))


def _point(row: Points) -> Point:
    return (float(row[0]), float(row[1]))

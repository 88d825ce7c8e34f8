"""Moves of a bit's tip; lengths [mm], feeds [mm/min].

x runs across from the left side of the blank as it lies, y along from the part's left end, z up
from the bed.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from profilestack.geometry.path import Point, Turn

Place = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Rapid:
    """A quick straight move through free air."""

    to: Place


@dataclass(frozen=True, slots=True)
class Feed:
    """A straight move at a feed."""

    to: Place
    feed: float


@dataclass(frozen=True, slots=True)
class Bend:
    """A move at a feed along a circle about ``center`` in plan, z changing evenly along it.

    It turns by less than a full circle.
    """

    to: Place
    center: Point
    turn: Turn
    feed: float


Move = Rapid | Feed | Bend


def lowered(moves: Iterable[Move], by: float) -> list[Move]:
    """The moves counted from a level ``by`` above the bed [mm]."""
    return [replace(move, to=(move.to[0], move.to[1], move.to[2] - by)) for move in moves]

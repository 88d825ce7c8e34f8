"""Which radii a drawer can cut: the arcs of its bits' edges as they really are."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_path
from profilestack.geometry.path import Arc, Turn

SAME_RADIUS = 0.02
"""Radii that differ by no more than this [mm] are one: a tenth of it is felt by nobody."""

QUARTER = math.pi / 2.0
"""More of a round than this is made in two cuts [rad]."""

SHORT_OF = math.radians(3.0)
"""An edge's arc may be so much shorter than the wood's [rad]: grinding takes a little off."""


@dataclass(frozen=True, slots=True)
class Curve:
    """An arc in the wood: hollow or round, its ``radius`` [mm] and ``sweep`` [rad, above 0]."""

    hollow: bool
    radius: float
    sweep: float


@dataclass(frozen=True, slots=True)
class EdgeArc:
    """An arc of a bit's edge, told as the curve that it leaves in the wood."""

    curve: Curve
    bit: Bit

    def makes(self, wanted: Curve) -> bool:
        """Whether it is of the kind wanted and long enough, whatever its radius."""
        long_enough = self.curve.sweep >= min(wanted.sweep, QUARTER) - SHORT_OF
        return self.curve.hollow == wanted.hollow and long_enough


def edge_arcs(bits: Iterable[Bit]) -> tuple[EdgeArc, ...]:
    """All arcs of the bits' edges; those of bits without a pilot first.

    A pilot hangs below the edge: such a bit works along an edge of the blank alone.
    """
    found = [
        EdgeArc(curve_of(piece, "ccw"), bit)
        for bit in bits
        for piece in edge_path(bit).segments
        if isinstance(piece, Arc)
    ]
    return tuple(sorted(found, key=lambda arc: arc.bit.pilot_diameter is not None))


def curve_of(arc: Arc, hollow: Turn) -> Curve:
    """The curve in the wood; ``hollow`` is the turn that a hollow has on this path."""
    return Curve(arc.turn == hollow, arc.radius, abs(arc.sweep))


def owner_of(wanted: Curve, drawer: Iterable[EdgeArc]) -> Bit | None:
    """The first bit that has the radius of a curve, or None."""
    for arc in drawer:
        if arc.makes(wanted) and abs(arc.curve.radius - wanted.radius) <= SAME_RADIUS:
            return arc.bit
    return None


def most_change(radius: float, limit: float) -> float:
    """How far a radius may move [mm]: ``limit`` [mm] and a tenth of it at most."""
    return min(limit, SHARE * abs(radius)) + 1e-9


SHARE = 0.10
"""A radius moves by no more than this share of itself."""


def radii_near(wanted: Curve, drawer: Iterable[EdgeArc], limit: float) -> list[float]:
    """Radii of the drawer to which a curve may move [mm]: bits without a pilot, then nearest."""
    most = most_change(wanted.radius, limit)
    found: dict[float, tuple[bool, float]] = {}
    for arc in drawer:
        change = abs(arc.curve.radius - wanted.radius)
        if arc.makes(wanted) and change <= most:
            rank = (arc.bit.pilot_diameter is not None, change)
            found.setdefault(round(arc.curve.radius, 9), rank)
    return sorted(found, key=lambda radius: found[radius])


def nearest_radius(wanted: Curve, drawer: Iterable[EdgeArc]) -> EdgeArc | None:
    """The arc of the kind wanted whose radius is nearest, or None."""
    able = [arc for arc in drawer if arc.makes(wanted)]
    return min(able, key=lambda arc: abs(arc.curve.radius - wanted.radius), default=None)


def curves_of(arcs: Iterable[Arc], hollow: Turn) -> Iterator[Curve]:
    """The different curves among arcs: one for each kind and radius, with its largest sweep."""
    found: list[Curve] = []
    for arc in arcs:
        new = curve_of(arc, hollow)
        for number, known in enumerate(found):
            if known.hollow == new.hollow and abs(known.radius - new.radius) <= 1e-6:
                found[number] = Curve(new.hollow, known.radius, max(known.sweep, new.sweep))
                break
        else:
            found.append(new)
    yield from found

"""What one bit meets in one setup: the wood to keep, its deepest depths, the places it fits into.

Worked out once for a bit, a setup and a target; a drag asks it many times. Offsets and depths are
those of a pass [mm]: from the left side and from the top of the blank's box as it lies.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_path, largest_radius
from profilestack.cutting.cut import CHORD
from profilestack.cutting.nearest import Numbers
from profilestack.cutting.stroke import Lie, lie_of
from profilestack.cutting.wanted import Wanted, wanted_in
from profilestack.errors import InputError
from profilestack.finding.nestling import nestling
from profilestack.geometry.path import Arc, Path
from profilestack.geometry.region import chains_of
from profilestack.planning.lowering import (
    LOWEST,
    Skyline,
    Underside,
    lowest_tips,
    skyline_of,
    underside_of,
)
from profilestack.stack import Stack
from profilestack.stack.blank import Blank
from profilestack.stack.target import Target

COARSE = 0.1
"""Offsets are looked at so far apart [mm] to find where a bit nestles."""

SAME_RADIUS = 0.02
"""Arcs whose radii differ by no more than this [mm] lie on each other."""

ALLOWED = 0.01
"""A place on an arc counts although the bit cuts so much [mm] too deep: the arcs are flattened."""


@dataclass(frozen=True, slots=True)
class Seat:
    """A place where a bit fits: ``radius`` [mm] where it lies in an arc of the target, else 0."""

    offset: float
    depth: float
    radius: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What a bit meets in a setup.

    ``wood`` is the top of the wanted wood as it lies, None without a target. ``arcs`` are seats
    in arcs of the bit's own radius; ``rough`` (n,) are offsets near which it touches twice, or
    lies lowest, to within ``COARSE``.
    """

    bit: Bit
    lie: Lie
    wanted: Wanted | None
    wood: Skyline | None
    under: Underside
    arcs: tuple[Seat, ...]
    rough: Numbers

    def deepest(self, offset: float) -> float | None:
        """The largest depth at this offset that leaves the target whole; None: nothing is met."""
        return _deepest(self, offset)

    def seats_near(self, offset: float, reach: float) -> tuple[Seat, ...]:
        """The seats within ``reach`` of an offset [mm]."""
        found = [seat for seat in self.arcs if abs(seat.offset - offset) <= reach]
        near = np.flatnonzero(np.abs(self.rough - offset) <= reach + COARSE)
        for index in near.tolist():
            seat = _refined(self, float(self.rough[index]))
            in_arc = any(abs(seat.offset - other.offset) < 2.0 * COARSE for other in found)
            if not in_arc and abs(seat.offset - offset) <= reach:
                found.append(seat)
        return tuple(found)


def ground_of(stack: Stack, setup: str, bit: Bit) -> Ground:
    """What the bit meets in that setup of a stack; kept, so that asking again is quick."""
    return _ground(stack.blank, stack.target, stack.setup(setup).angle, bit)


@lru_cache(maxsize=64)
def _ground(blank: Blank, target: Target | None, angle: float, bit: Bit) -> Ground:
    lie = lie_of(blank, angle)
    edge = edge_path(bit).flatten(CHORD)
    # the shank stands over the edge and must not meet the wood either
    under = underside_of(np.concatenate((edge, [(bit.shank / 2.0, edge[-1, 1])])))
    wanted = None
    if target is not None:
        try:
            wanted = wanted_in(blank, target, CHORD)
        except InputError:
            wanted = None  # a target that does not fit is told elsewhere; it cannot be touched
    if wanted is None:
        return Ground(bit, lie, None, None, under, (), np.zeros(0))
    laid = shapely.transform(wanted.region, lie.to_bench)
    wood = skyline_of(chains_of(laid))
    bare = Ground(bit, lie, wanted, wood, under, (), np.zeros(0))
    arcs = tuple(_arc_seats(bare, wanted.path))
    return Ground(bit, lie, wanted, wood, under, arcs, _rough_seats(bare))


def _rough_seats(ground: Ground) -> Numbers:
    """Offsets near which the bit nestles."""
    assert ground.wood is not None
    radius = largest_radius(ground.bit)
    axes = np.arange(-radius, ground.lie.width + radius, COARSE)
    tips = lowest_tips(ground.under, ground.wood, axes)
    met = tips > LOWEST / 2.0
    found = nestling(np.where(met, tips, -1e3), COARSE)
    return axes[found[met[found] & met[found - 1] & met[found + 1]]]


@lru_cache(maxsize=64)
def _deepest(ground: Ground, offset: float) -> float | None:
    """As :meth:`Ground.deepest`: a hand that moves asks several times for one offset."""
    if ground.wood is None:
        return None
    tip = float(lowest_tips(ground.under, ground.wood, np.array([offset]))[0])
    return None if tip <= LOWEST / 2.0 else ground.lie.height - tip


@lru_cache(maxsize=512)
def _refined(ground: Ground, offset: float) -> Seat:
    """The bend of the tip's way beside an offset, eight times as closely each round."""
    assert ground.wood is not None
    step = COARSE
    for _ in range(6):
        axes = offset + np.linspace(-2.0 * step, 2.0 * step, 33)
        tips = lowest_tips(ground.under, ground.wood, axes)
        bends = tips[:-2] - 2.0 * tips[1:-1] + tips[2:]
        offset, step = float(axes[1 + int(np.argmax(bends))]), step / 8.0
    tip = float(lowest_tips(ground.under, ground.wood, np.array([offset]))[0])
    return Seat(offset, ground.lie.height - tip)


def _arc_seats(ground: Ground, path: Path) -> list[Seat]:
    """Where an arc of the edge lies on an arc of the target."""
    is_left = path.is_closed and path.signed_area > 0.0
    found = []
    for wanted in path.segments:
        if not isinstance(wanted, Arc):
            continue
        # the wood is on the right hand, or inside: is it on the centre's side?
        is_round = (wanted.turn == "cw") != is_left
        center = ground.lie.to_bench(np.array([wanted.center]))[0]
        for own in edge_path(ground.bit).segments:
            if not isinstance(own, Arc) or abs(own.radius - wanted.radius) > SAME_RADIUS:
                continue
            if (own.turn == "cw") != is_round:  # the edge goes up with the bit on its left hand
                continue
            for side in sorted({own.center[0], -own.center[0]}):
                offset, tip = float(center[0]) - side, float(center[1]) - own.center[1]
                seat = Seat(offset, ground.lie.height - tip, wanted.radius)
                if _fits(ground, seat, own, mirrored=side != own.center[0]):
                    found.append(seat)
    return found


def _fits(ground: Ground, seat: Seat, own: Arc, *, mirrored: bool) -> bool:
    """Whether the bit at a seat lies on the target along its arc and leaves the target whole."""
    most = ground.deepest(seat.offset)
    if seat.depth <= 0.0 or most is None or seat.depth > most + ALLOWED or ground.wanted is None:
        return False
    angles = own.start_angle + own.sweep * np.linspace(0.02, 0.98, 25)
    points = np.column_stack((np.cos(angles), np.sin(angles))) * own.radius + np.array(own.center)
    if mirrored:
        points[:, 0] = -points[:, 0]
    points += np.array((seat.offset, ground.lie.height - seat.depth))
    far, _ = ground.wanted.line.nearest(ground.lie.to_section(points))
    return int((far <= 2.0 * SAME_RADIUS).sum()) >= 3

"""Grooves between members, and which bits go down to their bottom."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, edge_path
from profilestack.cutting.nearest import Numbers, densified
from profilestack.errors import InputError
from profilestack.finding.adapting.edge_arcs import SAME_RADIUS, edge_arcs
from profilestack.finding.adapting.refitting import curves_in, missing_curves
from profilestack.geometry.path import Points
from profilestack.targets.member import Member

TOUCH = 0.02
"""A bit may touch the sides of a groove by so much [mm]."""

TIP_ABOVE = 0.6
"""The flat of a V bit keeps it so far from the bottom of a V at most [mm]."""

CHORD = 0.005
STEP = 0.05
"""Sides of a groove are looked at in steps of this [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Groove:
    """Room beside the axis of a bit that stands over the middle of a groove.

    ``heights`` (n,) [mm] above the bottom are those of places on its sides, ``asides`` (n,) [mm]
    how far these are from the axis; ``depth`` [mm] is that of the shallower side.
    """

    heights: Numbers
    asides: Numbers
    depth: float


def groove_at(members: Sequence[Member], at: int, scale: float) -> Groove | None:
    """The groove whose bottom is the member there: a quirk, or a fillet between two that rise.

    None where it is no groove. Its sides are those of the member and of its two neighbours.
    """
    own = members[at]
    if own.member not in ("quirk", "fillet"):
        return None
    here = _points(own, 0.0, 0.0)
    bottom = float(here[:, 0].min())
    before = [] if at == 0 else [_above(members[at - 1])]
    after = [] if at + 1 == len(members) else [_points(members[at + 1], -own.step, -own.fall)]
    sides = [np.concatenate([*before, here]), np.concatenate([here, *after])]
    depth = min(float(side[:, 0].max()) for side in sides) - bottom
    if depth < TOUCH or any(float(side[:, 0].min()) < bottom - TOUCH for side in sides):
        return None
    whole = np.concatenate([*before, here, *after])
    middle = -own.fall / 2.0
    aside, height = np.abs(whole[:, 1] - middle), whole[:, 0] - bottom
    return Groove(scale * height, scale * aside, scale * depth)


def _points(member: Member, x: float, z: float) -> Points:
    points: Points = densified(member.trace().flatten(CHORD), STEP) + np.array((x, z))
    return points


def _above(member: Member) -> Points:
    """The points of a member whose lower end is at (0, 0)."""
    return _points(member, member.step, member.fall)


def enters(bit: Bit, groove: Groove, lift: float = 0.0) -> bool:
    """Whether the bit comes down to ``lift`` [mm] above the middle of the groove's bottom."""
    if bit.pilot_diameter is not None:
        return False  # its pilot is there before it
    # raised by a touch as well: where sides are steep, heights say little about what is beside
    above = groove.heights - lift - TOUCH
    over = above > 0.0
    room = groove.asides[over]
    return bool((_radii(bit, above[over]) <= room + TOUCH).all())


def _radii(bit: Bit, heights: Numbers) -> Numbers:
    """What the bit takes beside its axis at heights above the tip, its shank included [mm]."""
    chain = edge_path(bit).flatten(CHORD)
    top = edge_height(bit)
    # the largest radius so far on the way up would fill an overhang: the edge itself does not
    order = np.argsort(chain[:, 1], kind="stable")
    radii = np.interp(heights, chain[order, 1], chain[order, 0])
    return np.where(heights > top, bit.shank / 2.0, radii)


def is_entered(members: Sequence[Member], at: int, scale: float, bits: Sequence[Bit]) -> bool:
    """Whether a bit goes down to the bottom there; True also where there is no groove.

    Between two equal rounds it has to be a bit that makes them, if there is one: its flat is the
    narrowest bottom that they can have.
    """
    groove = groove_at(members, at, scale)
    if groove is None:
        return True
    able = _makers(members, at, scale, bits)
    return any(enters(bit, groove, _lift(members[at])) for bit in able)


def _makers(members: Sequence[Member], at: int, scale: float, bits: Sequence[Bit]) -> Sequence[Bit]:
    """The bits that have the round on both sides of a fillet; all bits where there are none."""
    if members[at].member != "fillet" or not 0 < at < len(members) - 1:
        return bits
    one, two = (curves_in(members[k], scale) for k in (at - 1, at + 1))
    if not (len(one) == len(two) == 1 and abs(one[0].radius - two[0].radius) <= SAME_RADIUS):
        return bits
    able = [
        bit
        for bit in bits
        if bit.pilot_diameter is None and not missing_curves([*one, *two], edge_arcs([bit]))
    ]
    return bits if one[0].hollow or two[0].hollow or not able else able


def _lift(member: Member) -> float:
    return TIP_ABOVE if member.variant == "v" else 0.0


@dataclass(frozen=True, slots=True)
class Widened:
    """A quirk, or the bottom of a groove, at the width of the bit that it was widened for."""

    member: Member
    drawn: float
    fitted: float
    bit: Bit


def widened(
    members: Sequence[Member], at: int, scale: float, bits: Sequence[Bit]
) -> Widened | None:
    """The member at the least width at which it is entered, see above; None if it never is.

    Widths [mm, before ``scale``] tried are those of the bits: their flat, and what they cut at
    the groove's depth.
    """
    own, groove = members[at], groove_at(members, at, scale)
    if groove is None:
        return None
    drawn = own.fall
    trials = sorted(
        (width / scale, place, bit)
        for place, bit in enumerate(_makers(members, at, scale, bits))
        for width in _widths(bit, groove.depth, own)
        if width / scale > drawn
    )
    for width, _, bit in trials:
        trial = _with_width(own, round(width, 9))
        if trial is None:
            continue
        wider = groove_at([*members[:at], trial, *members[at + 1 :]], at, scale)
        if wider is not None and enters(bit, wider, _lift(own)):
            return Widened(trial, drawn, trial.fall, bit)
    return None


def _widths(bit: Bit, depth: float, own: Member) -> set[float]:
    """Widths of a groove for which a bit may be made [mm]."""
    chain = edge_path(bit).flatten(CHORD)
    flat = 2.0 * float(chain[chain[:, 1] < 1e-6, 0].max())
    across = 2.0 * float(_radii(bit, np.array([min(depth, edge_height(bit))]))[0])
    return {across - flat} if own.variant == "v" else {flat, across}


def _with_width(member: Member, width: float) -> Member | None:
    if width <= 0.0:
        return None
    try:
        if member.member == "quirk":
            return replace(member, width=width)
        return replace(member, height=width)
    except InputError:
        return None

"""Other sizes of one member at which its radii are radii of the drawer."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from profilestack.bits.bit import Bit
from profilestack.errors import InputError
from profilestack.finding.adapting.edge_arcs import (
    Curve,
    EdgeArc,
    curves_of,
    most_change,
    owner_of,
    radii_near,
)
from profilestack.finding.adapting.slack import may_become
from profilestack.geometry.path import Arc
from profilestack.targets.member import Member
from profilestack.targets.member_shapes.base import same_length

DIGITS = 9
"""Sizes are rounded to so many decimals of a mm: the dust of a division."""

TRIES = 40
"""A root is halved in so often: to far below the rounding."""

MET = 1e-6
"""A radius is met within this [mm]."""


@dataclass(frozen=True, slots=True)
class Refit:
    """A member at another size: ``radii`` are (drawn, fitted) [mm on the wood], each with a bit."""

    member: Member
    radii: tuple[tuple[float, float, Bit], ...]


def curves_in(member: Member, scale: float) -> list[Curve]:
    """The different curves of a member on the wood; none for one without arcs."""
    arcs = [piece for piece in member.trace().segments if isinstance(piece, Arc)]
    return [replace(curve, radius=curve.radius * scale) for curve in curves_of(arcs, hollow="ccw")]


def missing_curves(curves: Sequence[Curve], drawer: Sequence[EdgeArc]) -> list[Curve]:
    """Those that no bit of the drawer has."""
    return [curve for curve in curves if owner_of(curve, drawer) is None]


def refits(
    member: Member, scale: float, drawer: Sequence[EdgeArc], limit: float
) -> Iterator[Refit]:
    """Members whose missing radii are moved to radii of the drawer, bits without a pilot first.

    Radii move by ``limit`` [mm on the wood] and a tenth at most. For each set of radii those come
    first that change fewest of height and projection, so that least slack is left.
    """
    curves = curves_in(member, scale)
    sizes = _distinct([curve.radius for curve in curves])
    if len(sizes) > 2:
        return
    groups = [[c for c in curves if abs(c.radius - size) <= MET * scale] for size in sizes]
    offers = [_offers(group, drawer, limit) for group in groups]
    # the best of each first; a sum of places in the lists orders the rest
    ranked = itertools.product(*(enumerate(offer) for offer in offers))
    choices = [
        tuple(radius for _, radius in choice)
        for choice in sorted(ranked, key=lambda choice: sum(place for place, _ in choice))
    ]
    # what leaves a radius that no bit has comes last
    choices.sort(key=lambda choice: sum(map(_is_missing, groups, choice, itertools.repeat(drawer))))
    for choice in choices:
        moved = [abs(new - old) > MET for new, old in zip(choice, sizes, strict=True)]
        if not any(moved):
            continue
        radii = []
        for group, old, new in zip(groups, sizes, choice, strict=True):
            for curve in group:
                bit = owner_of(replace(curve, radius=new), drawer)
                if abs(new - old) > MET and bit is not None:
                    radii.append((old, new, bit))
        for fitted in _resized(member, sizes, choice, scale, limit):
            yield Refit(fitted, tuple(radii))


def _is_missing(group: Sequence[Curve], radius: float, drawer: Sequence[EdgeArc]) -> bool:
    return any(owner_of(replace(curve, radius=radius), drawer) is None for curve in group)


def _offers(group: Sequence[Curve], drawer: Sequence[EdgeArc], limit: float) -> list[float]:
    """The radii that curves of one radius may have: the drawn one, and what bits have for all."""
    drawn = group[0].radius
    if not missing_curves(group, drawer):
        return [drawn]
    near = radii_near(group[0], drawer, limit)
    return [
        *(radius for radius in near if not _is_missing(group, radius, drawer)),
        drawn,
    ]


def _distinct(values: Sequence[float]) -> list[float]:
    found: list[float] = []
    for value in values:
        if all(abs(value - known) > MET for known in found):
            found.append(value)
    return found


def _resized(
    member: Member, old: Sequence[float], new: Sequence[float], scale: float, limit: float
) -> list[Member]:
    """The member with other radii [mm on the wood], fewest of its keys changed first."""
    wanted = [radius / scale for radius in new]
    found: list[Member | None] = []
    if len(new) == 1:
        if not _is_even(member):
            found += [_by_height(member, wanted[0], limit / scale)]
            found += [_by_projection(member, wanted[0], limit / scale)]
        found.append(_grown(member, new[0] / old[0]))
    elif len(new) == 2:
        found.append(_with_both(member, wanted))
    return [
        each
        for each in found
        if each is not None and _has_radii(each, wanted) and _is_like(member, each, scale)
    ]


def _is_even(member: Member) -> bool:
    """Whether height and projection belong together: quarters and half rounds stay so."""
    out = abs(member.projection or 0.0)
    tall = member.height or 0.0
    return same_length(out, tall) or same_length(out, tall / 2.0) or member.projection is None


def _has_radii(member: Member, radii: Sequence[float]) -> bool:
    found = _distinct([curve.radius for curve in curves_in(member, 1.0)])
    return len(found) == len(radii) and all(
        abs(a - b) <= MET for a, b in zip(found, radii, strict=True)
    )


def _is_like(drawn: Member, fitted: Member, scale: float) -> bool:
    """Whether it is the same chain of curves and lines, and no line of it shrank too far."""
    before, after = drawn.trace().segments, fitted.trace().segments
    if [type(piece) for piece in before] != [type(piece) for piece in after]:
        return False
    return all(
        isinstance(one, Arc) or may_become(one.length, other.length, scale)
        for one, other in zip(before, after, strict=True)
    )


def _grown(member: Member, factor: float) -> Member | None:
    out = member.projection
    height = None if member.height is None else member.height * factor
    return _made(member, height, None if out is None else out * factor)


def _made(member: Member, height: float | None, projection: float | None) -> Member | None:
    """The member with other sizes, or None where they are impossible."""
    if height is not None:
        height = round(height, DIGITS)
    if projection is not None:
        projection = round(projection, DIGITS)
    try:
        return replace(member, height=height, projection=projection)
    except InputError:
        return None


def _by_height(member: Member, radius: float, limit: float) -> Member | None:
    """The member whose one radius is met by changing its height alone, a tenth at most."""
    if member.height is None:
        return None

    def at(height: float) -> Member | None:
        return _made(member, height, member.projection)

    return _met(at, member.height, radius, limit)


def _by_projection(member: Member, radius: float, limit: float) -> Member | None:
    """The member whose one radius is met by changing its projection alone, a tenth at most."""
    if member.projection is None:
        return None

    def at(projection: float) -> Member | None:
        return _made(member, member.height, projection)

    return _met(at, member.projection, radius, limit)


def _met(
    at: Callable[[float], Member | None], drawn: float, radius: float, limit: float
) -> Member | None:
    """The member of those ``at`` a size near ``drawn`` that has the radius; by halving."""

    def miss(size: float) -> float | None:
        trial = at(size)
        curves = [] if trial is None else curves_in(trial, 1.0)
        return curves[0].radius - radius if curves else None

    here, most = miss(drawn), most_change(drawn, limit)
    for end in (drawn - most, drawn + most):
        there = miss(end)
        if here is None or there is None or here * there > 0.0:
            continue
        low, high = drawn, end
        for _ in range(TRIES):
            middle = (low + high) / 2.0
            value = miss(middle)
            if value is None:
                return None
            low, high = (middle, high) if value * here > 0.0 else (low, middle)
        return at(high)
    return None


def _with_both(member: Member, radii: Sequence[float]) -> Member | None:
    """The member whose two radii are met by height and projection together (Newton's way)."""
    at = [member.height or 0.0, member.step]

    def miss(sizes: Sequence[float]) -> list[float] | None:
        trial = _made(member, sizes[0], sizes[1])
        found = [] if trial is None else _distinct([c.radius for c in curves_in(trial, 1.0)])
        return [a - b for a, b in zip(found, radii, strict=True)] if len(found) == 2 else None

    step = 1e-3
    for _ in range(8):
        here, by_height, by_out = (
            miss(at), miss([at[0] + step, at[1]]), miss([at[0], at[1] + step])
        )  # fmt: skip
        if here is None or by_height is None or by_out is None:
            return None
        a, c = ((by_height[k] - here[k]) / step for k in (0, 1))
        b, d = ((by_out[k] - here[k]) / step for k in (0, 1))
        if abs(a * d - b * c) < 1e-9:
            return None
        at[0] -= (d * here[0] - b * here[1]) / (a * d - b * c)
        at[1] -= (a * here[1] - c * here[0]) / (a * d - b * c)
    return _made(member, at[0], at[1])

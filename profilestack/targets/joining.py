"""From loose chains to one: joined end to end, neighbours that are one made one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from profilestack.errors import InputError, Problem
from profilestack.geometry.crossing import point_on
from profilestack.geometry.path import SAME_POINT, Arc, Line, Point
from profilestack.targets.bulges import bulge_of, center_of
from profilestack.targets.tracing import Chain, Curve, Piece

GAP = 0.05
"""Ends of chains that are no further apart are joined, unless another gap is stated [mm]."""

SAME_CIRCLE = 1e-4
"""Arcs that follow each other with centres and radii so near are one [mm]."""


@dataclass(frozen=True, slots=True, eq=False)
class Joined:
    """The chains that joining leaves, longest first, and the largest gap that was closed [mm]."""

    chains: tuple[Chain, ...]
    gap: float


@dataclass(frozen=True, slots=True)
class _End:
    """One end of a chain: which, whether its start, and where."""

    chain: int
    is_start: bool
    at: Point


def joined(chains: Sequence[Chain], gap: float = GAP) -> Joined:
    """Chains put together wherever their ends lie within ``gap`` [mm], the nearest first.

    A gap is closed by moving both ends to its middle. Chains that are there twice count once.

    Raises:
        InputError: three ends meet in one place, so that nobody knows which two belong together.
    """
    sound = _without_doubles([chain for chain in chains if chain.length > SAME_POINT])
    partner, widest = _partners(sound, gap)
    found = []
    unused = set(range(len(sound)))
    # open rows first, from an end that nothing joins; what is left runs in rings
    starts = [
        (k, side) for k in range(len(sound)) for side in (True, False) if (k, side) not in partner
    ]
    for first, side in [*starts, *((k, True) for k in range(len(sound)))]:
        if first in unused:
            found.append(_walked(sound, partner, first, side, unused))
    found.sort(key=lambda chain: -chain.length)
    return Joined(tuple(found), widest)


def _without_doubles(chains: list[Chain]) -> list[Chain]:
    seen: set[tuple[object, ...]] = set()
    kept = []
    for chain in chains:
        ends = sorted((_rounded(chain.start), _rounded(chain.end)))
        kinds = tuple(type(piece).__name__ for piece in chain.pieces)
        middle = _rounded(_middle(chain))
        key = (*ends, middle, round(chain.length, 6), tuple(sorted(kinds)))
        if key not in seen:
            seen.add(key)
            kept.append(chain)
    return kept


def _middle(chain: Chain) -> Point:
    """A point inside the chain that is the same whichever way it is walked."""
    middles = [
        piece.points.mean(axis=0) if isinstance(piece, Curve) else point_on(piece, 0.5)
        for piece in chain.pieces
    ]
    x, z = np.array(middles).mean(axis=0)
    return (float(x), float(z))


def _rounded(point: Point) -> Point:
    return (round(point[0], 6), round(point[1], 6))


def _partners(
    chains: list[Chain], gap: float
) -> tuple[dict[tuple[int, bool], tuple[int, bool]], float]:
    """Which end goes on at which, and the largest gap between two that do."""
    ends = [
        _End(k, is_start, chain.start if is_start else chain.end)
        for k, chain in enumerate(chains)
        if not chain.is_closed
        for is_start in (True, False)
    ]
    near = sorted(_near_pairs(ends, max(gap, SAME_POINT)))
    partner: dict[tuple[int, bool], tuple[int, bool]] = {}
    widest = 0.0
    for far, i, j in near:
        one, two = (ends[i].chain, ends[i].is_start), (ends[j].chain, ends[j].is_start)
        if one in partner or two in partner:
            if one not in partner or two not in partner:
                free, taken = (ends[i], ends[j]) if one not in partner else (ends[j], ends[i])
                _refuse_branch(chains, free, taken, far)
            continue
        if one[0] == two[0] and chains[one[0]].length <= 2.0 * gap:
            continue  # a short line is no ring
        partner[one], partner[two] = two, one
        widest = max(widest, far)
    return partner, widest


def _refuse_branch(chains: list[Chain], free: _End, taken: _End, far: float) -> None:
    """Three ends in one place; a short line between two others is none."""
    if min(chains[free.chain].length, chains[taken.chain].length) <= far or far > SAME_POINT:
        return
    x, z = free.at
    label = chains[free.chain].label
    raise InputError(
        Problem(
            "target", f"three lines or more meet at ({x:.3f}, {z:.3f}) mm", "one profile",
            f"choose a layer, or take the surplus line away{f' ({label})' if label else ''}",
        )
    )  # fmt: skip


def _near_pairs(ends: list[_End], gap: float) -> list[tuple[float, int, int]]:
    """All pairs of ends within the gap, by a grid of cells as wide as it."""
    cells: dict[tuple[int, int], list[int]] = {}
    for number, end in enumerate(ends):
        cell = (math.floor(end.at[0] / gap), math.floor(end.at[1] / gap))
        cells.setdefault(cell, []).append(number)
    pairs = []
    for (column, row), members in cells.items():
        for other in ((0, 0), (1, -1), (1, 0), (1, 1), (0, 1)):
            there = cells.get((column + other[0], row + other[1]), [])
            for i in members:
                for j in there:
                    if other == (0, 0) and j <= i:
                        continue
                    far = math.dist(ends[i].at, ends[j].at)
                    if far <= gap:
                        pairs.append((far, min(i, j), max(i, j)))
                    if len(pairs) > 20 * len(ends) + 1000:
                        raise InputError(
                            Problem("target", f"has too many ends within {gap:g} mm of each other",
                                    "one profile", "choose a layer or a smaller gap")
                        )  # fmt: skip
    return pairs


def _walked(
    chains: list[Chain],
    partner: dict[tuple[int, bool], tuple[int, bool]],
    first: int,
    from_start: bool,
    unused: set[int],
) -> Chain:
    """One chain through all that follow ``first``, walked from its start or from its end."""
    pieces: list[Piece] = []
    labels: list[str] = []
    measured = chains[first].measured
    k, forward = first, from_start
    while k in unused:
        unused.remove(k)
        here = chains[k] if forward else chains[k].reversed()
        pieces = _closed_up(pieces, list(here.pieces))
        if here.label and here.label not in labels:
            labels.append(here.label)
        after = partner.get((k, not forward))
        if after is None:
            break
        k, forward = after
    if partner.get((first, from_start)) is not None:
        pieces = _ring_closed(pieces)
    return Chain(tuple(_simplified(pieces)), " + ".join(labels[:3]), measured)


def _closed_up(before: list[Piece], after: list[Piece]) -> list[Piece]:
    """Two rows of pieces as one, the gap between them closed in its middle."""
    if not before:
        return after
    one, two = before[-1].end, after[0].start
    place = ((one[0] + two[0]) / 2.0, (one[1] + two[1]) / 2.0) if one != two else one
    return [
        *before[:-1],
        _with_ends(before[-1], before[-1].start, place),
        _with_ends(after[0], place, after[0].end),
        *after[1:],
    ]


def _ring_closed(pieces: list[Piece]) -> list[Piece]:
    first, last = pieces[0].start, pieces[-1].end
    if first == last:
        return pieces
    if len(pieces) == 1:
        closing: Piece = Line(last, first)
        if isinstance(pieces[0], Curve):
            return [Curve(np.concatenate((pieces[0].points, [first])))]
        return [*pieces, closing]
    place = ((first[0] + last[0]) / 2.0, (first[1] + last[1]) / 2.0)
    pieces = [_with_ends(pieces[0], place, pieces[0].end), *pieces[1:]]
    return [*pieces[:-1], _with_ends(pieces[-1], pieces[-1].start, place)]


def _with_ends(piece: Piece, start: Point, end: Point) -> Piece:
    """The piece with its ends moved a little; an arc keeps its sweep."""
    if piece.start == start and piece.end == end:
        return piece
    if isinstance(piece, Line):
        return Line(start, end)
    if isinstance(piece, Curve):
        points = piece.points.copy()
        points[0], points[-1] = start, end
        return Curve(points)
    bulge = bulge_of(piece)
    if math.dist(start, end) <= SAME_POINT or bulge == 0.0:
        return replace(piece, start=start, end=end)
    return Arc(start, end, center_of(start, end, bulge), piece.turn)


def _simplified(pieces: list[Piece]) -> list[Piece]:
    """Without pieces of no length; arcs of one circle that follow each other made one."""
    kept: list[Piece] = []
    for piece in pieces:
        if piece.length <= SAME_POINT:
            continue
        before = kept[-1] if kept else None
        if isinstance(before, Arc) and isinstance(piece, Arc) and _is_one(before, piece):
            kept[-1] = Arc(before.start, piece.end, before.center, before.turn)
        else:
            kept.append(piece)
    return kept


def _is_one(first: Arc, second: Arc) -> bool:
    return (
        first.turn == second.turn
        and math.dist(first.center, second.center) <= SAME_CIRCLE
        and abs(first.radius - second.radius) <= SAME_CIRCLE
        and abs(first.sweep) + abs(second.sweep) < 1.9 * math.pi
    )

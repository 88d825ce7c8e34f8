"""Fit a target drawn as lines and arcs to the drawer."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from profilestack.bits.bit import Bit
from profilestack.cutting.wanted import wanted_in
from profilestack.errors import InputError
from profilestack.finding.adapting.adaptation import Adaptation, Change, Unfitted
from profilestack.finding.adapting.edge_arcs import (
    Curve,
    EdgeArc,
    curves_of,
    edge_arcs,
    nearest_radius,
    owner_of,
    radii_near,
)
from profilestack.finding.adapting.refitting import missing_curves
from profilestack.finding.adapting.slack import DUST, may_become
from profilestack.geometry.crossing import direction_at, path_of
from profilestack.geometry.extent import box_of
from profilestack.geometry.path import Arc, Line, Path, Point, Segment, Turn
from profilestack.stack import PathTarget, Stack, Target

CHORD = 0.001

ONE_RADIUS = 0.01
"""Arcs that follow each other have one radius when theirs differ by no more [mm]."""

PARALLEL = 1e-3
"""Lines whose directions differ by less [rad] cannot shift an arc across them."""

MET = 1e-6


@dataclass(frozen=True, slots=True)
class _Run:
    """Arcs that follow each other between two lines: the places of the first and the last."""

    first: int
    last: int


def adapted_path(stack: Stack, target: Target, bits: Sequence[Bit], limit: float) -> Adaptation:
    """The stack with the arcs of its target's path fitted; it is then a path with typed places.

    Arcs between two lines grow or shrink about the place where both lines still lead to; the
    lines keep their directions and only change their lengths.
    """
    drawn = target.path()
    hollow: Turn = "cw" if target.closed and drawn.signed_area > 0.0 else "ccw"
    drawer = edge_arcs(bits)
    pieces = list(drawn.segments)
    changes: list[Change] = []
    unfitted: list[Unfitted] = []
    slack_of: dict[int, list[int]] = {}
    for run in _runs(pieces):
        arcs = [piece for piece in pieces[run.first : run.last + 1] if isinstance(piece, Arc)]
        curves = list(curves_of(arcs, hollow))
        missing = missing_curves(curves, drawer)
        if not missing:
            continue
        fitted = _fitted(stack, target, pieces, run, curves, drawer, limit)
        if isinstance(fitted, str):
            unfitted.append(_untouched(run, missing[0], fitted, drawer))
            continue
        changes += _arc_changes(pieces, fitted, run, hollow, drawer)
        pieces = fitted
        for line in (run.first - 1, run.last + 1):
            slack_of.setdefault(line, []).append(run.first + 1)
    for line, numbers in slack_of.items():
        before, after = drawn.segments[line].length, pieces[line].length
        if abs(after - before) > DUST:
            changes.append(Change(line + 1, "line", "length", before, after, None, tuple(numbers)))
    if changes:
        typed = PathTarget(_rounded(path_of(pieces)), target.closed)
        stack = replace(stack, target=typed)
    changes.sort(key=lambda change: change.number)
    return Adaptation(stack, drawn, limit, tuple(changes), tuple(unfitted))


def _runs(pieces: Sequence[Segment]) -> Iterator[_Run]:
    """Arcs in a row."""
    first: int | None = None
    for place, piece in enumerate(pieces):
        if isinstance(piece, Arc):
            first = place if first is None else first
        elif first is not None:
            yield _Run(first, place - 1)
            first = None
    if first is not None:
        yield _Run(first, len(pieces) - 1)


def _fitted(
    stack: Stack,
    target: Target,
    pieces: Sequence[Segment],
    run: _Run,
    curves: Sequence[Curve],
    drawer: Sequence[EdgeArc],
    limit: float,
) -> list[Segment] | str:
    """The pieces with one run at a radius of the drawer, or why it stays."""
    if max(c.radius for c in curves) - min(c.radius for c in curves) > ONE_RADIUS:
        return "arcs of different radii follow each other: none can move alone"
    if run.first == 0 or run.last == len(pieces) - 1:
        return "no line before or after it takes up the slack"
    radius = curves[0].radius
    near = [
        each
        for each in radii_near(curves[0], drawer, limit)
        if all(owner_of(replace(curve, radius=each), drawer) for curve in curves)
    ]
    drawn = target.path().segments
    for each in near:
        trial = _scaled(pieces, run, each / radius)
        if trial is not None and _is_sound(stack, target, trial, run, drawn):
            return trial
    return "and no line can take up the slack" if near else ""


def _scaled(pieces: Sequence[Segment], run: _Run, factor: float) -> list[Segment] | None:
    """The run at another size, its ends moved along the lines beside it."""
    before, after = pieces[run.first - 1], pieces[run.last + 1]
    assert isinstance(before, Line), "a run begins after a line"
    assert isinstance(after, Line), "a run ends before a line"
    one, two = direction_at(before, 1.0), direction_at(after, 0.0)
    start, end = before.end, after.start
    # start + u one + factor (end - start) = end + v two
    gap = ((1.0 - factor) * (end[0] - start[0]), (1.0 - factor) * (end[1] - start[1]))
    across = one[0] * two[1] - one[1] * two[0]
    if abs(across) > PARALLEL:
        u = (gap[0] * two[1] - gap[1] * two[0]) / across
    elif abs(gap[0] * one[1] - gap[1] * one[0]) < MET:
        u = (gap[0] * one[0] + gap[1] * one[1]) / 2.0  # each line takes a half
    else:
        return None
    origin = (start[0] + u * one[0], start[1] + u * one[1])

    def place(point: Point) -> Point:
        return (
            origin[0] + factor * (point[0] - start[0]),
            origin[1] + factor * (point[1] - start[1]),
        )

    arcs = [
        Arc(place(piece.start), place(piece.end), place(piece.center), piece.turn)
        for piece in pieces[run.first : run.last + 1]
        if isinstance(piece, Arc)
    ]
    return [
        *pieces[: run.first - 1],
        Line(before.start, arcs[0].start),
        *arcs,
        Line(arcs[-1].end, after.end),
        *pieces[run.last + 2 :],
    ]


def _is_sound(
    stack: Stack,
    target: Target,
    trial: Sequence[Segment],
    run: _Run,
    drawn: Sequence[Segment],
) -> bool:
    """Whether both lines kept enough, and the whole its size, within the blank."""
    for place in (run.first - 1, run.last + 1):
        old, new = drawn[place], trial[place]
        if not may_become(old.length, _along(new, old) * new.length):
            return False
    path = path_of(list(trial))
    before, after = box_of(target.path()), box_of(path)
    sides = ("left", "bottom", "right", "top")
    if any(abs(getattr(before, side) - getattr(after, side)) > MET for side in sides):
        return False
    try:
        wanted_in(stack.blank, PathTarget(_rounded(path), target.closed), CHORD)
    except InputError:
        return False
    return True


def _along(new: Segment, old: Segment) -> float:
    """1 where a line still leads the way it did, else -1."""
    if new.length < DUST:
        return -1.0
    one, two = direction_at(new, 0.0), direction_at(old, 0.0)
    return math.copysign(1.0, one[0] * two[0] + one[1] * two[1])


def _rounded(path: Path) -> Path:
    """The path without the dust of its sums."""
    return path.moved(lambda point: (round(point[0], 9), round(point[1], 9)))


def _arc_changes(
    before: Sequence[Segment],
    after: Sequence[Segment],
    run: _Run,
    hollow: Turn,
    drawer: Sequence[EdgeArc],
) -> Iterator[Change]:
    for place in range(run.first, run.last + 1):
        old, new = before[place], after[place]
        if isinstance(old, Arc) and isinstance(new, Arc):
            (curve,) = curves_of([new], hollow)
            bit = owner_of(curve, drawer)
            name = None if bit is None else bit.id
            yield Change(place + 1, "arc", "radius", old.radius, new.radius, name)


def _untouched(run: _Run, curve: Curve, why: str, drawer: Sequence[EdgeArc]) -> Unfitted:
    kind = "hollow" if curve.hollow else "round"
    words, lengths = f"no bit has a {kind} of radius {{0}}", [curve.radius]
    if why:
        words += f", {why}" if why.startswith("and") else f"; {why}"
    else:
        words += " or near enough"
        if nearest := nearest_radius(curve, drawer):
            words += f"; the nearest is {{1}}, {nearest.bit.id}"
            lengths.append(nearest.curve.radius)
    return Unfitted(run.first + 1, "arc", words, tuple(lengths))

"""One travel of a bit along the part: in from beyond its end, along, and out again.

A bit that starts or stops inside the wood goes down on a slope (2 to 3 degrees are common
practice, from memory: many bits do not cut at their middle).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from profilestack.bits.bit import Bit
from profilestack.bits.edge import has_undercut, largest_radius
from profilestack.errors import InputError, Problem
from profilestack.geometry.path import Turn
from profilestack.planning.plan import Step
from profilestack.planning.toolpath.moves import Bend, Feed, Move, Rapid
from profilestack.stack import CurvedRun, StraightRun

LEAD = 10.0
"""A bit starts and stops so far clear of the part's ends [mm] (our judgement)."""

SLOPE = math.tan(math.radians(3.0))
"""Bits go down into wood no steeper than this (common practice)."""

PLUNGE = 1000.0
"""Largest feed downward beside the part [mm/min] (our judgement): the spindle gets up to speed."""

ABOVE = 1.0
"""So far above the face a slope begins, at every depth [mm]: no bit drops into its own groove."""


@dataclass(frozen=True, slots=True)
class Room:
    """The blank as it lies: ``height`` of its box, ``safe`` height above the bed [mm].

    ``extra`` is how far the wood reaches beyond each end of the part [mm].
    """

    height: float
    safe: float
    extra: float = 0.0


def step_moves(step: Step, run: StraightRun | CurvedRun, room: Room) -> Iterator[Move]:
    """The moves of one step, its repeats across too; they begin and end at the safe height.

    Raises:
        InputError: a bit that narrows above its tip would have to go down into the wood.
    """
    for repeat in range(step.count):
        across = step.offset + repeat * step.pitch
        if isinstance(run, CurvedRun):
            if run.angle >= 360.0:
                yield from _around(step, run, across, room)
            else:
                yield from _bent(step, run, across, room)
        else:
            yield from _straight(step, run, across, room)


def lead_of(bit: Bit) -> float:
    """How far beyond an end the axis of a bit stands clear of it [mm]."""
    widest = max(largest_radius(bit), bit.shank / 2.0, (bit.pilot_diameter or 0.0) / 2.0)
    return widest + LEAD


def _down_feed(step: Step) -> float:
    return min(step.feed, PLUNGE)


def _straight(step: Step, run: StraightRun, x: float, room: Room) -> Iterator[Move]:
    z, lead = room.height - step.depth, lead_of(step.bit) + room.extra
    begin, end = step.begin or 0.0, run.length if step.end is None else step.end
    open_left, open_right = begin <= 0.0, end >= run.length
    left = begin - lead if open_left else begin
    right = end + lead if open_right else end
    start, stop = (left, right) if step.from_left else (right, left)
    open_start, open_stop = (open_left, open_right) if step.from_left else (open_right, open_left)
    if has_undercut(step.bit) and not (open_start and open_stop):
        yield from _in_and_out(step, x, (start, open_start), (stop, open_stop), room)
        return
    yield Rapid((x, start, room.safe))
    if open_start:
        yield Feed((x, start, z), _down_feed(step))
    else:
        yield from _sloped(step, x, start, stop, room)
    yield Feed((x, stop, z), step.feed)
    if not open_stop:
        yield Feed((x, stop, room.height + ABOVE), _down_feed(step))
    yield Rapid((x, stop, room.safe))


def _in_and_out(
    step: Step, x: float, start: tuple[float, bool], stop: tuple[float, bool], room: Room
) -> Iterator[Move]:
    """A bit that narrows above its tip comes in and goes out by the one open end."""
    if not (start[1] or stop[1]):
        text = f"pass {step.pass_number}: {step.bit.id!r} narrows above its tip and stops inside"
        raise InputError(Problem("pass", text, "a pass that runs out at an end of the part"))
    z = room.height - step.depth
    outside, inside = (start[0], stop[0]) if start[1] else (stop[0], start[0])
    yield Rapid((x, outside, room.safe))
    yield Feed((x, outside, z), _down_feed(step))
    yield Feed((x, inside, z), step.feed)
    yield Feed((x, outside, z), step.feed)
    yield Rapid((x, outside, room.safe))


def _sloped(step: Step, x: float, start: float, stop: float, room: Room) -> Iterator[Move]:
    """Down to the step's depth on a slope, to and fro where the way is short; ends at ``start``."""
    z, top = room.height - step.depth, room.height + ABOVE
    down = _down_feed(step)
    yield Feed((x, start, top), down)
    legs = max(2, math.ceil((top - z) / (SLOPE * abs(stop - start))))
    legs += legs % 2  # there and back
    far = start + math.copysign(min(abs(stop - start), (top - z) / (SLOPE * legs)), stop - start)
    for leg in range(1, legs + 1):
        y = far if leg % 2 else start
        yield Feed((x, y, top + (z - top) * leg / legs), down)


def _bent(step: Step, run: CurvedRun, across: float, room: Room) -> Iterator[Move]:
    z, lead = room.height - step.depth, lead_of(step.bit) + room.extra
    radius, center = run.radius + across, (-run.radius, 0.0)
    _refuse_middle(step, radius)
    angle = math.radians(run.angle)
    _refuse_narrow_gap(step, run, lead)
    tangent = (-math.sin(angle), math.cos(angle))
    first = (across, 0.0)
    last = (center[0] + radius * math.cos(angle), radius * math.sin(angle))
    before = (across, -lead)
    after = (last[0] + lead * tangent[0], last[1] + lead * tangent[1])
    if not step.from_left:
        first, last, before, after = last, first, after, before
    yield Rapid((*before, room.safe))
    yield Feed((*before, z), _down_feed(step))
    yield Feed((*first, z), step.feed)
    if run.angle > 180.0:  # in halves: near a full turn an arc told by its ends is poorly told
        half = angle / 2.0
        middle = (center[0] + radius * math.cos(half), radius * math.sin(half))
        yield Bend((*middle, z), center, "ccw" if step.from_left else "cw", step.feed)
    yield Bend((*last, z), center, "ccw" if step.from_left else "cw", step.feed)
    yield Feed((*after, z), step.feed)
    yield Rapid((*after, room.safe))


def _around(step: Step, run: CurvedRun, across: float, room: Room) -> Iterator[Move]:
    """A ring has no end: down on a slope along it, once round at depth, and up."""
    if has_undercut(step.bit):
        text = f"pass {step.pass_number}: {step.bit.id!r} narrows above its tip"
        expected = "a bit that can go down into a ring"
        raise InputError(Problem("pass", text, expected, "a ring has no end to enter from"))
    z, top = room.height - step.depth, room.height + ABOVE
    radius, center = run.radius + across, (-run.radius, 0.0)
    _refuse_middle(step, radius)
    turn: Turn = "ccw" if step.from_left else "cw"
    sign = 1.0 if step.from_left else -1.0

    def at(angle: float) -> tuple[float, float]:
        return (center[0] + radius * math.cos(angle), sign * radius * math.sin(angle))

    yield Rapid((*at(0.0), room.safe))
    yield Feed((*at(0.0), top), _down_feed(step))
    total = (top - z) / (SLOPE * radius)
    parts = max(1, math.ceil(total / math.pi))
    for part in range(1, parts + 1):
        height = top + (z - top) * part / parts
        yield Bend((*at(total * part / parts), height), center, turn, _down_feed(step))
    for half in (1, 2):
        yield Bend((*at(total + half * math.pi), z), center, turn, step.feed)
    yield Feed((*at(total + math.tau), room.height + ABOVE), _down_feed(step))
    yield Rapid((*at(total + math.tau), room.safe))


def _refuse_narrow_gap(step: Step, run: CurvedRun, lead: float) -> None:
    """Between the ends of a nearly closed bend a bit must find room to come in and go out."""
    gap = math.radians(360.0 - run.angle) * run.radius
    needed = lead + lead_of(step.bit) - LEAD  # to its axis, and from there to its far side
    if gap < needed:
        text = f"pass {step.pass_number}: {gap:.0f} mm between the ends of the bend"
        expected = f"{needed:.0f} mm, for the bit to come in, or a whole ring of 360 degrees"
        raise InputError(Problem("run.angle", text, expected))


def _refuse_middle(step: Step, radius: float) -> None:
    if radius <= 0.0:
        text = f"pass {step.pass_number}: its axis lies beyond the middle of the bend"
        raise InputError(Problem("pass", text, "an offset above minus the radius"))

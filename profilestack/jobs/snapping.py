"""Where a moved pass comes to rest: on the wanted profile, in its arcs and corners, on lines.

All pure: from a wish under the hand to the place that is meant. Lengths [mm]; offsets and depths
are those of a pass.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from profilestack.bits.edge import largest_radius
from profilestack.geometry.path import Point, Points
from profilestack.jobs.grounding import Ground, Seat
from profilestack.planning.lowering import TOUCH, lowest_tips
from profilestack.stack import Stack
from profilestack.units import format_length

DEEPER = 2.5
"""The wanted profile holds a bit that is pushed into it over so many times the reach."""

SHARE = 0.25
"""A grid holds over this share of its spacing at most, so that there is room between."""

NEAR = 0.004
"""A bit touches the wanted profile where it is nearer than this [mm]: both are told by chords."""


@dataclass(frozen=True, slots=True)
class Hold:
    """What can hold a pass, and how far away it may be.

    ``reach`` [mm] is how near it has to come, ``grid`` [mm] the spacing of the grid (0: none),
    ``step`` [mm] what a number that is free is rounded to.
    """

    reach: float
    grid: float = 0.0
    step: float = 0.01
    units: str = "mm"


@dataclass(frozen=True, slots=True)
class Snap:
    """The place that is meant, and what each of its numbers is held by ("" where it is free)."""

    offset: float
    depth: float
    offset_to: str = ""
    depth_to: str = ""

    @property
    def words(self) -> str:
        """What holds it, as one line."""
        if self.offset_to == self.depth_to:
            return self.offset_to
        return ", ".join(word for word in (self.offset_to, self.depth_to) if word)


@dataclass(frozen=True, slots=True)
class Guide:
    """A line that an offset or a depth can rest on."""

    at: float
    words: str


def rounded(value: float, step: float) -> float:
    """The multiple of ``step`` that is nearest, as the short decimal that a person would write."""
    return round(round(value / step) * step, 9) if step > 0.0 else value


def offset_guides(stack: Stack, ground: Ground, index: int | None, setup: str) -> list[Guide]:
    """Lines for offsets: other passes' axes, the blank's sides and middle, the bit beside them."""
    found = []
    for number, other in enumerate(stack.passes, 1):
        if number - 1 != index and other.setup == setup and other.on:
            for repeat in range(min(other.count, 50)):
                place = other.offset + repeat * other.pitch
                found.append(Guide(place, f"in line with pass {number}"))
    width, radius = ground.lie.width, largest_radius(ground.bit)
    found += [
        Guide(0.0, "over the left edge"),
        Guide(width, "over the right edge"),
        Guide(width / 2.0, "over the middle of the blank"),
        Guide(radius, "flush with the left edge"),
        Guide(width - radius, "flush with the right edge"),
    ]
    return found


def depth_guides(stack: Stack, ground: Ground, index: int | None, setup: str) -> list[Guide]:
    """Lines for depths: as deep as other passes, and down to the bed."""
    found = [
        Guide(other.depth, f"as deep as pass {number}")
        for number, other in enumerate(stack.passes, 1)
        if number - 1 != index and other.setup == setup and other.on
    ]
    return [*found, Guide(ground.lie.height, "down to the bed")]


def snap(
    ground: Ground,
    guides: tuple[Sequence[Guide], Sequence[Guide]],
    wish: tuple[float, float],
    hold: Hold,
    free: tuple[bool, bool] = (True, True),
) -> Snap:
    """The place that is meant by a wish = offset, depth.

    ``guides`` are those for offsets and for depths. A number that is not ``free`` stays as it is:
    the hand holds one axis, or it was typed.
    """
    offset, depth = wish
    if all(free) and (seat := _seat(ground, offset, depth, hold.reach)) is not None:
        words = seat_words(seat, hold.units)
        return Snap(seat.offset, seat.depth, words, words)
    offset_to = depth_to = ""
    if free[0]:
        beside = () if free[1] else _sideways(ground, offset, depth, hold.reach)
        offset, offset_to = _rest(offset, [*beside, *guides[0]], hold)
    if free[1]:
        depth, depth_to = _depth(ground, guides[1], offset, depth, hold)
    return Snap(offset, depth, offset_to, depth_to)


def seat_words(seat: Seat, units: str) -> str:
    """What a seat is called."""
    if seat.radius > 0.0:
        return f"in the arc, radius {format_length(round(seat.radius, 4), units)}"
    return "touches on both sides"


def contacts(ground: Ground, silhouette: Points, offset: float, depth: float) -> tuple[Point, ...]:
    """Where the bit touches the wanted profile, in the section plane [mm].

    ``silhouette`` (n, 2) is its closed outline about its own axis and tip. Of a stretch of touching
    the two ends are told.
    """
    if ground.wanted is None:
        return ()
    placed = ground.lie.to_section(silhouette + np.array((offset, ground.lie.height - depth)))
    # most of a bit stands over the wood, where nothing can be touched
    low, high = ground.wanted.points.min(axis=0) - NEAR, ground.wanted.points.max(axis=0) + NEAR
    beside = ((placed >= low) & (placed <= high)).all(axis=1)
    far = np.full(len(placed), np.inf)
    far[beside], _ = ground.wanted.line.nearest(placed[beside])
    if not (far < NEAR).any():
        return ()
    begin = int(np.argmax(far))  # round the outline from where it is clear of the profile
    return tuple(_ends(np.roll(placed, -begin, axis=0), np.roll(far, -begin) < NEAR))


def _ends(points: Points, touching: np.ndarray) -> Iterator[Point]:
    edges = np.flatnonzero(np.diff(np.concatenate(([False], touching, [False])).astype(np.int8)))
    for first, last in zip(edges[::2].tolist(), (edges[1::2] - 1).tolist(), strict=True):
        if math.dist(points[first], points[last]) < 0.5:
            middle = (points[first] + points[last]) / 2.0
            yield (float(middle[0]), float(middle[1]))
            continue
        yield (float(points[first, 0]), float(points[first, 1]))
        yield (float(points[last, 0]), float(points[last, 1]))


def _seat(ground: Ground, offset: float, depth: float, reach: float) -> Seat | None:
    """The nearest seat that is within reach both ways; an arc is chosen before a corner."""

    def away(seat: Seat) -> float:
        return math.hypot(seat.offset - offset, seat.depth - depth)

    near = [
        seat
        for seat in ground.seats_near(offset, reach)
        if -DEEPER * reach <= seat.depth - depth <= reach and seat.depth > 0.0
    ]
    return min(near, key=lambda seat: (seat.radius == 0.0, away(seat)), default=None)


def _sideways(ground: Ground, offset: float, depth: float, reach: float) -> Iterator[Guide]:
    """Offsets near by at which a bit at this depth comes to touch the wanted profile."""
    if ground.wood is None:
        return
    level = ground.lie.height - depth
    axes = offset + np.linspace(-reach, reach, 17)
    for _ in range(5):
        blocked = lowest_tips(ground.under, ground.wood, axes) > level + TOUCH
        steps = np.flatnonzero(blocked[1:] != blocked[:-1])
        if len(steps) == 0:
            return
        # of several the one that is nearest to the hand
        k = int(steps[np.argmin(np.abs(axes[steps] - offset))])
        axes = np.linspace(axes[k], axes[k + 1], 17)
    place = float(axes[1] if blocked[k] else axes[0])
    yield Guide(place, "touches the wanted profile")


def _depth(
    ground: Ground, guides: Sequence[Guide], offset: float, depth: float, hold: Hold
) -> tuple[float, str]:
    most = ground.deepest(offset)
    if most is not None and most > 0.0 and -hold.reach <= depth - most <= DEEPER * hold.reach:
        # never deeper by rounding: a hair less than touching is no gouge
        return math.floor(most * 1e4) / 1e4, "touches the wanted profile"
    found, words = _rest(depth, guides, hold)
    # above the wood nothing holds it
    return (found, words) if found >= hold.step else (hold.step, "")


def _rest(value: float, guides: Sequence[Guide], hold: Hold) -> tuple[float, str]:
    """The nearest guide within reach, else the grid's line, else the rounded value."""
    nearest = min(guides, key=lambda guide: abs(guide.at - value), default=None)
    if nearest is not None and abs(nearest.at - value) <= hold.reach:
        return nearest.at, nearest.words
    if hold.grid > 0.0:
        line = rounded(value, hold.grid)
        if abs(line - value) <= min(hold.reach, SHARE * hold.grid):
            return line, f"grid of {format_length(hold.grid, hold.units)}"
    return rounded(value, hold.step), ""

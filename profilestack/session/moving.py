"""Moving passes under the hand: from where the pointer is to the stack that is meant.

A move begins with a grip and ends with one edit, or with nothing. While it lasts, the numbers can
be typed; a number that was typed no longer follows the hand.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.cutting.cut import CHORD
from profilestack.cutting.stroke import Stroke, lie_of, strokes_of
from profilestack.errors import LengthError
from profilestack.geometry.path import Point
from profilestack.jobs.grounding import Ground, ground_of
from profilestack.jobs.snapping import (
    Hold,
    Snap,
    depth_guides,
    offset_guides,
    rounded,
    snap,
)
from profilestack.session.pass_edits import Edited, named, with_bits_carried
from profilestack.stack import Pass, Stack
from profilestack.stack.edits import with_changed, with_passes_added
from profilestack.units import parse_length

KEYS = ("offset", "depth")


@dataclass(frozen=True, slots=True)
class Hand:
    """Where the hand is and what it holds back.

    ``one_axis``: the move goes along the longer way only. ``lets_go``: nothing snaps.
    """

    place: Point
    one_axis: bool = False
    lets_go: bool = False


class Move:
    """A pass being moved, with others that keep their distance to it."""

    def __init__(
        self,
        stack: Stack,
        index: int,
        bit: Bit,
        stroke: Stroke | None = None,
        grip: Point | None = None,
        others: Iterable[int] = (),
    ) -> None:
        """``stroke`` was gripped at ``grip`` [mm in the section plane]; None: only typed."""
        self.stack, self.index, self.bit = stack, index, bit
        self.pass_before = stack.passes[index]
        same = self.pass_before.setup
        self.others = tuple(k for k in others if k != index and stack.passes[k].setup == same)
        self.stroke, self.grip = stroke, grip
        self.ground: Ground = ground_of(stack, same, bit)
        skipped = {index, *self.others}
        left = replace(stack, passes=tuple(
            replace(single, on=False) if k in skipped else single
            for k, single in enumerate(stack.passes)
        ))  # fmt: skip
        self._guides = (
            offset_guides(left, self.ground, None, same),
            depth_guides(left, self.ground, None, same),
        )
        self.typed = ["", ""]
        self.typing = 0
        """Which number digits go to: 0 the offset, 1 the depth."""
        self.snap = Snap(self.pass_before.offset, self.pass_before.depth)
        self.shown = stack
        self._hand: Hand | None = None

    @property
    def label(self) -> str:
        """What Undo says."""
        return f"Move {named((self.index, *self.others))}"

    @property
    def is_typing(self) -> bool:
        """Whether a number was typed."""
        return any(self.typed)

    def to(self, hand: Hand, hold: Hold) -> Stack:
        """The stack with the pass where the hand wants it."""
        self._hand = hand
        wish = self._wish(hand)
        free = [True, True]
        if hand.one_axis:
            across = abs(wish[0] - self.pass_before.offset)
            down = abs(wish[1] - self.pass_before.depth)
            free[0], free[1] = across >= down, down > across
            wish = (
                wish[0] if free[0] else self.pass_before.offset,
                wish[1] if free[1] else self.pass_before.depth,
            )
        return self._settle(wish, free, hold, lets_go=hand.lets_go)

    def type(self, text: str, hold: Hold) -> Stack:
        """Write ``text`` behind what was typed for the current number."""
        self.typed[self.typing] += text
        return self._again(hold)

    def untype(self, hold: Hold) -> Stack:
        """Take back the last character that was typed for the current number."""
        self.typed[self.typing] = self.typed[self.typing][:-1]
        return self._again(hold)

    def next_number(self) -> None:
        """Digits go to the other number."""
        self.typing = 1 - self.typing

    def trouble(self, units: str) -> str:
        """What is wrong with the number being typed; "" where it is a length."""
        for which, text in enumerate(self.typed):
            if text and self._number(which, units) is None:
                return f"{text!r} is no {KEYS[which]}"
        return ""

    def _again(self, hold: Hold) -> Stack:
        if self._hand is not None:
            return self.to(self._hand, hold)
        wish = (self.pass_before.offset, self.pass_before.depth)
        return self._settle(wish, [False, False], hold, lets_go=True)

    def _wish(self, hand: Hand) -> tuple[float, float]:
        """Offset and depth as the hand asks for them, before anything holds them."""
        if self.stroke is None or self.grip is None:
            return (self.pass_before.offset, self.pass_before.depth)
        begin, now = self.stroke.to_bench(np.array((self.grip, hand.place)))
        moved = now - begin
        return (
            self.pass_before.offset + float(moved[0]),
            self.pass_before.depth - float(moved[1]),
        )

    def _number(self, which: int, units: str) -> float | None:
        """The typed number [mm]; None where nothing, or nothing usable, was typed."""
        try:
            value = parse_length(self.typed[which], units)
        except LengthError:
            return None  # half of a number is typed on the way to a whole one
        return value if which == 0 or value > 0.0 else None

    def _settle(
        self, wish: tuple[float, float], free: list[bool], hold: Hold, *, lets_go: bool
    ) -> Stack:
        typed = [self._number(which, hold.units) if self.typed[which] else None for which in (0, 1)]
        values = [wish[k] if typed[k] is None else float(typed[k] or 0.0) for k in (0, 1)]
        free = [free[k] and typed[k] is None for k in (0, 1)]
        if lets_go:
            free_values = [
                rounded(v, hold.step) if f else v for v, f in zip(values, free, strict=True)
            ]
            self.snap = Snap(free_values[0], max(hold.step if free[1] else 0.0, free_values[1]))
        else:
            place = (values[0], values[1])
            self.snap = snap(self.ground, self._guides, place, hold, (free[0], free[1]))
        self.shown = self._moved()
        return self.shown

    def _moved(self) -> Stack:
        across = self.snap.offset - self.pass_before.offset
        deeper = self.snap.depth - self.pass_before.depth

        def shift(single: Pass) -> Pass:
            depth = round(single.depth + deeper, 9)
            return replace(single, offset=round(single.offset + across, 9), depth=max(1e-3, depth))

        moved = with_changed(self.stack, self.others, shift)
        mine = replace(self.pass_before, offset=self.snap.offset, depth=self.snap.depth)
        return with_changed(moved, (self.index,), lambda _: mine)


def placing(
    stack: Stack,
    bit: Bit,
    place: Point,
    setup: str = "face",
    at: int | None = None,
    *,
    carried: bool = False,
) -> Stack:
    """The stack with a new pass of ``bit``, its tip at a place of the section [mm].

    It is cut before the one that is now at ``at``; None: last. ``carried``: the bit goes into the
    document.
    """
    lie = lie_of(stack.blank, stack.setup(setup).angle)
    on_bench = lie.to_bench(np.array(place))
    offset, depth = float(on_bench[0]), max(0.01, lie.height - float(on_bench[1]))
    new = Pass(bit.id, round(offset, 4), round(depth, 4), setup)
    return with_passes_added(with_bits_carried(stack, (bit,) if carried else ()), (new,), at)


def place_label(bit: Bit) -> str:
    """What Undo says of a new pass."""
    return f"Place {bit.name}"


def placed_in_the_middle(
    stack: Stack, bit: Bit, at: int | None = None, *, carried: bool = False
) -> Edited:
    """A new pass of a bit that nobody points with, see :func:`in_the_middle`."""
    place = in_the_middle(stack, bit)
    return placing(stack, bit, place, at=at, carried=carried), place_label(bit)


def move_of_new(stack: Stack, bit: Bit, place: Point, *, carried: bool = False) -> Move:
    """A move of a new last pass, gripped at its tip."""
    grown = placing(stack, bit, place, carried=carried)
    index = len(stack.passes)
    stroke = next(strokes_of(grown, grown.passes[index], index + 1, bit, CHORD))
    tip = stroke.to_section(np.array(((0.0, 0.0),)))[0]
    return Move(grown, index, bit, stroke, (float(tip[0]), float(tip[1])))


def in_the_middle(stack: Stack, bit: Bit) -> Point:
    """Where a bit is put that nobody points at: over the target's middle, as deep as it may go.

    Where nothing can be touched it cuts a quarter of the blank, and no more than its edge.
    """
    lie = lie_of(stack.blank, 0.0)
    ground = ground_of(stack, "face", bit)
    middle = lie.width / 2.0
    if ground.wanted is not None:
        ends = ground.wanted.points[:, 0]
        middle = (float(ends.min()) + float(ends.max())) / 2.0
    deepest = ground.deepest(middle)
    if deepest is None or deepest <= 0.0:
        deepest = min(lie.height / 4.0, bit.cutting_length)
    return (middle, lie.height - math.floor(deepest * 1e4) / 1e4)


def nudge_across_and_deeper(
    stack: Stack, index: int, right: float, up: float
) -> tuple[float, float]:
    """A nudge as it is seen [mm], told in the offset and depth of the pass: along one of them."""
    lie = lie_of(stack.blank, stack.setup(stack.passes[index].setup).angle)
    across = lie.cos * right - lie.sin * up
    rise = lie.sin * right + lie.cos * up
    if abs(across) >= abs(rise) - 1e-12:
        return (float(np.sign(across)) * np.hypot(right, up), 0.0)
    return (0.0, -float(np.sign(rise)) * float(np.hypot(right, up)))

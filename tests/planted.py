"""Targets that are known to be makeable: random stacks, and the sections that they cut.

Always the same ones for the same seed; lengths in mm.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cache
from typing import Any

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, largest_radius
from profilestack.cutting.cautions import cautions_of
from profilestack.cutting.cut import Cut, cut_stack
from profilestack.files.shipped import SMALL_SHOP, read_bits
from profilestack.finding.request import FindRequest
from profilestack.geometry.path import Path, Points
from profilestack.geometry.region import pieces_of, subtract
from profilestack.jobs.find import FindResult, find
from profilestack.stack import Blank, Pass, PathTarget, Rectangle, Stack, StraightRun

RESOLUTION = 0.01
"""Planted offsets and depths are whole numbers of this."""

FINE = 1e-4
"""Planted sections are flattened so finely that the tip of a point-cutting bit keeps its form."""

LEFTOVER, OVERCUT = 0.10, 0.03
"""Tolerances at which the finder has to do as well as the stack that was planted."""

DUST = 1e-6

NEEDED = 1.0
"""Each planted pass alone cuts so much [mm2] of what is cut away: none of them is idle."""


@dataclass(frozen=True)
class Planted:
    """A stack whose own section is its target."""

    seed: int
    stack: Stack

    @property
    def passes(self) -> int:
        return len(self.stack.passes)

    @property
    def bits(self) -> int:
        return len({single.bit for single in self.stack.passes})


@cache
def drawer() -> tuple[Bit, ...]:
    """The bits of the shipped small shop."""
    return read_bits(SMALL_SHOP).bits


def planted(seed: int, passes: int, bits: Sequence[Bit] | None = None) -> Planted:
    """A random stack of so many passes that can be cut, with its own section as its target."""
    chance = random.Random(1000 * seed + passes)
    offered = drawer() if bits is None else bits
    by_id = {bit.id: bit for bit in offered}
    kinds = chance.randint(1, min(passes, len(by_id)))
    while True:
        width, thickness = chance.uniform(35.0, 75.0), chance.uniform(22.0, 40.0)
        board = Rectangle(round(width, 2), round(thickness, 2))
        chosen = chance.sample(sorted(by_id), kinds)
        drawn = [_random_pass(chance, by_id[chance.choice(chosen)], board) for _ in range(passes)]
        stack = Stack(blank=Blank(board), run=StraightRun(1000.0), passes=tuple(drawn))
        if len({single.bit for single in drawn}) < kinds:
            continue
        cut = cut_stack(stack, by_id, FINE)
        if (path := face_of(cut)) is not None and _is_sound(cut, by_id):
            return Planted(seed, replace(stack, target=PathTarget(path)))


def _random_pass(chance: random.Random, bit: Bit, board: Rectangle) -> Pass:
    deepest, radius = min(edge_height(bit), board.thickness - 8.0), largest_radius(bit)
    return Pass(
        bit.id,
        round(chance.uniform(-0.9 * radius, board.width + 0.9 * radius), 2),
        round(chance.uniform(min(1.5, 0.5 * deepest), deepest), 2),
    )


def _is_sound(cut: Cut, bits: dict[str, Bit]) -> bool:
    """Whether the stack may be cut as it is, and every pass has work of its own."""
    if any(caution.severity == "stop" for caution in cautions_of(cut, None)):
        return False
    passes = cut.stack.passes
    for k in range(len(passes)):
        fewer = replace(cut.stack, passes=(*passes[:k], *passes[k + 1 :]))
        without = cut_stack(fewer, bits, 0.005).sections[-1] if fewer.passes else cut.sections[0]
        if subtract(without, cut.sections[-1]).area < NEEDED:
            return False
    return True


def face_of(cut: Cut) -> Path | None:
    """The face that a stack cuts, from the left side to the right, the wood on its right hand.

    None unless the section is one piece without holes that still stands on its whole bottom and
    is nowhere cut through to a side below the face.
    """
    pieces = pieces_of(cut.sections[-1])
    if len(pieces) != 1 or len(pieces[0].interiors) > 0:
        return None
    ring: Points = np.asarray(pieces[0].exterior.reverse().coords if pieces[0].exterior.is_ccw
                              else pieces[0].exterior.coords)[:-1]  # fmt: skip
    width = float(ring[:, 0].max())
    corner = np.flatnonzero((ring == (0.0, 0.0)).all(axis=1))
    if len(corner) != 1:
        return None
    ring = np.roll(ring, -int(corner[0]), axis=0)  # clockwise: up the left side, along, down
    end = np.flatnonzero((ring == (width, 0.0)).all(axis=1))
    if len(end) != 1 or int(end[0]) != len(ring) - 1:
        return None
    left, right = ring[:, 0] == 0.0, ring[:, 0] == width
    first = int(np.flatnonzero(~left)[0]) - 1
    last = int(np.flatnonzero(~right)[-1]) + 1
    if left[first + 1 : last].any() or right[first + 1 : last].any() or last <= first:
        return None
    points = [(float(x), float(z)) for x, z in ring[first : last + 1]]
    path = Path(points[0])
    for before, point in itertools.pairwise(points):
        if abs(point[0] - before[0]) + abs(point[1] - before[1]) > 1e-7:
            path = path.line(point)
    return path


@dataclass(frozen=True)
class Verdict:
    """What the finder made of a planted stack, by options that keep both tolerances."""

    passes: int | None
    """The fewest finishing passes."""
    bits: int | None
    """The fewest bits in finishing passes."""
    complaints: tuple[str, ...]

    def meets(self, wanted: Planted) -> bool:
        """Whether no more passes and no more bits were needed than were planted."""
        enough = self.passes is not None and self.passes <= wanted.passes
        return enough and self.bits is not None and self.bits <= wanted.bits


def find_planted(wanted: Planted, bits: Sequence[Bit], **other: Any) -> FindResult:
    """Let the finder look for a planted stack, at the tolerances of the whole exercise."""
    return find(FindRequest(wanted.stack, tuple(bits), LEFTOVER, OVERCUT, RESOLUTION, **other))


def judge(result: FindResult) -> Verdict:
    """Look at every option as the engine judges it."""
    passes, bits, complaints = [], [], []
    for option in result.options:
        finishing = [single for single in option.assembled.stack.passes if not single.relief]
        kinds = {single.bit for single in finishing}
        comparison = option.assembled.comparison
        stops = [each.code for each in option.assembled.cautions if each.severity == "stop"]
        if (
            comparison.leftover_worst <= LEFTOVER + DUST
            and comparison.overcut_worst <= OVERCUT + DUST
            and not stops
        ):
            passes.append(len(finishing))
            bits.append(len(kinds))
        else:
            complaints.append(
                f"{option.objective}: leftover {comparison.leftover_worst:.4f}, "
                f"overcut {comparison.overcut_worst:.4f}, stops {stops}"
            )
        if option.bound > option.cost + DUST:
            complaints.append(f"{option.objective}: bound {option.bound} above {option.cost}")
        measured = {"passes": len(finishing), "bits": len(kinds)}
        if option.cost != measured.get(option.objective, option.cost):
            complaints.append(f"{option.objective}: cost {option.cost} is not {measured}")
    complaints += [f"unreached from {each.begin} to {each.end}" for each in result.unreached]
    return Verdict(min(passes, default=None), min(bits, default=None), tuple(complaints))

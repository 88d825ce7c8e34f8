"""Bits, boards and stacks that many tests are made of; all lengths in mm."""

from __future__ import annotations

from typing import Any

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import CoreBox, Roundover, Straight, VGroove
from profilestack.bits.shapes.base import BitShape
from profilestack.cutting.cut import CHORD, Cut, cut_stack
from profilestack.geometry.path import Path, Point
from profilestack.jobs.cut import CutReport, cut_and_judge
from profilestack.stack import Blank, Pass, PathTarget, Rectangle, Run, Stack, StraightRun

INCH = 25.4
"""Spelled out here on purpose: the tests do not take it from the code that they test."""


def bit(name: str, shape: BitShape, edge: float = 40.0, **other: Any) -> Bit:
    """A bit with a long edge on a thin shank, so that nothing but its edge matters."""
    keys = {"shank": 6.35, "length": edge + 60.0, "grip": 25.0} | other
    return Bit(id=name, shape=shape, cutting_length=edge, **keys)


def core_box(diameter: float, edge: float = 40.0, **other: Any) -> Bit:
    return bit(f"core-box {diameter:g}", CoreBox(diameter), edge, **other)


def straight(diameter: float, edge: float = 40.0, **other: Any) -> Bit:
    return bit(f"straight {diameter:g}", Straight(diameter), edge, **other)


def vee(diameter: float, angle: float, tip: float = 0.0, edge: float = 40.0, **other: Any) -> Bit:
    return bit(f"vee {angle:g}", VGroove(diameter, angle, tip), edge, **other)


def roundover(radius: float, tip: float, edge: float = 40.0, **other: Any) -> Bit:
    return bit(f"roundover {radius:g}", Roundover(radius, tip), edge, **other)


def board(width: float = 60.0, thickness: float = 30.0) -> Blank:
    return Blank(Rectangle(width, thickness))


def lines(*points: Point) -> PathTarget:
    """An open target of straight lines."""
    path = Path(points[0])
    for point in points[1:]:
        path = path.line(point)
    return PathTarget(path)


Placed = tuple[Bit, float, float] | tuple[Bit, float, float, dict[str, Any]]
"""A bit, its offset and depth, and other keys of the pass."""


def stack_of(
    *placed: Placed, blank: Blank | None = None, run: Run | None = None, **other: Any
) -> tuple[Stack, dict[str, Bit]]:
    """A stack and its bits by id."""
    passes, bits = [], {}
    for single, offset, depth, *keys in placed:
        assert bits.setdefault(single.id, single) == single, "two bits of one id"
        passes.append(Pass(single.id, offset, depth, **(keys[0] if keys else {})))
    stack = Stack(
        blank=blank or board(), run=run or StraightRun(1000.0), passes=tuple(passes), **other
    )
    return stack, bits


def cut(*placed: Placed, chord: float = CHORD, **other: Any) -> Cut:
    stack, bits = stack_of(*placed, **other)
    return cut_stack(stack, bits, chord)


def judge(*placed: Placed, chord: float = CHORD, **other: Any) -> CutReport:
    stack, bits = stack_of(*placed, **other)
    return cut_and_judge(stack, bits, chord)


def codes(report: CutReport) -> set[str]:
    return {caution.code for caution in report.cautions}

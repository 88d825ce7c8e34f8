"""Requests and problems that the finder's tests are made of; all lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import cut_stack
from profilestack.finding.bench import Bench, aim_at, lay
from profilestack.finding.candidates import Candidates
from profilestack.finding.problem import Problem, problem_of
from profilestack.finding.request import FindRequest
from profilestack.geometry.path import Path
from profilestack.stack import (
    FACE,
    Blank,
    Pass,
    PathTarget,
    Rectangle,
    Run,
    Setup,
    Stack,
    StraightRun,
    Target,
)

RESOLUTION = 0.01


def board_for(
    target: Path | Target, width: float, thickness: float, run: Run | None = None, **other: Any
) -> Stack:
    """A board with a target and no passes."""
    wanted = PathTarget(target) if isinstance(target, Path) else target
    return Stack(
        blank=Blank(Rectangle(width, thickness)),
        run=run or StraightRun(1000.0),
        target=wanted,
        **other,
    )


def request(
    stack: Stack,
    bits: Sequence[Bit],
    leftover: float = 0.10,
    overcut: float = 0.03,
    **other: Any,
) -> FindRequest:
    return FindRequest(stack, tuple(bits), leftover, overcut, RESOLUTION, **other)


def problem(
    stack: Stack,
    bits: Sequence[Bit],
    leftover: float = 0.10,
    overcut: float = 0.03,
    **other: Any,
) -> Problem:
    return problem_of(request(stack, bits, leftover, overcut, **other))


def bench_of(
    stack: Stack, leftover: float = 0.10, overcut: float = 0.03, setup: Setup = FACE
) -> Bench:
    """The target of a stack as it lies in a setup."""
    from profilestack.cutting.wanted import wanted_in

    assert stack.target is not None
    wanted = wanted_in(stack.blank, stack.target, 0.001)
    return lay(aim_at(wanted, leftover, overcut), stack.blank, setup, RESOLUTION)


def one_candidate(bit: Bit, bench: Bench, offset: float, depth: float) -> Candidates:
    return Candidates(bit, bench, np.array([offset]), np.array([bench.top - depth]))


def judged(stack: Stack, bits: Sequence[Bit], passes: Sequence[Pass]) -> Comparison:
    """What the engine says of passes on a board."""
    import dataclasses

    cut = cut_stack(dataclasses.replace(stack, passes=tuple(passes)), {bit.id: bit for bit in bits})
    comparison = compare(cut)
    assert comparison is not None, "the board has a target"
    return comparison

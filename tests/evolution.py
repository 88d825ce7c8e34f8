"""A general-purpose optimiser at the finder's work: differential evolution on offsets and depths.

It knows nothing of the problem but what the engine says of a stack, which makes it a fair referee
and a slow worker.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import OptimizeResult, differential_evolution

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, largest_radius
from profilestack.cutting.comparison import Comparison, compare
from profilestack.cutting.cut import cut_stack
from profilestack.stack import Pass, Rectangle, Stack

CHORD = 0.01
"""It looks at coarse outlines [mm]: finer ones would only take longer."""

WEIGHT = 20.0
"""A millimetre of overcut above what is allowed weighs as so many of leftover."""


@dataclass(frozen=True)
class Evolved:
    """The best stack that was evolved, its leftover as judged finely [mm], and the tries.

    ``seconds`` of processor time passed until it was as good as in the end, to a hundredth.
    """

    stack: Stack
    leftover: float
    overcut: float
    tries: int
    seconds: float


def evolve(
    stack: Stack,
    bits: Sequence[Bit],
    overcut: float,
    seed: int,
    generations: int,
    population: int = 12,
) -> Evolved:
    """One pass of each of ``bits``, in that order, evolved until the leftover is least."""
    by_id = {bit.id: bit for bit in bits}
    board = stack.blank.stock
    assert isinstance(board, Rectangle), "the referee works on boards"
    limits = []
    for bit in bits:
        radius = largest_radius(bit)
        limits.append((-radius, board.width + radius))
        limits.append((0.05, min(edge_height(bit), board.thickness - 0.5)))

    def stack_at(place: np.ndarray) -> Stack:
        passes = tuple(
            Pass(bit.id, float(place[2 * k]), float(place[2 * k + 1])) for k, bit in enumerate(bits)
        )
        return replace(stack, passes=passes)

    def judged(place: np.ndarray, chord: float) -> Comparison:
        comparison = compare(cut_stack(stack_at(place), by_id, chord))
        assert comparison is not None, "the stack has a target"
        return comparison

    def badness(place: np.ndarray) -> float:
        comparison = judged(place, CHORD)
        over = max(0.0, comparison.overcut_worst - overcut)
        return comparison.leftover_worst + WEIGHT * over

    begin, course = time.process_time(), []

    def note(intermediate_result: OptimizeResult) -> None:
        course.append((time.process_time() - begin, float(intermediate_result.fun)))

    found = differential_evolution(
        badness, limits, maxiter=generations, popsize=population, seed=seed, tol=1e-6,
        polish=False, callback=note,
    )  # fmt: skip
    reached = next(at for at, least in course if least <= found.fun + 0.01)
    finest = judged(found.x, 0.001)
    return Evolved(
        stack_at(found.x), finest.leftover_worst, finest.overcut_worst, int(found.nfev), reached
    )

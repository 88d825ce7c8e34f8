"""What a target needs at least where the user's limits leave no way."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.finding.cover import cheapest
from profilestack.finding.problem import Problem
from profilestack.finding.solver import Costs
from profilestack.progress import SILENT, Progress


@dataclass(frozen=True, slots=True)
class Needs:
    """The fewest finishing passes with any bits, and the fewest bits with any passes.

    Both are proven bounds: there is no way with less. ``together`` says that each limit alone
    could be kept, but not both.
    """

    passes: int
    bits: int
    together: bool


def least_needed(problem: Problem, progress: Progress = SILENT) -> Needs | None:
    """What the offered bits need at least; None where they cannot reach anything."""
    table, points = problem.table, problem.points
    if len(points) == 0:
        return None
    passes = cheapest(table, points, Costs(1.0, 0.0, step=1.0), progress=progress)
    bits = cheapest(table, points, Costs(0.0, 1.0, step=1.0), progress=progress)
    request = problem.request
    enough = (request.most_passes or passes.bound) >= passes.bound
    enough = enough and (request.most_bits or bits.bound) >= bits.bound
    return Needs(int(passes.bound), int(bits.bound), enough)

"""A general-purpose optimiser as referee: ``python -m tests.benchmarks.referee``.

Makes a part of docs/finding-figures.md.
"""

from __future__ import annotations

import sys
import textwrap
import time
from collections.abc import Sequence

from profilestack.finding.cover import cheapest
from profilestack.finding.options import find_options
from profilestack.finding.problem import problem_of
from profilestack.finding.request import FindRequest
from profilestack.finding.search import Search
from profilestack.finding.solver import Costs
from profilestack.geometry.path import Path
from profilestack.progress import SILENT
from profilestack.stack import Blank, PathTarget, Rectangle, Stack, StraightRun
from tests.evolution import evolve
from tests.planted import drawer

OVERCUT = 0.05
POPULATIONS = (12, 40)
GENERATIONS = 1000
"""At most: it ends when all of a population are alike."""

TARGETS: dict[str, tuple[float, float, Path, tuple[str, ...]]] = {
    "hollow, 3 passes": (
        24.0, 16.0,
        Path((0.0, 14.0)).line((6.0, 14.0)).arc((14.0, 6.0), (14.0, 14.0), "ccw")
        .line((24.0, 6.0)),
        ("core-box-1-2in", "core-box-1-2in", "straight-3-4in"),
    ),
    "slope, 3 passes": (
        20.0, 14.0,
        Path((0.0, 13.0)).line((5.0, 12.0)).line((12.0, 7.0)).line((20.0, 5.0)),
        ("core-box-1-2in", "core-box-1-2in", "straight-3-4in"),
    ),
    "ogee, 5 passes": (
        36.0, 26.0,
        Path((0.0, 24.0)).line((4.0, 24.0)).arc((14.0, 14.0), (4.0, 14.0), "cw")
        .arc((24.0, 4.0), (24.0, 14.0), "ccw").line((36.0, 4.0)),
        ("core-box-3-4in", "core-box-3-4in", "straight-3-4in", "straight-1-4in", "v90-1-2in"),
    ),
}  # fmt: skip
"""Width, thickness, target, and the bit of each pass. No bit fits any curve."""


def section(populations: Sequence[int] = POPULATIONS) -> str:
    """The section of the page, as Markdown."""
    return "\n".join(
        (
            "## A general-purpose optimiser as referee",
            "",
            *textwrap.wrap(
                "Differential evolution (scipy) on offsets and depths, one pass of each bit given, "
                "with the engine at a chord of 0.01 mm as its judge and an overcut of "
                f"{OVERCUT:g} mm allowed, until all of its population are alike. Then the finder "
                "is asked for as many passes of the same bits at the leftover that was evolved: "
                "first for one way alone, which the engine accepts at 0.001 mm, then for all kinds "
                "of ways. Processor seconds of one run each; those of the evolution until it was "
                "within 0.01 mm of its end. The ratio is to the one way, at equal leftover or "
                "less.",
                100,
            ),
            "",
            "| target | population | tries | evolved, mm | s | finder, mm | s, one way | s, all | "
            "ratio |",
            "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
            *(_row(name, size) for name in TARGETS for size in populations),
            "",
        )
    )


def _row(name: str, population: int) -> str:
    width, thickness, path, names = TARGETS[name]
    by_id = {bit.id: bit for bit in drawer()}
    bits = [by_id[each] for each in names]
    stack = Stack(
        blank=Blank(Rectangle(width, thickness)),
        run=StraightRun(1000.0),
        target=PathTarget(path),
    )
    evolved = evolve(stack, bits, OVERCUT, 1, GENERATIONS, population)
    different = tuple({bit.id: bit for bit in bits}.values())
    wanted = FindRequest(
        stack, different, evolved.leftover, max(OVERCUT, evolved.overcut), 0.01,
        most_passes=len(bits),
    )  # fmt: skip
    begin = time.process_time()
    found = _one_way(wanted)
    one = time.process_time() - begin
    begin = time.process_time()
    find_options(problem_of(wanted), SILENT)
    every = time.process_time() - begin
    if found > evolved.leftover:
        print(f"{name}: {found} is worse than {evolved.leftover}", file=sys.stderr)
    return (
        f"| {name} | {population} | {evolved.tries:,} | {evolved.leftover:.3f} | "
        f"{evolved.seconds:.1f} | {found:.3f} | {one:.2f} | {every:.2f} | "
        f"{evolved.seconds / one:.0f} |"
    )


def _one_way(wanted: FindRequest) -> float:
    """The leftover of the way of fewest passes [mm], infinite if there is none."""
    problem = problem_of(wanted)
    costs = Costs(1.0, 0.0, step=1.0, most_passes=wanted.most_passes)
    fewest = cheapest(problem.table, problem.points, costs)
    accepted = Search(problem, costs, SILENT, insists=True).accepted(fewest)
    return float("inf") if accepted is None else accepted[1].comparison.leftover_worst


if __name__ == "__main__":
    print(section())

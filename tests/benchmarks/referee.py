"""A general-purpose optimiser as referee: ``python -m tests.benchmarks.referee``.

Makes a part of docs/finding-figures.md.
"""

from __future__ import annotations

import sys
import textwrap
import time
from collections.abc import Sequence

from profilestack.finding.options import find_options
from profilestack.finding.problem import problem_of
from profilestack.finding.request import FindRequest
from profilestack.geometry.path import Path
from profilestack.progress import SILENT
from profilestack.stack import Blank, PathTarget, Rectangle, Stack, StraightRun
from tests.evolution import evolve
from tests.planted import drawer

OVERCUT = 0.05
GENERATIONS = (60, 250, 1000)

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


def section(generations: Sequence[int] = GENERATIONS) -> str:
    """The section of the page, as Markdown."""
    return "\n".join(
        (
            "## A general-purpose optimiser as referee",
            "",
            *textwrap.wrap(
                "Differential evolution (scipy) on offsets and depths, one pass of each bit given, "
                "with the engine at a chord of 0.01 mm as its judge and an overcut of "
                f"{OVERCUT:g} mm allowed. Then the finder is asked for as many passes of the same "
                "bits at the leftover that was evolved. Processor seconds of one run each; those "
                "of the evolution until it was within 0.01 mm of its end. The ratio is at equal "
                "leftover, or less.",
                100,
            ),
            "",
            "| target | generations | tries | evolved, mm | s | finder, mm | s | ratio |",
            "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
            *(_row(name, count) for name in TARGETS for count in generations),
            "",
        )
    )


def _row(name: str, generations: int) -> str:
    width, thickness, path, names = TARGETS[name]
    by_id = {bit.id: bit for bit in drawer()}
    bits = [by_id[each] for each in names]
    stack = Stack(
        blank=Blank(Rectangle(width, thickness)),
        run=StraightRun(1000.0),
        target=PathTarget(path),
    )
    evolved = evolve(stack, bits, OVERCUT, 1, generations)
    slow = evolved.seconds
    different = tuple({bit.id: bit for bit in bits}.values())
    begin = time.process_time()
    wanted = FindRequest(
        stack, different, evolved.leftover, max(OVERCUT, evolved.overcut), 0.01,
        most_passes=len(bits),
    )  # fmt: skip
    options = find_options(problem_of(wanted), SILENT)
    quick = time.process_time() - begin
    found = min(
        (option.assembled.comparison.leftover_worst for option in options), default=float("inf")
    )
    if found > evolved.leftover:
        print(f"{name}: {found} is worse than {evolved.leftover}", file=sys.stderr)
    return (
        f"| {name} | {generations} | {evolved.tries:,} | {evolved.leftover:.3f} | {slow:.1f} | "
        f"{found:.3f} | {quick:.2f} | {slow / quick:.0f} |"
    )


if __name__ == "__main__":
    print(section())

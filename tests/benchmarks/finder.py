"""How long finding takes: whole commands, and how it grows with bits and with the profile.

``python -m tests.benchmarks.finder`` prints the section of docs/performance.md.
"""

from __future__ import annotations

import dataclasses
import pathlib
import statistics
import time

from profilestack.bits.bit import Bit
from profilestack.files.shipped import read_bits
from profilestack.files.stack_file import read_stack
from profilestack.finding.cover import cheapest
from profilestack.finding.problem import problem_of
from profilestack.finding.request import FindRequest
from profilestack.finding.solver import Costs
from profilestack.stack import Blank, PathTarget, Rectangle, Stack
from tests.benchmarks.processes import run_measured

TARGET = pathlib.Path(__file__).parent / "three-ogee.stack.toml"
RUNS = 3
WHOLE = (
    ("@small-shop", "0.40mm", 3.0),
    ("@small-shop", "0.15mm", 3.0),
    ("@all", "0.40mm", 12.0),
    ("@all", "0.15mm", 20.0),
)
"""Bits offered, leftover, and the bound on the whole command [s]."""

BITS = (10, 40, 110, 330)
SIZES = (20.0, 50.0, 100.0, 200.0)


def section() -> str:
    """The section of the page, as Markdown."""
    lines = [
        "## Finding",
        "",
        "`profilestack find` on `tests/benchmarks/three-ogee.stack.toml` as a whole process: four",
        "kinds of way, each cut and compared; fewest passes and fewest bits are proved.",
        f"The quietest and the middle of {RUNS} runs.",
        "",
        "| bits | leftover | s | middle run, s | bound, s | MB |",
        "| --- | ---: | ---: | ---: | ---: | ---: |",
    ]
    for bits, leftover, most in WHOLE:
        runs = [
            run_measured(("find", str(TARGET), "--bits", bits, "--leftover", leftover))
            for _ in range(RUNS)
        ]
        seconds = [run[0] for run in runs]
        lines.append(
            f"| {bits} | {leftover.removesuffix('mm')} mm | {min(seconds):.2f} | "
            f"{statistics.median(seconds):.2f} | {most:g} | {max(run[1] for run in runs):.0f} |"
        )
    lines += [
        "",
        "Candidates and the proof of the fewest passes alone, warm, leftover 0.40: by the number",
        "of bits (spread evenly over the library), and by the width of the profile (the same one,",
        "scaled; the small shop's bits).",
        "",
        "| bits | s | passes | | width, mm | s | passes |",
        "| ---: | ---: | ---: | --- | ---: | ---: | ---: |",
    ]
    library, drawer = read_bits("@all").bits, read_bits("@small-shop").bits
    stack = read_stack(TARGET)
    for count, size in zip(BITS, SIZES, strict=True):
        some = library[:: max(1, len(library) // count)][:count]
        by_bits = _proved(stack, some)
        by_size = _proved(scaled(stack, size / 76.0), drawer)
        lines.append(f"| {len(some)} | {by_bits} | | {size:g} | {by_size} |")
    return "\n".join(lines) + "\n"


def _proved(stack: Stack, bits: tuple[Bit, ...]) -> str:
    """Median seconds and the number of passes, as cells."""
    request = FindRequest(stack, bits, 0.4, 0.03, 0.01)
    times, passes = [], ""
    for _ in range(3):
        begin = time.perf_counter()
        problem = problem_of(request)
        cover = cheapest(problem.table, problem.points, Costs(1.0, 0.0, step=1.0))
        times.append(time.perf_counter() - begin)
        passes = f"{cover.cost:.0f}" if cover.proved else f"{cover.bound:.0f} or more"
    return f"{statistics.median(times):.2f} | {passes}"


def scaled(stack: Stack, factor: float) -> Stack:
    """The stack with blank and target grown by ``factor``."""
    assert isinstance(stack.target, PathTarget)
    assert isinstance(stack.blank.stock, Rectangle)
    path = stack.target.path().moved(lambda point: (point[0] * factor, point[1] * factor))
    stock = Rectangle(stack.blank.stock.width * factor, stack.blank.stock.thickness * factor)
    return dataclasses.replace(stack, blank=Blank(stock), target=PathTarget(path))


if __name__ == "__main__":
    print(section())

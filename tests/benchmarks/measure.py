"""Measures everything and writes docs/performance.md: ``python -m tests.benchmarks.measure``.

To be run by hand at a quiet moment; the page names the machine and how busy it was.
"""

from __future__ import annotations

import os
import pathlib
import platform
import statistics
import time

import numpy
import scipy
import shapely

from profilestack.jobs.cut import cut_and_judge
from tests.benchmarks.processes import COMMANDS, PROCESS_BOUNDS, ROOT, run_measured
from tests.benchmarks.stacks import BOUNDS, bits, fitted

PAGE = ROOT / "docs" / "performance.md"
COUNTS = (3, 12, 48, 200)
ROUNDS = 5
"""Each figure is the median of the medians of so many rounds, spread over the whole run."""


def recompute(count: int) -> float:
    """Median milliseconds of one round."""
    stack, drawer = fitted(count), bits()
    cut_and_judge(stack, drawer)
    times = []
    for _ in range(100 if count < 100 else 30):
        begin = time.perf_counter()
        cut_and_judge(stack, drawer)
        times.append(1e3 * (time.perf_counter() - begin))
    return statistics.median(times)


def machine() -> str:
    name = platform.processor() or platform.machine()
    info = pathlib.Path("/proc/cpuinfo")
    if info.exists():
        names = [line for line in info.read_text().splitlines() if line.startswith("model name")]
        name = names[0].partition(":")[2].strip() if names else name
    return (
        f"{name}, {os.cpu_count()} cores, {platform.system()}; CPython "
        f"{platform.python_version()}, numpy {numpy.__version__}, scipy {scipy.__version__}, "
        f"shapely {shapely.__version__} (GEOS {shapely.geos_version_string})"
    )


def page(times: dict[int, float], starts: dict[str, tuple[float, float]], load: str) -> str:
    lines = [
        "# Performance",
        "",
        "Made by `python -m tests.benchmarks.measure`; the same work is timed by",
        "`pytest tests/benchmarks --benchmark-enable`. Nothing is timed in the ordinary tests.",
        "",
        f"Machine: {machine()}. Load when measured: {load}.",
        "",
        "## Recompute",
        "",
        "Cut, compare and caution a stack at a chord error of 0.001 mm, all bits known (warm):",
        "what happens at every step of a drag. The target is a crown's face 60 x 40 mm (fillet,",
        "cyma, fillet, cove, fillet), and every pass is lowered until it all but touches it.",
        f"Median of {ROUNDS} rounds.",
        "",
        "| passes | ms | bound, ms |",
        "| ---: | ---: | ---: |",
    ]
    for count, value in times.items():
        bound = f"{1e3 * BOUNDS[count]:g}" if count in BOUNDS else "-"
        lines.append(f"| {count} | {value:.2f} | {bound} |")
    lines += [
        "",
        "## Whole processes",
        "",
        "Started afresh, files of the system's cache warm. Median seconds and largest peak memory.",
        "",
        "| command | s | bound, s | MB | bound, MB |",
        "| --- | ---: | ---: | ---: | ---: |",
    ]
    for name, (seconds, peak) in starts.items():
        most, room = PROCESS_BOUNDS[name]
        lines.append(f"| `{name}` | {seconds:.2f} | {most:g} | {peak:.0f} | {room:g} |")
    return "\n".join(lines) + "\n"


def main() -> None:
    before = os.getloadavg()[0]
    rounds: dict[int, list[float]] = {count: [] for count in COUNTS}
    runs: dict[str, list[tuple[float, float]]] = {name: [] for name in COMMANDS}
    for _ in range(ROUNDS):
        for count in COUNTS:
            rounds[count].append(recompute(count))
        for name, words in COMMANDS.items():
            runs[name].append(run_measured(words))
    times = {count: statistics.median(values) for count, values in rounds.items()}
    starts = {
        name: (statistics.median(one[0] for one in values), max(one[1] for one in values))
        for name, values in runs.items()
    }
    load = f"{before:.1f} before, {os.getloadavg()[0]:.1f} after"
    PAGE.write_text(page(times, starts, load), encoding="utf-8")
    print(PAGE.read_text(encoding="utf-8"))


if __name__ == "__main__":
    main()

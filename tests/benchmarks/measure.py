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
from tests.benchmarks import app, finder
from tests.benchmarks.processes import COMMANDS, PROCESS_BOUNDS, ROOT, run_measured
from tests.benchmarks.stacks import BOUNDS, bits, fitted

PAGE = ROOT / "docs" / "performance.md"
COUNTS = (3, 12, 48, 200)
PAUSE = 1.0
"""Seconds between rounds."""
ROUNDS = 8
"""So many rounds are spread over the whole run; each gives medians. The quietest round counts: on
a machine that others use too, the rest measures the others."""


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


def page(
    times: dict[int, list[float]], starts: dict[str, list[tuple[float, float]]], load: str
) -> str:
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
        f"Median of the quietest of {ROUNDS} rounds, and of the middle one.",
        "",
        "| passes | ms | middle round, ms | bound, ms |",
        "| ---: | ---: | ---: | ---: |",
    ]
    for count, values in times.items():
        bound = f"{1e3 * BOUNDS[count]:g}" if count in BOUNDS else "-"
        middle = statistics.median(values)
        lines.append(f"| {count} | {min(values):.2f} | {middle:.2f} | {bound} |")
    lines += [
        "",
        "## Whole processes",
        "",
        "Started afresh, the files in the system's cache. Seconds of the quietest and of the",
        "middle run, and the largest peak memory.",
        "",
        "| command | s | middle run, s | bound, s | MB | bound, MB |",
        "| --- | ---: | ---: | ---: | ---: | ---: |",
    ]
    for name, values in starts.items():
        most, room = PROCESS_BOUNDS[name]
        seconds, peak = [one[0] for one in values], max(one[1] for one in values)
        lines.append(
            f"| `{name}` | {min(seconds):.2f} | {statistics.median(seconds):.2f} | {most:g} "
            f"| {peak:.0f} | {room:g} |"
        )
    return "\n".join(lines) + "\n"


def main() -> None:
    before = os.getloadavg()[0]
    rounds: dict[int, list[float]] = {count: [] for count in COUNTS}
    runs: dict[str, list[tuple[float, float]]] = {name: [] for name in COMMANDS}
    for _ in range(ROUNDS):
        time.sleep(PAUSE)
        for count in COUNTS:
            rounds[count].append(recompute(count))
        for name, words in COMMANDS.items():
            runs[name].append(run_measured(words))
    load = f"{before:.1f} before, {os.getloadavg()[0]:.1f} after"
    PAGE.write_text(
        f"{page(rounds, runs, load)}\n{finder.section()}\n\n{app.section()}", encoding="utf-8"
    )
    print(PAGE.read_text(encoding="utf-8"))


if __name__ == "__main__":
    main()

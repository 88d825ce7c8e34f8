"""The app: frames of a drag, its start, and what ten thousand edits take.

``python -m tests.benchmarks.app`` prints the section of docs/performance.md.
"""

from __future__ import annotations

import re
import statistics
import subprocess
import sys

from tests.benchmarks import app_edits, app_frames, app_start
from tests.benchmarks.processes import ROOT

ROUNDS = 5
CASES = (
    ("bench", 12, 1.0),
    ("window", 12, 1.0),
    ("window", 12, 2.0),
    ("window", 200, 1.0),
    ("opening", 12, 1.0),
)
NAMES = {"bench": "section and strips", "window": "whole window", "opening": "window just opened"}


def section(edits: int = 10_000) -> str:
    """The section of the page, as Markdown."""
    lines = [
        "## The app",
        "",
        "A pass is dragged over the section in a window of 1280 x 800, without a screen. A frame",
        "is the move's own work (snaps, contacts), the stack cut, compared and cautioned anew, and",
        "all that shows it painted: by the section and its strips alone, or by the whole window.",
        "The light strip's light follows at a pace of its own, at most 30 times a second.",
        "In a window that just opened, what the bits are good for is worked out at the same time.",
        f"Of {ROUNDS} rounds, by the clock: the quietest median, and the middle one.",
        "",
        "| what | passes | scale | median, ms | middle round | bound | 95 %, ms | bound "
        "| of it recompute, ms |",
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
        *(_frames(*case) for case in CASES),
        "",
    ]
    starts = app_start.starts(9)
    lines += [
        "From the command to the painted example, a new process each time: "
        f"{statistics.median(starts):.2f} s in the middle",
        f"of {len(starts)} starts, {starts[0]:.2f} at best; the bound is {app_start.MOST:g} s.",
        "",
        *_edits(edits),
        "",
    ]
    return "\n".join(lines)


def _frames(what: str, count: int, scale: float) -> str:
    rounds = [app_frames.in_own_process(what, count, scale) for _ in range(ROUNDS)]
    best = min(rounds, key=lambda each: each["median"])
    middle = statistics.median(each["median"] for each in rounds)
    most, late = app_frames.limits_of(what, count, scale)
    return (
        f"| {NAMES[what]} | {count} | {100 * scale:.0f} % | {best['median']:.1f} | {middle:.1f} "
        f"| {'-' if most is None else f'{most:g}'} | {best['late']:.1f} "
        f"| {'-' if late is None else f'{late:g}'} | {best['recompute']:.1f} |"
    )


def _edits(edits: int) -> list[str]:
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks.app_edits", str(edits)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    grown = re.search(r"([+-][0-9.]+) MB after", done.stdout)
    each = re.search(r"median ([0-9.]+) ms", done.stdout)
    assert grown is not None, done.stderr
    assert each is not None, done.stderr
    return [
        f"{edits:,} edits by hand, each painted (drags, typed values, passes put in and taken out,",
        f"steps back and forth): the process grows by {float(grown[1]):.0f} MB, the bound is "
        f"{app_edits.MOST:g} MB; {each[1]} ms an edit.",
    ]


if __name__ == "__main__":
    print(section())

"""Planted stacks, many of each size: ``python -m tests.benchmarks.planted [seeds of each size]``.

Makes a part of docs/finding-figures.md.
"""

from __future__ import annotations

import statistics
import sys
import textwrap
import time
from collections.abc import Iterator

from tests.planted import LEFTOVER, OVERCUT, drawer, find_planted, judge, planted

SIZES = (1, 2, 3, 4, 5, 6)
FIRST_SEED = 100
"""The ordinary tests plant smaller seeds."""


def section(seeds: int = 50) -> str:
    """The section of the page, as Markdown."""
    last = FIRST_SEED + seeds - 1
    return "\n".join(
        (
            "## Planted stacks",
            "",
            *textwrap.wrap(
                f"Random stacks from the {len(drawer())} bits of the small shop, as they may be "
                "cut and with every pass needed, make their own targets. At a leftover of "
                f"{LEFTOVER} mm and an overcut of {OVERCUT} mm the finder must not need more "
                "finishing passes, nor more bits, than were planted. It may do with fewer, where "
                f"another bit does the same. Seeds {FIRST_SEED} to {last} of each size; all bits "
                "of the drawer are offered.",
                100,
            ),
            "",
            "| passes planted | stacks | as few passes | fewer | as few bits | fewer | "
            "more of either | median s |",
            "| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |",
            *(_row(size, seeds) for size in SIZES),
            "",
        )
    )


def _row(size: int, seeds: int) -> str:
    counts = dict.fromkeys(("passes", "fewer passes", "bits", "fewer bits", "more"), 0)
    seconds = []
    for seed in range(FIRST_SEED, FIRST_SEED + seeds):
        wanted = planted(seed, size)
        begin = time.perf_counter()
        verdict = judge(find_planted(wanted, drawer()))
        seconds.append(time.perf_counter() - begin)
        for complaint in _complaints(verdict.meets(wanted), verdict.complaints):
            print(f"size {size}, seed {seed}: {complaint}", file=sys.stderr, flush=True)
        if not verdict.meets(wanted):
            counts["more"] += 1
            continue
        assert verdict.passes is not None
        assert verdict.bits is not None
        counts["passes" if verdict.passes == wanted.passes else "fewer passes"] += 1
        counts["bits" if verdict.bits == wanted.bits else "fewer bits"] += 1
    shown = " | ".join(str(count) for count in counts.values())
    return f"| {size} | {seeds} | {shown} | {statistics.median(seconds):.1f} |"


def _complaints(meets: bool, complaints: tuple[str, ...]) -> Iterator[str]:
    if not meets:
        yield "needs more than was planted"
    yield from complaints


if __name__ == "__main__":
    print(section(int(sys.argv[1]) if len(sys.argv) > 1 else 50))

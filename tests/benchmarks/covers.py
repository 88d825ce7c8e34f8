"""Small covering problems against looking at everything: ``python -m tests.benchmarks.covers``.

Makes a part of docs/finding-figures.md.
"""

from __future__ import annotations

import random
import statistics
import sys
import textwrap
import time

from profilestack.finding.cover import cheapest
from profilestack.finding.solver import Costs
from tests.exhaustive import cheapest_by_hand, coarse_problem, some_bits
from tests.planted import drawer, planted

FIRST_SEED = 1000
MOST = 16
KINDS = (
    ("passes", Costs(1.0, 0.0, step=1.0, most_passes=MOST)),
    ("bits", Costs(0.0, 1.0, step=1.0, most_passes=MOST)),
    ("passes + 1.5 bits", Costs(1.0, 1.5, step=0.5, most_passes=MOST)),
)


def section(cases: int = 100) -> str:
    """The section of the page, as Markdown."""
    equal = dict.fromkeys((name for name, _ in KINDS), 0)
    proved = dict.fromkeys((name for name, _ in KINDS), 0)
    none, columns, seconds = 0, [], []
    for seed in range(FIRST_SEED, FIRST_SEED + cases):
        chance = random.Random(seed)
        wanted = planted(seed, chance.randint(2, 4))
        bits = some_bits(chance, drawer(), chance.randint(2, 5))
        problem = coarse_problem(wanted.stack, bits, 0.3, 0.1, every=0.7)
        columns.append(len(problem.table.packed))
        for name, costs in KINDS:
            begin = time.perf_counter()
            found = cheapest(problem.table, problem.points, costs)
            seconds.append(time.perf_counter() - begin)
            least = cheapest_by_hand(problem.table, problem.points, costs.a_pass, costs.a_bit, MOST)
            same = found.columns is None if least is None else found.cost == least
            if not same:
                print(f"seed {seed}, {name}: {found.cost} against {least}", file=sys.stderr)
            equal[name] += same
            proved[name] += found.proved or least is None
            none += least is None and name == "passes"
    lines = [
        "## Small problems against looking at everything",
        "",
        *textwrap.wrap(
            f"{cases} planted targets (seeds {FIRST_SEED} to {FIRST_SEED + cases - 1}) with 2 to 5 "
            "bits of the small shop and a candidate every 0.7 mm, at a leftover of 0.3 mm. Every "
            f"set of bits, and every way to cover the points with at most {MOST} passes, is looked "
            f"at without a solver. {min(columns)} to {max(columns)} candidates, "
            f"{statistics.median(columns):.0f} in the middle; {none} have no cover with so few "
            "passes, which the finder says too. Median of the finder's own time "
            f"{1e3 * statistics.median(seconds):.0f} ms.",
            100,
        ),
        "",
        "| cost | problems | equal cost | proved |",
        "| --- | ---: | ---: | ---: |",
        *(f"| {name} | {cases} | {equal[name]} | {proved[name]} |" for name, _ in KINDS),
        "",
    ]
    return "\n".join(lines)


if __name__ == "__main__":
    print(section(int(sys.argv[1]) if len(sys.argv) > 1 else 100))

"""Bits that are not at hand and would help, and what each would gain."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from profilestack.bits.bit import Bit
from profilestack.errors import Cancelled
from profilestack.finding.advice import is_hidden, stretch_rows
from profilestack.finding.candidates import candidates_of
from profilestack.finding.columns import Indices, Table
from profilestack.finding.cover import cheapest
from profilestack.finding.coverage import reach
from profilestack.finding.problem import Problem, problem_of
from profilestack.finding.solver import Costs
from profilestack.progress import SILENT, Progress

ENOUGH = 3
"""So many bits to buy are named for a target."""


@dataclass(frozen=True, slots=True)
class Purchase:
    """A bit that is not offered and would help, and what it would gain, in words."""

    bit: Bit
    gain: str


def worth_buying(
    problem: Problem, library: Sequence[Bit], progress: Progress = SILENT
) -> tuple[Purchase, ...]:
    """Bits of a library that reach what the offered ones do not, the most helpful first.

    Stopped, it names none: the most helpful may not have been looked at.
    """
    stretches = stretch_rows(problem)
    if not stretches:
        return ()
    rows = np.concatenate(stretches)
    owner = np.repeat(np.arange(len(stretches)), [len(stretch) for stretch in stretches])
    owned = {bit.id for bit in problem.bits}
    # where nothing hangs over what stays, no bit has to come in from the end; to see where an
    # undercut bit fits takes long
    from_end = any(is_hidden(problem, int(row)) for row in rows)
    gains: list[tuple[int, float, Bit]] = []
    for bit in library:
        if progress.is_stopped():
            return ()
        if bit.id in owned:
            continue
        reached = np.zeros(len(rows), dtype=bool)
        for bench in problem.benches:
            on_bench = bench.lie.to_bench(problem.places[rows])
            resolution = problem.request.resolution
            candidates = candidates_of(bit, bench, resolution, -np.inf, np.inf, from_end)
            if len(candidates):
                touched = np.ones(len(rows), dtype=bool)
                reached |= reach(candidates, on_bench, touched).any(axis=0)
        if reached.any():
            whole = sum(reached[owner == k].all() for k in range(len(stretches)))
            gains.append((int(whole), float(reached.mean()), bit))
    gains.sort(key=lambda gain: (-gain[0], -gain[1], gain[2].length))
    return tuple(
        Purchase(bit, _gain(whole, share, len(stretches))) for whole, share, bit in gains[:ENOUGH]
    )


def _gain(whole: int, share: float, stretches: int) -> str:
    if whole == stretches:
        return "reaches all that stays" if stretches > 1 else "reaches the place that stays"
    if whole:
        return f"reaches {whole} of the {stretches} places that stay"
    return f"reaches {100.0 * share:.0f} % of what stays"


def saving_passes(
    problem: Problem, library: Sequence[Bit], fewest: int, progress: Progress
) -> tuple[Purchase, ...]:
    """Bits of a library with any one of which fewer finishing passes would do.

    ``fewest`` is how many the offered bits need. Only bits that a cover by all of the library
    takes are looked at, each of them alone beside the offered ones: the gains are proved, but a
    bit that would help as much may go unnamed.
    """
    owned = {bit.id for bit in problem.bits}
    more = tuple(bit for bit in library if bit.id not in owned)
    request = replace(problem.request, bits=(*problem.bits, *more))
    try:
        whole = problem_of(request, progress=progress)
    except Cancelled:
        return ()
    costs = Costs(1.0, 0.0, step=1.0)
    cover = cheapest(whole.table, whole.points, costs, progress=progress)
    if cover.columns is None:
        return ()
    offered = np.array([bit.id in owned for bit in whole.bits])
    taken = np.unique(whole.table.bits[whole.table.tools[cover.columns]])
    found: list[tuple[int, Bit]] = []
    for bit in taken[~offered[taken]].tolist():
        if progress.left <= 0.0:
            break
        table = _with_bits(whole.table, np.flatnonzero(offered | (np.arange(len(offered)) == bit)))
        alone = cheapest(table, whole.points, costs, progress=progress)
        if alone.columns is not None and alone.proved and alone.cost < fewest:
            found.append((int(alone.cost), whole.bits[bit]))
    found.sort(key=lambda each: each[0])
    return tuple(
        Purchase(bit, f"{count} finishing passes would do instead of {fewest}")
        for count, bit in found[:ENOUGH]
    )


def _with_bits(table: Table, bits: Indices) -> Table:
    """The table with the columns of some bits only."""
    kept = np.isin(table.bits[table.tools], bits)
    return replace(table, packed=table.packed[kept], tools=table.tools[kept])

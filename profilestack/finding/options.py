"""Ways to cut it: options of which none beats another in everything."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from profilestack.errors import Cancelled
from profilestack.finding.assembly import Assembled
from profilestack.finding.cover import cheapest, with_these_bits
from profilestack.finding.few_bits import with_few_bits
from profilestack.finding.problem import Problem
from profilestack.finding.refining import at_leftover, with_bits
from profilestack.finding.search import Search
from profilestack.finding.solver import Costs, Cover, cost_of
from profilestack.progress import Progress

Objective = Literal["passes", "bits", "minutes", "leftover"]

QUICK = 0.12
"""Seconds for a proof that nobody asked to wait for."""

MOST_BITS_AGAIN = 80
"""The finer problem of the least leftover is built over at most so many bits."""


@dataclass(frozen=True, slots=True, eq=False)
class Option:
    """One way to cut a target, as the engine judges it.

    ``cost`` and ``bound`` are of the objective, for the finishing passes of the discretised
    problem; ``best`` are the objectives at which no option of the list is better.
    """

    objective: Objective
    assembled: Assembled
    cost: float
    bound: float
    best: tuple[Objective, ...] = ()

    @property
    def proved(self) -> bool:
        """Whether nothing better exists on the grid used."""
        return self.bound >= self.cost - 1e-9

    @property
    def measures(self) -> tuple[float, float, float, float]:
        """Bits, finishing passes, minutes, leftover: what options are compared by."""
        assembled = self.assembled
        return (
            float(len(assembled.bit_ids)),
            float(assembled.finishing),
            round(assembled.minutes.total, 1),
            round(assembled.comparison.leftover_worst, 2),
        )


WORDS: dict[Objective, str] = {
    "passes": "fewest passes",
    "bits": "fewest bits",
    "minutes": "least time",
    "leftover": "least leftover",
}


def find_options(problem: Problem, progress: Progress) -> tuple[Option, ...]:
    """The options of a problem, each judged by the engine."""
    request = problem.request
    costs = Costs(1.0, 0.0, step=1.0, most_passes=request.most_passes, most_bits=request.most_bits)
    progress.report(0.25, f"looking for the {WORDS['passes']}")
    fewest = cheapest(problem.table, problem.points, costs, progress=progress)
    if fewest.columns is None:
        return ()
    count = len(fewest.columns)
    # two threads: the solver works outside the interpreter's lock; the longest work goes first
    with ThreadPoolExecutor(2) as threads:
        leftover = threads.submit(_least_leftover, problem, costs, count, progress)
        bits = threads.submit(_fewest_bits, problem, fewest, count, progress)
        passes = threads.submit(_fewest_passes, problem, costs, fewest, progress)
        minutes = threads.submit(
            lambda: _least_minutes(problem, bits.result()[1] or fewest, progress)
        )
        found = (passes.result(), bits.result()[0], minutes.result(), leftover.result())
    return _worth_telling([option for option in found if option is not None])


def _fewest_passes(
    problem: Problem, costs: Costs, fewest: Cover, progress: Progress
) -> Option | None:
    search = Search(problem, costs, progress, insists=True)
    plain = search.accepted(fewest)
    if plain is None:
        return None
    cover, assembled = plain
    option = Option("passes", assembled, cover.cost, cover.bound)
    # as many passes, but of fewer bits, if that is found soon
    count = assembled.finishing
    # a setup saved is worth as much as a bit
    a_setup = 1.0 if len(problem.benches) > 1 else 0.0
    fewer = Costs(0.0, 1.0, a_setup, 1.0, most_passes=count, most_bits=costs.most_bits)
    limit = progress.within(QUICK)
    second = cheapest(search.problem.table, search.problem.points, fewer, cover.columns, limit)
    if cover.columns is None or second.cost >= cost_of(search.problem.table, cover.columns, fewer):
        return option
    better = Search(search.problem, fewer, progress).accepted(second)
    if better is not None and better[1].finishing == count and _is_good(better[1]):
        option = replace(option, assembled=better[1])
    return option


def _fewest_bits(
    problem: Problem, known: Cover, fewest_passes: int, progress: Progress
) -> tuple[Option | None, Cover | None]:
    """Fewest bits, but no more than twice the passes that are needed.

    One thin bit that goes over everything in a hundred passes is no way to cut a molding.
    """
    progress.report(0.4, f"looking for the {WORDS['bits']}")
    request = problem.request
    most = request.most_passes or max(2 * fewest_passes, fewest_passes + 6)
    costs = Costs(0.0, 1.0, step=1.0, most_passes=most, most_bits=request.most_bits)
    found: tuple[Option | None, Cover | None] = (None, None)
    for bits, cover in _few_bits(problem, known, costs, progress):
        if progress.is_stopped():
            break  # the way of fewest passes is the best so far
        few = Costs(1.0, 0.0, step=1.0, most_passes=most, most_bits=int(bits.cost))
        accepted = Search(problem, few, progress).accepted(cover)
        if accepted is None:
            found = (found[0], found[1] or cover)
            continue
        used = {single.bit for single in accepted[1].stack.passes if not single.relief}
        option = Option("bits", accepted[1], float(len(used)), bits.bound)
        if found[0] is None or _is_good(accepted[1]):
            found = (option, cover)
        if _is_good(accepted[1]):
            break
    return found


def _few_bits(
    problem: Problem, known: Cover, costs: Costs, progress: Progress
) -> Iterator[tuple[Cover, Cover]]:
    """A cover of fewest bits, and one by as many bits with few passes; others if that is no good.

    The sets of bits that were gone through come first, what the solver finds after them.
    """
    table, points = problem.table, problem.points
    found, least = with_few_bits(table, points, costs, progress)
    if found is not None and found.columns is not None:
        yield found, replace(found, cost=float(len(found.columns)), bound=0.0)
    bits = cheapest(table, points, costs, known.columns, progress, lower=float(least))
    if bits.columns is None:
        return
    few = Costs(1.0, 0.0, step=1.0, most_passes=costs.most_passes, most_bits=int(bits.cost))
    limit = progress.within(problem.request.seconds or QUICK)
    start = with_these_bits(table, points, bits.columns, few, limit)
    first = bits.columns if start.columns is None else start.columns
    second = cheapest(table, points, few, first, limit)
    if second.columns is not None:
        yield bits, second


def _least_minutes(problem: Problem, known: Cover | None, progress: Progress) -> Option | None:
    """Least time by changes and travels; ``known`` is a cover to begin with."""
    progress.report(0.7, f"looking for the {WORDS['minutes']}")
    if progress.is_stopped():
        return None
    request = problem.request
    run, shop = request.stack.run, request.shop
    length = getattr(run, "length", 1000.0)
    a_pass = run.pieces * shop.pass_minutes(length, shop.finish_feed)
    # in units of a pass, to the nearest half: so a proof has few values to tell apart
    ratio = max(0.5, round(2.0 * shop.bit_minutes(run.pieces) / a_pass) / 2.0)
    fixing = shop.setup_once + run.pieces * shop.setup_piece + shop.test
    a_setup = round(2.0 * fixing / a_pass) / 2.0 if len(problem.benches) > 1 else 0.0
    costs = Costs(
        1.0, ratio, a_setup, 0.5, most_passes=request.most_passes, most_bits=request.most_bits
    )
    limit = progress.within(request.seconds or QUICK)
    first = None if known is None else known.columns
    cover = cheapest(problem.table, problem.points, costs, first, limit)
    if first is not None and cover.cost >= cost_of(problem.table, first, costs):
        return None  # the cover that is known already is the quickest too
    accepted = Search(problem, costs, progress).accepted(cover)
    if accepted is None:
        return None
    cover, assembled = accepted
    return Option("minutes", assembled, cover.cost * a_pass, cover.bound * a_pass)


def _least_leftover(
    problem: Problem, costs: Costs, fewest_passes: int, progress: Progress
) -> Option | None:
    """A cover at half the leftover; what cannot be reached so closely is left as it is."""
    progress.report(0.3, f"looking for the {WORDS['leftover']}")
    if progress.is_stopped():
        return None
    request = problem.request
    useful = np.unique(problem.table.bits[problem.table.tools])
    stride = -(-len(useful) // MOST_BITS_AGAIN)
    part = with_bits(problem, useful[::stride])
    try:
        finer = at_leftover(part, request.leftover / 2.0, progress)
    except Cancelled:
        return None  # the way of fewest passes is the best so far
    limit = progress.within(request.seconds or 2.0 * QUICK)
    most = request.most_passes or 3 * fewest_passes + 6
    cover = cheapest(finer.table, finer.points, replace(costs, most_passes=most), progress=limit)
    accepted = Search(finer, costs, progress).accepted(cover)
    if accepted is None:
        return None
    worst = accepted[1].comparison.leftover_worst
    # no cut comes nearer to what is out of reach at half the leftover
    missed = len(finer.points) < len(finer.benches[0].points)
    return Option("leftover", accepted[1], worst, request.leftover / 2.0 if missed else 0.0)


def _is_good(assembled: Assembled) -> bool:
    tolerance = assembled.stack.tolerance
    return assembled.comparison.leftover_worst <= tolerance.leftover + 1e-6 and not any(
        caution.severity == "stop" for caution in assembled.cautions
    )


def _worth_telling(options: list[Option]) -> tuple[Option, ...]:
    """Options that no other beats in everything, each named for what it is best at.

    An option that is beaten gives its proof and its name to the better one. One that breaks the
    tolerance, or must not be cut, is told only where all do.
    """
    kept: list[Option] = []
    for option in [option for option in options if _is_good(option.assembled)] or options:
        if any(_is_as_good(each, option) for each in kept):
            continue
        beaten = [each for each in kept if _is_as_good(option, each)]
        if beaten:  # the proof that was made belongs to the name that comes first
            option = replace(beaten[0], assembled=option.assembled)
        kept = [each for each in kept if all(each is not other for other in beaten)] + [option]
    return tuple(replace(option, best=_best_at(option, kept)) for option in kept)


def _best_at(option: Option, options: list[Option]) -> tuple[Objective, ...]:
    """The objectives at which no other option is better."""
    found: list[Objective] = []
    names: tuple[Objective, ...] = ("bits", "passes", "minutes", "leftover")
    for place, name in enumerate(names):
        best = min(each.measures[place] for each in options)
        first = next(each for each in options if each.measures[place] == best)
        if option is first:
            found.append(name)
    return tuple(found)


def _is_as_good(one: Option, other: Option) -> bool:
    """Whether one option is as good as the other in everything, and in tolerance if that is."""
    if _is_good(other.assembled) and not _is_good(one.assembled):
        return False
    # estimates that differ by less are no reason for a way of its own
    near = (0.0, 0.0, 0.03 * other.measures[2], 0.02)
    return all(
        mine <= theirs + slack
        for mine, theirs, slack in zip(one.measures, other.measures, near, strict=True)
    )

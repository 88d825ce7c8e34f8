"""Ways to cut: none beats another, each is what the engine says, limits and a stop are kept."""

from __future__ import annotations

import itertools
from dataclasses import replace
from functools import cache

import pytest

from profilestack.bits.bit import Bit
from profilestack.cutting.cautions import cautions_of
from profilestack.cutting.comparison import compare
from profilestack.cutting.cut import cut_stack
from profilestack.errors import Cancelled
from profilestack.finding.needs import least_needed
from profilestack.finding.options import Option, find_options
from profilestack.finding.problem import problem_of
from profilestack.finding.request import FindRequest
from profilestack.geometry.path import Path
from profilestack.jobs.find import find, stack_of, strange_bits
from profilestack.planning.minutes import minutes_of
from profilestack.progress import SILENT, Progress
from profilestack.stack import Blank, PathTarget, Rectangle, Setup, Stack, StraightRun
from tests.evolution import evolve
from tests.finding import board_for, request
from tests.planted import drawer, planted


def by_name(*names: str) -> list[Bit]:
    bits = {bit.id: bit for bit in drawer()}
    return [bits[name] for name in names]


SLOPES = (
    Path((0.0, 22.0)).line((6.0, 22.0)).arc((16.0, 12.0), (16.0, 22.0), "ccw").line((20.0, 12.0))
    .line((30.0, 7.0)).arc((36.0, 13.0), (30.0, 13.0), "ccw").line((36.0, 20.0)).line((45.0, 20.0))
)  # fmt: skip
"""A hollow, a slope and a round inside corner, for bits that do not quite fit them."""

OFFERED = ("core-box-1-2in", "core-box-3-4in", "straight-1-4in", "straight-3-4in", "ball-1-4in",
           "v90-1-2in", "v60-1-2in")  # fmt: skip


@cache
def slopes() -> tuple[FindRequest, tuple[Option, ...]]:
    wanted = request(board_for(SLOPES, 45.0, 25.0), by_name(*OFFERED), 0.2, 0.05)
    return wanted, find_options(problem_of(wanted), SILENT)


@cache
def stepped() -> tuple[FindRequest, tuple[Option, ...]]:
    wanted = request(planted(1, 5).stack, drawer()[:20], 0.2, 0.05)
    return wanted, find_options(problem_of(wanted), SILENT)


def beats(one: Option, other: Option) -> bool:
    """Whether one is as good in bits, passes, minutes and leftover, and better in some of them."""
    mine, theirs = (
        (
            len(option.assembled.bit_ids),
            option.assembled.finishing,
            option.assembled.minutes.total,
            option.assembled.comparison.leftover_worst,
        )
        for option in (one, other)
    )
    return all(a <= b for a, b in zip(mine, theirs, strict=True)) and mine != theirs


@pytest.mark.parametrize("made", [slopes, stepped])
def test_no_way_beats_another(made: object) -> None:
    _, options = made()  # type: ignore[operator]
    assert options
    for one, other in itertools.permutations(options, 2):
        assert not beats(one, other), (one.objective, other.objective)


@pytest.mark.parametrize("made", [slopes, stepped])
def test_every_way_is_what_the_engine_says_of_it(made: object) -> None:
    wanted, options = made()  # type: ignore[operator]
    bits = {bit.id: bit for bit in wanted.bits}
    for option in options:
        assembled = option.assembled
        cut = cut_stack(assembled.stack, bits)
        comparison = compare(cut)
        assert comparison is not None
        assert comparison.leftover_worst == assembled.comparison.leftover_worst
        assert comparison.overcut_worst == assembled.comparison.overcut_worst
        assert comparison.leftover_worst <= wanted.leftover + 1e-6
        assert comparison.overcut_worst <= wanted.overcut + 1e-6
        assert cautions_of(cut, comparison) == assembled.cautions
        assert minutes_of(cut, comparison) == assembled.minutes
        for single in assembled.stack.passes:
            for value in (single.offset, single.depth):
                assert value / 0.01 == pytest.approx(round(value / 0.01), abs=1e-6)


@pytest.mark.parametrize("made", [slopes, stepped])
def test_costs_and_bounds_are_of_the_finishing_passes(made: object) -> None:
    _, options = made()  # type: ignore[operator]
    for option in options:
        assert option.bound <= option.cost + 1e-9
        assert option.proved == (option.cost - option.bound <= 1e-9)
        finishing = [each for each in option.assembled.stack.passes if not each.relief]
        if option.objective == "passes":
            assert option.cost == len(finishing)
        if option.objective == "bits":
            assert option.cost == len({each.bit for each in finishing})
        if option.objective == "leftover":
            assert option.cost == option.assembled.comparison.leftover_worst


def test_fewest_passes_and_fewest_bits_are_among_the_ways() -> None:
    _, options = slopes()
    passes = min(option.assembled.finishing for option in options)
    proofs = [option for option in options if option.objective == "passes"]
    assert [option.cost for option in proofs if option.proved] == [passes]


@pytest.mark.parametrize("most", [4, 6, 9])
def test_no_way_takes_more_passes_than_are_allowed(most: int) -> None:
    wanted = replace(slopes()[0], most_passes=most)
    options = find_options(problem_of(wanted), SILENT)
    needed = min(option.assembled.finishing for option in slopes()[1])
    assert bool(options) == (most >= needed)
    assert all(option.assembled.finishing <= most for option in options)


@pytest.mark.parametrize("most", [2, 3])
def test_no_way_takes_more_bits_than_are_allowed(most: int) -> None:
    made = planted(3, 4).stack
    few = {single.bit for single in made.passes} | {"straight-1-8in", "ball-1-4in"}
    wanted = request(made, by_name(*sorted(few)), 0.3, 0.05, most_bits=most)
    problem = problem_of(wanted)
    needs = least_needed(problem)
    assert needs is not None
    assert needs.bits == 3
    options = find_options(problem, SILENT)
    assert bool(options) == (most >= needs.bits)
    for option in options:
        finishing = {each.bit for each in option.assembled.stack.passes if not each.relief}
        assert len(finishing) <= most


@pytest.mark.parametrize("looks", [0, 3])
def test_stopped_before_anything_is_found_there_is_nothing(looks: int) -> None:
    seen = itertools.count()
    with pytest.raises(Cancelled):
        find(slopes()[0], Progress(is_stopped=lambda: next(seen) > looks))


@pytest.mark.parametrize("looks", [10, 20, 40, 100])
def test_stopped_early_the_best_so_far_is_sound(looks: int) -> None:
    wanted, _ = slopes()
    seen = itertools.count()
    result = find(wanted, Progress(is_stopped=lambda: next(seen) > looks))
    assert result.stopped
    assert not result.is_good
    bits = {bit.id: bit for bit in wanted.bits}
    for option in result.options:
        comparison = compare(cut_stack(option.assembled.stack, bits))
        assert comparison is not None
        assert comparison.leftover_worst == option.assembled.comparison.leftover_worst
        assert comparison.overcut_worst <= wanted.overcut + 1e-6
        assert option.bound <= option.cost + 1e-9


def test_a_way_as_a_document_keeps_what_the_document_had() -> None:
    wanted, options = slopes()
    carried = tuple(by_name("core-box-3-4in", "v90-1-2in"))
    spare = Setup("edge", 90.0)
    asked = replace(wanted.stack, title="Two slopes", bits=carried, setups=(spare,))
    document = stack_of(options[0], strange_bits(wanted.bits, asked), asked)
    assert document.passes == options[0].assembled.stack.passes
    assert document.tolerance.leftover == wanted.leftover
    plain = replace(document, passes=asked.passes, tolerance=asked.tolerance)
    assert plain == asked


def test_a_way_as_a_document_carries_bits_that_nobody_else_has() -> None:
    wanted, options = slopes()
    used = options[0].assembled.bit_ids[0]
    own = tuple(replace(b, note="mine") if b.id == used else b for b in wanted.bits)
    assert strange_bits(wanted.bits, wanted.stack) == ()
    strange = strange_bits(own, wanted.stack)
    assert [bit.note for bit in strange] == ["mine"]
    document = stack_of(options[0], strange, wanted.stack)
    assert document.bits == strange
    # a bit of the same id that the document had would be cut with in its place
    other = next(bit for bit in wanted.bits if bit.id == used)
    asked = replace(wanted.stack, bits=(other,))
    assert stack_of(options[0], strange_bits(own, asked), asked).bits == strange


def test_the_finder_leaves_no_more_than_a_general_optimiser_with_the_same_bits() -> None:
    path = Path((0.0, 14.0)).line((6.0, 14.0)).arc((14.0, 6.0), (14.0, 14.0), "ccw")
    stack = Stack(
        blank=Blank(Rectangle(24.0, 16.0)),
        run=StraightRun(1000.0),
        target=PathTarget(path.line((24.0, 6.0))),
    )
    bits = by_name("core-box-1-2in", "straight-3-4in")
    evolved = evolve(stack, bits, 0.05, seed=1, generations=12)
    assert evolved.overcut <= 0.06
    wanted = FindRequest(stack, tuple(bits), evolved.leftover, 0.06, 0.01, most_passes=len(bits))
    options = find_options(problem_of(wanted), SILENT)
    assert options
    for option in options:
        assert option.assembled.comparison.leftover_worst <= evolved.leftover + 1e-6
        assert option.assembled.finishing <= len(bits)

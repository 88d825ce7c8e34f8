"""What has to hold whatever is looked for: more bits never cost more, how the
blank is drawn changes nothing."""

from __future__ import annotations

import dataclasses
import random
from collections.abc import Sequence

import pytest

from profilestack.bits.bit import Bit
from profilestack.cutting.stroke import exact_cos_sin
from profilestack.finding.cover import cheapest
from profilestack.finding.problem import problem_of
from profilestack.finding.solver import Costs
from profilestack.geometry.path import Path, Point
from profilestack.stack import Blank, OutlineStock, PathTarget, Rectangle, Setup, Stack
from tests.finding import request
from tests.planted import drawer, planted

SIMPLE = [bit for bit in drawer() if bit.pilot_diameter is None]


def fewest(
    stack: Stack, bits: Sequence[Bit], leftover: float, setups: tuple[Setup, ...] = ()
) -> float:
    """The fewest finishing passes, proved."""
    other = {"setups": setups} if setups else {}
    problem = problem_of(request(stack, bits, leftover, 0.05, **other))
    found = cheapest(problem.table, problem.points, Costs(1.0, 0.0, step=1.0))
    assert found.proved
    return found.cost


def with_path(stack: Stack, path: Path) -> Stack:
    return dataclasses.replace(stack, target=PathTarget(path))


@pytest.mark.parametrize("seed", range(6))
def test_a_bit_more_never_costs_a_pass(seed: int) -> None:
    chance = random.Random(seed)
    wanted = planted(seed, 4)
    used = {single.bit for single in wanted.stack.passes}
    bits = [bit for bit in drawer() if bit.id in used]
    more = [*bits, *chance.sample([bit for bit in SIMPLE if bit.id not in used], 4)]
    assert fewest(wanted.stack, more, 0.1) <= fewest(wanted.stack, bits, 0.1) <= 4.0


@pytest.mark.parametrize("seed", range(6))
def test_a_looser_tolerance_never_costs_a_pass(seed: int) -> None:
    wanted = planted(seed, 5)
    used = {single.bit for single in wanted.stack.passes}
    bits = [bit for bit in drawer() if bit.id in used]
    counts = [fewest(wanted.stack, bits, leftover) for leftover in (0.05, 0.2, 0.8)]
    assert counts == sorted(counts, reverse=True)


def mirrored(stack: Stack) -> Stack:
    board = stack.blank.stock
    assert isinstance(board, Rectangle)
    assert stack.target is not None
    path = stack.target.path()
    turned = path.moved(lambda point: (board.width - point[0], point[1]), mirrors=True)
    return with_path(stack, turned.reversed())


@pytest.mark.parametrize("seed", range(6))
def test_a_mirrored_target_takes_no_more_than_the_mirrored_stack(seed: int) -> None:
    wanted = planted(seed, 4)
    used = {single.bit for single in wanted.stack.passes}
    bits = [bit for bit in drawer() if bit.id in used]
    assert fewest(mirrored(wanted.stack), bits, 0.1) <= wanted.passes


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("angle", [90.0, 180.0, -30.0])
def test_a_turned_target_is_cut_as_well_when_the_blank_is_turned_back(
    seed: int, angle: float
) -> None:
    wanted = planted(seed, 3)
    used = {single.bit for single in wanted.stack.passes}
    bits = [bit for bit in drawer() if bit.id in used]
    turned, back = turned_by(wanted.stack, -angle), Setup("back", angle)
    stack = dataclasses.replace(turned, setups=(back,))
    assert fewest(stack, bits, 0.1, (back,)) <= wanted.passes


def turned_by(stack: Stack, angle: float) -> Stack:
    """Blank and target turned together, the blank an outline from there on."""
    cos, sin = exact_cos_sin(angle)

    def turn(point: Point) -> Point:
        x, z = point
        return (cos * x - sin * z, sin * x + cos * z)

    assert stack.target is not None
    outline = stack.blank.outline().moved(turn)
    corners = [outline.start, *(step.to for step in outline.steps)]
    left, low = (min(corner[k] for corner in corners) for k in (0, 1))
    shift = lambda point: (point[0] - left, point[1] - low)  # noqa: E731
    path = stack.target.path().moved(turn).moved(shift)
    blank = Blank(OutlineStock(outline.moved(shift)))
    return dataclasses.replace(stack, blank=blank, target=PathTarget(path), passes=())

"""Laws of a plan on random stacks and on the shipped pieces."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from pathlib import Path

import pytest
import shapely

from profilestack.bits.bit import Bit
from profilestack.cutting.cut import cut_stack
from profilestack.jobs.opening import open_stack
from profilestack.planning.plan import Plan
from profilestack.planning.planner import plan_stack
from profilestack.planning.shop import USUAL_SHOP
from profilestack.stack import Stack
from tests.random_stacks import random_fitted_stack, random_stack

PIECES = sorted((Path(__file__).parents[2] / "examples").rglob("*.stack.toml"))
SHIPPED = [path for path in PIECES if "[[pass]]" in path.read_text(encoding="utf-8")]


def keeps_the_laws(stack: Stack, bits: Mapping[str, Bit], offered: tuple[Bit, ...] = ()) -> Plan:
    plan = plan_stack(stack, bits, USUAL_SHOP, offered)
    cut = cut_stack(stack, bits)
    # the steps leave the same section, whatever was added, however it was ordered
    left, wanted = plan.cut.sections[-1], cut.sections[-1]
    assert shapely.symmetric_difference(left, wanted).area < 1e-6
    removed = math.fsum(step.removed_area for step in plan.steps)
    assert removed == pytest.approx(cut.blank.area - cut.section.area, rel=1e-9, abs=1e-6)
    volume = math.fsum(step.removed_volume for step in plan.steps)
    assert volume == pytest.approx(
        math.fsum(each.removed_volume for each in cut.passes), rel=1e-9, abs=1e-3
    )
    # every pass of the document is there once, its last depth its own
    numbers = {each.number for each in cut.passes}
    last = [step for step in plan.steps if step.is_last and step.document_pass is not None]
    assert sorted(step.document_pass or 0 for step in last) == sorted(numbers)
    for step in last:
        single = stack.passes[(step.document_pass or 0) - 1]
        assert (step.bit.id, step.offset, step.depth) == (single.bit, single.offset, single.depth)
    for _, steps in itertools.groupby(plan.steps, key=lambda step: step.pass_number):
        depths = [step.depth for step in steps]
        assert depths == sorted(depths)
    for step in plan.steps:
        assert step.chip <= step.tooth + 1e-9
        assert step.power <= step.power_there * USUAL_SHOP.load + 1e-6
        assert step.section <= step.removed_area + 1e-9
    return plan


@pytest.mark.parametrize("seed", [*range(0, 40, 4), 136])
def test_random_stacks_that_fit_a_target(seed: int) -> None:
    keeps_the_laws(*random_fitted_stack(seed))


@pytest.mark.parametrize("seed", range(1, 60, 6))
def test_random_stacks_with_setups_and_copies(seed: int) -> None:
    keeps_the_laws(*random_stack(seed))


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_the_shipped_pieces(path: Path) -> None:
    opened = open_stack(path)
    plan = keeps_the_laws(opened.stack, opened.bits)
    assert plan.proved, "a small exact search: the quickest order is known"
    assert not any(caution.severity == "stop" for caution in plan.cautions)

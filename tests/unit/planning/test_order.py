"""The order of passes: what hinders no shank, and what a shop would take first."""

from __future__ import annotations

import random

import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Dovetail
from profilestack.cutting.cut import cut_stack
from profilestack.planning.order import first_order, free_order, rubbing
from profilestack.stack import Pass, Setup, Stack
from tests.shop import bit as bit_of
from tests.shop import core_box, roundover, stack_of, straight, vee

BITS = {
    bit.id: bit
    for bit in (
        straight(20.0), straight(6.0), core_box(12.0), core_box(25.0), roundover(6.0, 3.0),
        vee(20.0, 90.0), bit_of("dovetail", Dovetail(12.7, 14.0), edge=12.0),
    )
}  # fmt: skip
SETUPS = (Setup("back", 180.0), Setup("tipped", 45.0))


def board(*passes: Pass) -> Stack:
    stack, _ = stack_of(setups=SETUPS)
    return Stack(blank=stack.blank, run=stack.run, setups=SETUPS, passes=passes)


def names(passes: object) -> list[str]:
    return [single.bit for single in passes]  # type: ignore[attr-defined]


def test_flats_hollows_rounds_and_quirks_come_in_that_order() -> None:
    passes = [
        Pass("dovetail", 30.0, 8.0),
        Pass(vee(20.0, 90.0).id, 10.0, 5.0),
        Pass(roundover(6.0, 3.0).id, 50.0, 6.0),
        Pass(core_box(12.0).id, 20.0, 5.0),
        Pass(core_box(25.0).id, 40.0, 5.0),
        Pass(straight(6.0).id, 30.0, 5.0),
        Pass(straight(20.0).id, 30.0, 3.0),
    ]
    assert names(first_order(passes, BITS, board())) == [
        straight(20.0).id, straight(6.0).id, core_box(25.0).id, core_box(12.0).id,
        roundover(6.0, 3.0).id, vee(20.0, 90.0).id, "dovetail",
    ]  # fmt: skip


def test_relief_comes_first_as_it_was_planned_and_each_bits_passes_together() -> None:
    wide, slim = straight(20.0).id, straight(6.0).id
    passes = [
        Pass(slim, 10.0, 5.0),
        Pass(slim, 40.0, 9.0, relief=True),
        Pass(wide, 30.0, 3.0),
        Pass(wide, 20.0, 9.0, relief=True),
        Pass(slim, 50.0, 5.0),
        Pass(wide, 15.0, 3.0),
    ]
    ordered = first_order(passes, BITS, board())
    assert [single.offset for single in ordered] == [40.0, 20.0, 30.0, 15.0, 10.0, 50.0]


def test_the_back_comes_before_the_face_and_tipped_work_last() -> None:
    wide = straight(20.0).id
    passes = [
        Pass(wide, 10.0, 3.0, "tipped"),
        Pass(wide, 10.0, 3.0, "face"),
        Pass(wide, 10.0, 3.0, "back"),
    ]
    ordered = first_order(passes, BITS, board())
    assert [single.setup for single in ordered] == ["back", "face", "tipped"]


def short_edge() -> Bit:
    """An edge of 6 mm on a shank thicker than the edge is wide."""
    return straight(6.0, edge=6.0, shank=12.0)


def test_a_pass_whose_shank_would_rub_goes_after_the_one_that_makes_room() -> None:
    deep, wide = short_edge(), straight(20.0)
    # 10 deep in the middle of a floor that the wide bit lowers by 8
    stack, bits = stack_of((deep, 30.0, 10.0), (wide, 30.0, 8.0))
    assert rubbing(cut_stack(stack, bits)) == {1}
    freed = free_order(stack, bits)
    assert names(freed.passes) == [wide.id, deep.id]
    assert rubbing(cut_stack(freed, bits)) == set()


def test_a_pass_that_nothing_makes_room_for_stays_and_is_told() -> None:
    deep = short_edge()
    stack, bits = stack_of((deep, 30.0, 10.0), (core_box(12.0), 50.0, 4.0))
    freed = free_order(stack, bits)
    assert len(freed.passes) == 2
    numbers = rubbing(cut_stack(freed, bits))
    assert [freed.passes[number - 1].bit for number in numbers] == [deep.id]


@pytest.mark.parametrize("seed", range(8))
def test_no_order_is_made_worse_and_nothing_is_lost(seed: int) -> None:
    chance = random.Random(seed)
    bits = [short_edge(), straight(20.0, edge=10.0), core_box(12.0, edge=8.0), straight(9.0)]
    placed = [
        (
            chance.choice(bits),
            round(chance.uniform(5.0, 55.0), 2),
            round(chance.uniform(2.0, 15.0), 2),
        )
        for _ in range(6)
    ]
    stack, by_id = stack_of(*placed)
    freed = free_order(stack, by_id)
    before, after = (rubbing(cut_stack(each, by_id)) for each in (stack, freed))
    assert len(after) <= len(before)
    assert sorted(names(freed.passes)) == sorted(names(stack.passes))
    assert sorted((p.offset, p.depth) for p in freed.passes) == sorted(
        (p.offset, p.depth) for p in stack.passes
    )

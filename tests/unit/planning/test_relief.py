"""Relief passes: they clear what has to go, and touch nothing that must stay."""

from __future__ import annotations

import random

import pytest
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height
from profilestack.cutting.cut import cut_stack
from profilestack.geometry.path import Path
from profilestack.planning.relief import relief_passes
from profilestack.stack import FACE, Blank, Pass, Rectangle, Setup, Stack, StraightRun
from tests.random_stacks import random_target
from tests.shop import core_box, straight

WIDTH, THICKNESS = 60.0, 35.0
BITS = [straight(19.05, edge=25.0), straight(6.35, edge=18.0), core_box(25.4, edge=22.0)]
USED = frozenset({straight(19.05).id})


def wood_under(path: Path) -> BaseGeometry:
    face = [tuple(point) for point in path.flatten(0.005)]
    return shapely.Polygon([*face, (WIDTH, 0.0), (0.0, 0.0)])


def planned(
    kept: BaseGeometry,
    unwanted: BaseGeometry,
    bits: list[Bit] = BITS,
    setup: Setup = FACE,
    stock: BaseGeometry | None = None,
) -> list[Pass]:
    blank = Blank(Rectangle(WIDTH, THICKNESS))
    whole = shapely.box(0.0, 0.0, WIDTH, THICKNESS) if stock is None else stock
    return relief_passes(blank, setup, kept, whole, unwanted, bits, USED, 0.01)


def sections(passes: list[Pass], bits: list[Bit] = BITS, setup: Setup = FACE) -> list[BaseGeometry]:
    """The section before each pass, and the last one."""
    setups = () if setup == FACE else (setup,)
    stack = Stack(
        blank=Blank(Rectangle(WIDTH, THICKNESS)),
        run=StraightRun(1000.0),
        setups=setups,
        passes=tuple(passes),
    )
    return list(cut_stack(stack, {bit.id: bit for bit in bits}).sections)


@pytest.mark.parametrize("seed", range(12))
def test_kept_wood_is_never_touched(seed: int) -> None:
    wood = wood_under(random_target(random.Random(seed), WIDTH, THICKNESS))
    unwanted = shapely.box(0.0, 0.0, WIDTH, THICKNESS).difference(wood.buffer(0.5))
    passes = planned(wood, unwanted)
    assert passes
    assert all(single.relief for single in passes)
    last = sections(passes)[-1]
    assert wood.difference(last).area < 1e-6


@pytest.mark.parametrize("seed", range(12))
def test_no_edge_is_buried_and_no_shank_rubs(seed: int) -> None:
    wood = wood_under(random_target(random.Random(50 + seed), WIDTH, THICKNESS))
    unwanted = shapely.box(0.0, 0.0, WIDTH, THICKNESS).difference(wood.buffer(0.5))
    by_id = {bit.id: bit for bit in BITS}
    passes = planned(wood, unwanted)
    for single, before in zip(passes, sections(passes), strict=False):
        bit = by_id[single.bit]
        edge_end = THICKNESS - single.depth + edge_height(bit)
        radius = max(bit.shape.size, bit.shank) / 2.0
        over = shapely.box(single.offset - radius, edge_end, single.offset + radius, 200.0)
        assert before.intersection(over).area < 1e-6


def test_what_stands_above_an_edge_is_cleared() -> None:
    wood = shapely.box(0.0, 0.0, 20.0, THICKNESS)
    unwanted = shapely.box(21.0, 25.0, 50.0, THICKNESS)
    last = sections(planned(wood, unwanted))[-1]
    assert last.intersection(unwanted).area < 0.05


def test_a_bit_that_is_used_anyway_is_taken_where_it_does_as_well() -> None:
    wood = shapely.box(0.0, 0.0, 20.0, THICKNESS)
    passes = planned(wood, shapely.box(25.0, 25.0, 40.0, THICKNESS))
    assert {single.bit for single in passes} == set(USED)


def test_offsets_and_depths_are_whole_resolutions() -> None:
    wood = wood_under(random_target(random.Random(4), WIDTH, THICKNESS))
    unwanted = shapely.box(0.0, 0.0, WIDTH, THICKNESS).difference(wood.buffer(0.5))
    for single in planned(wood, unwanted):
        for value in (single.offset, single.depth):
            assert value == round(value, 2)


def test_nothing_is_planned_where_nothing_has_to_go() -> None:
    wood = shapely.box(0.0, 0.0, WIDTH, 20.0)
    assert planned(wood, shapely.Polygon()) == []


def test_what_no_bit_can_reach_is_left() -> None:
    # a slot narrower than every bit
    wood = shapely.box(0.0, 0.0, WIDTH, THICKNESS).difference(shapely.box(30.0, 10.0, 33.0, 40.0))
    assert planned(wood, shapely.box(30.5, 10.5, 32.5, THICKNESS)) == []


def test_a_turned_blank_is_cleared_from_its_own_top() -> None:
    edge = Setup("edge", 90.0)
    wood = shapely.box(0.0, 0.0, 45.0, THICKNESS)
    unwanted = shapely.box(46.0, 5.0, WIDTH, 20.0)
    passes = planned(wood, unwanted, setup=edge)
    assert {single.setup for single in passes} == {"edge"}
    last = sections(passes, setup=edge)[-1]
    assert last.intersection(unwanted).area < 0.05
    assert wood.difference(last).area < 1e-6

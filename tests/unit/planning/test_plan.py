"""A whole plan: depths, order, rough-out, rests, minutes, words, cautions."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import pytest

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Dovetail
from profilestack.cutting.caution import PLAN_CODES
from profilestack.errors import InputError
from profilestack.jobs.opening import open_stack
from profilestack.planning.drafting import chosen_order, drafts_of, minutes_in
from profilestack.planning.plan import Plan, Step
from profilestack.planning.planner import plan_stack
from profilestack.planning.sequence import is_ready
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS, Shop
from profilestack.planning.species import species_called
from profilestack.stack import Blank, Rectangle, Setup, StraightRun
from tests.shop import bit, core_box, roundover, stack_of, straight, vee

EXAMPLES = Path(__file__).parents[3] / "examples"
STOUT = {"shank": 12.7, "length": 85.0}
"""A bit that hangs out less than five shank diameters."""
POPLAR = Blank(Rectangle(90.0, 40.0), "yellow-poplar")


def plan(*placed: object, **other: object) -> Plan:
    stack, bits = stack_of(*placed, blank=other.pop("blank", POPLAR), **other)  # type: ignore[arg-type]
    return plan_stack(stack, bits)


def depths(steps: Sequence[Step], number: int) -> list[float]:
    return [step.depth for step in steps if step.pass_number == number]


def test_a_rough_out_pass_is_taken_in_even_depths() -> None:
    done = plan((straight(19.05, **STOUT), 45.0, 7.9, {"relief": True}))
    # 19.05 x 7.9 is 150 mm2, more than the 130 of one travel: in two depths, 4.0 and 7.9
    assert depths(done.steps, 1) == [4.0, 7.9]
    assert not any(step.finishing for step in done.steps)


def test_a_finishing_pass_ends_with_a_light_cut() -> None:
    done = plan((core_box(25.4, **STOUT), 45.0, 10.0))
    *rough, last = done.steps
    assert rough
    assert last.finishing
    assert 0.4 <= last.depth - rough[-1].depth <= 0.8
    assert last.feed == USUAL_SHOP.finish_feed
    assert {step.feed for step in rough} == {USUAL_SHOP.rough_feed}
    for before, after in itertools.pairwise([0.0, *(step.depth for step in rough)]):
        assert after - before <= 6.0 + 1e-9  # profile bits of 20 to 35 mm


def test_what_is_light_already_is_taken_at_once() -> None:
    nose = core_box(25.4, **STOUT)
    done = plan((nose, 45.0, 4.0, {"relief": True}), (nose, 45.0, 4.6))
    assert depths(done.steps, 2) == [4.6]
    assert done.steps[-1].finishing


def test_the_section_of_one_travel_bounds_the_depths() -> None:
    wide = straight(40.0, shank=20.0)
    stack, bits = stack_of((wide, 45.0, 9.0), blank=POPLAR)
    for kind, shop in USUAL_SHOPS.items():
        steps = plan_stack(stack, bits, shop).steps
        assert all(step.section <= shop.machine.chip_section * 1.001 for step in steps), kind
        assert all(b.depth - a.depth <= 4.0 + 1e-9 for a, b in itertools.pairwise(steps)), kind


def test_an_undercut_bit_comes_in_at_its_full_depth() -> None:
    tail = bit("tail", Dovetail(12.7, 14.0), 10.0, **STOUT)
    done = plan((straight(9.0, **STOUT), 45.0, 7.0, {"relief": True}), (tail, 45.0, 8.0))
    assert depths(done.steps, 2) == [8.0]
    assert "full depth" in done.steps[-1].why


def test_a_heavy_hollow_is_roughed_out_by_a_straight_bit_of_the_stack() -> None:
    lane, nose = straight(12.7, **STOUT), core_box(50.8, shank=20.0)
    done = plan((lane, 10.0, 2.0), (nose, 50.0, 20.0))
    added = [step for step in done.steps if step.document_pass is None]
    assert added
    assert {step.bit.id for step in added} == {lane.id}
    assert all(step.relief for step in added)
    assert any("added" in sentence.text for sentence in done.sentences)
    # they leave an allowance: nothing of the wanted section's skin is taken by them
    first_hollow = next(step for step in done.steps if step.bit.id == nose.id)
    assert first_hollow.pass_number > max(step.pass_number for step in added)


def test_the_drawer_helps_only_where_a_change_pays() -> None:
    nose, lane = core_box(50.8, shank=20.0), straight(19.05, **STOUT)
    few, bits = stack_of((nose, 50.0, 12.0), blank=POPLAR)
    plain = plan_stack(few, bits, offered=(lane,))
    assert all(step.bit.id == nose.id for step in plain.steps)
    long = replace(few, run=StraightRun(2400.0, pieces=40))
    deep = replace(long, passes=(replace(few.passes[0], depth=24.0),))
    many = plan_stack(deep, bits, offered=(lane,))
    assert any(step.bit.id == lane.id for step in many.steps)


def test_a_tool_waits_until_its_way_is_clear() -> None:
    """The hollow's edge is too short: the lanes above it go first, though written last."""
    nose = core_box(20.0, 12.0, **STOUT)
    lane = straight(30.0, **STOUT)
    stack, bits = stack_of((nose, 45.0, 20.0), (lane, 45.0, 12.0), blank=POPLAR)
    done = plan_stack(stack, bits)
    assert done.steps[0].bit.id == lane.id
    assert "shank or nut would meet" in done.plain_trouble
    assert not any(caution.severity == "stop" for caution in done.cautions)


def test_where_nothing_keeps_clear_nothing_is_claimed() -> None:
    nose = core_box(20.0, 5.0, **STOUT)
    done = plan((nose, 45.0, 20.0), (straight(6.0, shank=6.0), 10.0, 3.0))
    assert not done.proved or any(caution.severity == "stop" for caution in done.cautions)
    assert any(caution.code == "shank-rubs" for caution in done.cautions)


def every_order(draft: object, left: tuple[int, ...], mask: int) -> list[tuple[int, ...]]:
    """All sequences of bits, each taking all that is ready: told anew, without memory."""
    ground = draft.ground  # type: ignore[attr-defined]
    if not left:
        return [()]
    found = []
    for key in {ground.tasks[place].key for place in left}:
        visit: list[int] = []
        now = mask
        while ready := [
            place
            for place in sorted(left, key=lambda k: not ground.tasks[k].single.relief)
            if ground.tasks[place].key == key
            and place not in visit
            and is_ready(ground, place, now)
        ]:
            visit.append(ready[0])
            now |= 1 << ready[0]
        if visit:
            rest = tuple(place for place in left if place not in visit)
            found += [(*visit, *more) for more in every_order(draft, rest, now)]
    return found


def test_no_order_that_was_looked_at_is_quicker() -> None:
    stack, bits = stack_of(
        (core_box(38.1, **STOUT), 30.0, 12.0), (straight(19.05, **STOUT), 35.0, 9.0),
        (roundover(9.525, 3.175, **STOUT), 60.0, 9.525),
        (vee(12.7, 90.0, **STOUT), 75.0, 5.0), (straight(19.05, **STOUT), 15.0, 4.0),
        blank=POPLAR,
    )  # fmt: skip
    _, draft, _ = drafts_of(stack, bits, USUAL_SHOP, species_called("yellow-poplar"), ())
    chosen = chosen_order(draft)
    orders = every_order(draft, tuple(range(len(draft.ground.tasks))), 0)
    assert chosen.proved
    assert chosen.orders == len(orders) > 10
    assert chosen.minutes == pytest.approx(min(minutes_in(draft, order) for order in orders))


def test_setups_with_the_blank_lying_well_come_first() -> None:
    deep = straight(30.0, **STOUT)
    face = [(deep, 15.0 + 30.0 * k, 12.0) for k in range(3)]
    back = (straight(12.0, shank=12.0), 45.0, 5.0, {"setup": "back"})
    stack, bits = stack_of(*face, back, blank=POPLAR, setups=(Setup("back", 180.0),))
    kept = replace(stack, passes=(*stack.passes[:2], stack.passes[3]))
    assert plan_stack(kept, bits).steps[0].setup in ("back", "face")
    assert not any(c.code == "rests-on-points" for c in plan_stack(kept, bits).cautions)


def test_the_wood_rests_when_more_than_a_third_has_left_one_side() -> None:
    wide, small = straight(30.0, **STOUT), vee(12.7, 90.0, **STOUT)
    lanes = [(wide, 15.0 + 25.0 * k, 16.0) for k in range(4)]
    done = plan(*lanes, (small, 45.0, 20.0))
    (rest,) = done.rests
    assert rest.share > 1.0 / 3.0
    assert done.steps[rest.before_step - 1].bit.id == small.id
    shallow = [(wide, 15.0 + 25.0 * k, 8.0) for k in range(4)]
    assert plan(*shallow, (small, 45.0, 12.0)).rests == ()


@pytest.mark.parametrize(("pieces", "through"), [(1, "one piece"), (10, "each bit")])
def test_quantity_decides_how_bits_go_through(pieces: int, through: str) -> None:
    run = StraightRun(1000.0, pieces=pieces)
    done = plan(
        (straight(12.0, shank=12.0), 20.0, 3.0), (vee(12.7, 90.0, **STOUT), 60.0, 4.0), run=run
    )
    assert done.through == through
    # two bits: all on each piece n (2 x 3 + 1.5), one through all 2 (3 + 1.5 n)
    ways = (pieces * (2 * 3.0 + 1.5), 2 * (3.0 + 1.5 * pieces))
    assert done.minutes.changes == pytest.approx(min(ways))
    assert done.other_way - done.minutes.total == pytest.approx(abs(ways[0] - ways[1]))


def test_minutes_are_the_sum_of_their_parts() -> None:
    opened = open_stack(EXAMPLES / "cornice" / "crown.stack.toml")
    done = plan_stack(opened.stack, opened.bits)
    assert sum(step.minutes for step in done.steps) == pytest.approx(done.minutes.cutting)
    step = done.steps[0]
    # 2.4 m at the feed, 0.3 min back, up to speed and down again at 500 mm/s2; four pieces
    once = 2400.0 / step.feed + 0.3 + step.feed / 60.0 / 500.0 / 60.0
    assert step.minutes == pytest.approx(4 * once)


def test_the_edge_meets_the_wood_as_said() -> None:
    """Clockwise from above: wood on the right of the travel is climb."""
    groove = plan((straight(12.0, shank=12.0), 45.0, 5.0)).steps[0]
    assert (groove.way, groove.side) == ("both", "both")
    # only the bit's right side cuts: it lies over the blank's left edge
    rough, last = plan((core_box(25.4, **STOUT), -4.0, 6.0)).steps[-2:]
    assert (rough.side, rough.way, rough.from_left) == ("right", "conventional", False)
    assert (last.side, last.way, last.from_left) == ("right", "climb", True)
    table = USUAL_SHOPS["router-table"]
    stack, bits = stack_of((core_box(25.4, **STOUT), -4.0, 6.0), blank=POPLAR)
    assert {step.way for step in plan_stack(stack, bits, table).steps} == {"conventional"}


def test_a_groove_on_a_table_is_fed_so_that_the_bit_pushes_the_wood_to_the_fence() -> None:
    """Facing the fence the piece goes from right to left: its right end comes first.

    Seen from above a bit below turns counter-clockwise; where it enters the wood, on the side from
    which the wood comes, its edge must move towards the fence: with the fence along x = 0 of the
    piece, whose other end is away from the one who looks from its left end, that is at its right
    end. (Common practice: right to left, against the rotation.)
    """
    table = USUAL_SHOPS["router-table"]
    stack, bits = stack_of((straight(12.0, **STOUT), 45.0, 5.0), blank=POPLAR)
    steps = plan_stack(stack, bits, table).steps
    assert {(step.way, step.from_left) for step in steps} == {("both", False)}
    # wood between fence and bit comes from the other end, and is warned of
    stack, bits = stack_of((straight(20.0, **STOUT), 89.5, 5.0), blank=POPLAR)
    done = plan_stack(stack, bits, table)
    assert {(step.way, step.from_left) for step in done.steps} == {("conventional", True)}
    (trapped,) = [each for each in done.cautions if each.code == "wood-trapped"]
    assert trapped.lengths == (0.5,)  # 90 - 89.5, from the other edge
    over, bits = stack_of((straight(20.0, **STOUT), 0.5, 5.0), blank=POPLAR)
    for quiet in (plan_stack(over, bits, table), plan_stack(over, bits, USUAL_SHOP)):
        assert "wood-trapped" not in {each.code for each in quiet.cautions}


def test_a_little_wood_on_the_other_side_does_not_turn_rough_cuts_to_climb() -> None:
    """An edge cut 0.3 over its line: 0.3 of 10.3 lies right of the axis, 10 left of it."""
    rough, *_, last = plan((straight(20.0, **STOUT), 89.7, 8.0)).steps
    assert (rough.side, rough.way, rough.from_left) == ("left", "conventional", True)
    assert (last.side, last.way, last.from_left) == ("left", "climb", False)


def test_a_weak_spindle_is_told_what_could() -> None:
    weak = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, power=3.0))
    stack, bits = stack_of((core_box(25.4, **STOUT), 45.0, 10.0), blank=POPLAR)
    with pytest.raises(InputError) as caught:
        plan_stack(stack, bits, weak)
    (problem,) = caught.value.problems  # the heaviest step of the bit, not all of them
    needed = float(problem.expected.split(" W")[0].split()[-1])
    assert needed > 3.0
    able = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, power=needed + 1.0))
    assert plan_stack(stack, bits, able).steps


def test_nothing_to_plan_and_unknown_wood_are_refused() -> None:
    stack, bits = stack_of(blank=POPLAR)
    with pytest.raises(InputError, match="nothing to plan"):
        plan_stack(stack, bits)
    stack, bits = stack_of((straight(12.0), 20.0, 3.0), blank=replace(POPLAR, species="popular"))
    with pytest.raises(InputError, match="did you mean 'poplar'"):
        plan_stack(stack, bits)


def codes(done: Plan) -> set[tuple[str, str]]:
    return {(caution.code, caution.severity) for caution in done.cautions}


def test_the_machine_is_minded() -> None:
    stack, bits = stack_of((straight(12.0, shank=6.2), 20.0, 3.0), blank=POPLAR)
    assert ("no-collet", "stop") in codes(plan_stack(stack, bits))
    good, bits = stack_of((straight(12.0, 20.0, shank=12.0), 20.0, 3.0), blank=POPLAR)
    assert codes(plan_stack(good, bits)) == set()
    for figures in ({"clearance": 30.0}, {"width": 80.0}, {"length": 900.0}):
        small = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, **figures))
        assert ("too-large", "stop") in codes(plan_stack(good, bits, small)), figures
    deep, bits = stack_of((straight(12.0, shank=12.0), 20.0, 14.0), blank=POPLAR)
    assert ("hood-rubs", "note") in codes(plan_stack(deep, bits))
    bare = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, hood_diameter=0.0))
    assert ("hood-rubs", "note") not in codes(plan_stack(deep, bits, bare))


def test_the_shops_own_nut_is_minded() -> None:
    short = straight(6.0, 12.0, shank=6.0, length=50.0, grip=25.0)  # 22 from tip to nut
    stack, bits = stack_of(
        (straight(40.0, 30.0, shank=12.0), 45.0, 24.0), (short, 45.0, 30.0), blank=POPLAR
    )
    wide = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, nut_diameter=60.0))
    thin = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, nut_diameter=30.0))
    assert ("nut-rubs", "stop") in codes(plan_stack(stack, bits, wide))
    assert ("nut-rubs", "stop") not in codes(plan_stack(stack, bits, thin))


def shop_with(**figures: float) -> Shop:
    return replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, **figures))  # type: ignore[arg-type]


LONG = straight(12.0, shank=6.0)
"""Hangs out twelve shank diameters."""
STOUT_ONE = straight(12.0, 20.0, shank=12.0, length=60.0)
UNDERCUT = bit("tail", Dovetail(30.0, 14.0), 14.0, shank=12.0, length=60.0)
SLOW = replace(USUAL_SHOP, finish_feed=300.0, rough_feed=300.0)
PROVOKED: dict[str, tuple[tuple[Bit, float], Shop, tuple[Bit, float], Shop]] = {
    # provoked by a bit at a depth in a shop; quiet with the neighbour
    "no-collet": ((straight(12.0, shank=12.4), 3.0), USUAL_SHOP, (STOUT_ONE, 3.0), USUAL_SHOP),
    "too-large": ((STOUT_ONE, 3.0), shop_with(width=89.0), (STOUT_ONE, 3.0), shop_with(width=91.0)),
    "hood-rubs": ((STOUT_ONE, 10.5), USUAL_SHOP, (STOUT_ONE, 9.5), USUAL_SHOP),
    "heavy-cut": ((UNDERCUT, 8.0), USUAL_SHOP, (UNDERCUT, 3.0), USUAL_SHOP),
    "thin-chip": ((STOUT_ONE, 3.0), SLOW, (STOUT_ONE, 3.0), USUAL_SHOP),
    "long-reach": ((LONG, 3.0), USUAL_SHOP, (STOUT_ONE, 3.0), USUAL_SHOP),
}


def test_every_code_of_a_plan_is_provoked() -> None:
    assert {*PROVOKED, "wood-trapped"} == set(PLAN_CODES)


@pytest.mark.parametrize("code", PROVOKED)
def test_every_caution_of_a_plan_has_a_pair(code: str) -> None:
    (loud, deep), shop, (quiet, shallow), other = PROVOKED[code]
    stack, bits = stack_of((loud, 45.0, deep), blank=POPLAR)
    assert code in {each for each, _ in codes(plan_stack(stack, bits, shop))}
    stack, bits = stack_of((quiet, 45.0, shallow), blank=POPLAR)
    assert code not in {each for each, _ in codes(plan_stack(stack, bits, other))}

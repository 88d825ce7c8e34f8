"""Speed, feed, chip and power: ranges, limits, machines that cannot."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from profilestack.errors import InputError
from profilestack.planning.feeds import LONG_SPEED, speed_for, top_speed
from profilestack.planning.figures import figures_of, missing_figures
from profilestack.planning.machine import KINDS, Machine
from profilestack.planning.shop import USUAL_SHOP, USUAL_SHOPS, Shop, step_depth
from profilestack.planning.species import SPECIES, Species, species_called
from profilestack.planning.speeds import ChipRange, cutting_power, rim_speed
from tests.shop import core_box, straight

OAK = species_called("red-oak")


def test_torque_is_constant_below_rated_speed() -> None:
    # 2.2 kW at 24,000 rpm is 1.1 kW at 12,000
    machine = Machine(power=2200.0, rated_speed=24_000.0)
    assert machine.power_at(12_000.0) == 1100.0
    assert machine.power_at(24_000.0) == machine.power_at(30_000.0) == 2200.0


@pytest.mark.parametrize(
    ("figures", "where"),
    [
        ({"slowest": 9000.0, "fastest": 8000.0}, "slowest"),
        ({"largest_feed": 0.0}, "largest_feed"),
        ({"power": -1.0}, "power"),
        ({"power": math.nan}, "power"),
        ({"collets": ()}, "collets"),
        ({"kind": "cnc-with-changr"}, "kind"),
        ({"hood_diameter": -1.0}, "hood_diameter"),
    ],
)
def test_an_impossible_machine_is_refused(figures: dict[str, float], where: str) -> None:
    with pytest.raises(InputError) as caught:
        Machine(**figures)  # type: ignore[arg-type]  # wrong on purpose
    assert [problem.where for problem in caught.value.problems] == [where]


def test_a_shop_without_feed_or_ranges_is_refused() -> None:
    with pytest.raises(InputError) as caught:
        Shop(finish_feed=0.0, load=1.5, chips=(ChipRange(10.0, "hard", 0.1, 0.2),))
    assert [p.where for p in caught.value.problems] == ["finish_feed", "load", "chips"]


def test_more_than_a_light_cut_is_no_allowance() -> None:
    assert replace(USUAL_SHOP, allowance=1.0).allowance == 1.0
    with pytest.raises(InputError, match="no light cut"):
        replace(USUAL_SHOP, allowance=1.01)


def test_every_figure_says_where_it_comes_from() -> None:
    assert missing_figures() == set()
    for kind, shop in USUAL_SHOPS.items():
        assert shop.machine.kind == kind
        assert all(shown.source for shown in figures_of(shop))
    own = replace(USUAL_SHOP, change=9.0)
    told = {shown.figure.key: shown.source for shown in figures_of(own)}
    assert told["change"] == "your shop file"
    assert "memory" in told["refix"]


def test_a_wood_is_found_by_any_of_its_names() -> None:
    for name in ("yellow-poplar", "Yellow Poplar", "yellow_poplar", "poplar"):
        assert species_called(name).gravity == 0.42
    assert species_called("local", (Species("local", 0.5),)).density == 560.0
    with pytest.raises(InputError, match="did you mean 'red-oak'"):
        species_called("red-oka")
    assert species_called(None).group == "hard"


def test_the_force_goes_with_density_unless_the_wood_has_its_own() -> None:
    shop = replace(USUAL_SHOP, force=30.0, force_density=600.0)
    assert shop.force_in(Species("as dense", 600.0 / 1120.0)) == pytest.approx(30.0)
    assert shop.force_in(Species("light", 300.0 / 1120.0)) == pytest.approx(15.0)
    assert shop.force_in(Species("known", 0.5, force=44.0)) == 44.0


def test_chips_grow_with_the_bit_and_from_hard_to_board() -> None:
    for diameter in (3.0, 6.0, 12.0, 30.0):
        low = [USUAL_SHOP.chip_range(diameter, group).low for group in ("hard", "soft", "board")]
        assert low == sorted(low)
    sizes = [USUAL_SHOP.chip_range(diameter, "hard").low for diameter in (3.0, 6.0, 12.0, 30.0)]
    assert sizes == sorted(sizes)


def test_the_mark_the_rule_the_rim_and_the_machine_all_bind() -> None:
    wide = straight(50.8, shank=20.0)
    assert top_speed(wide, USUAL_SHOP)[0] == 18_000.0  # the rule for 2 in
    assert top_speed(replace(wide, max_rpm=11_000.0), USUAL_SHOP) == (
        11_000.0, "the top speed in the bit's entry",
    )  # fmt: skip
    slow_rim = replace(USUAL_SHOP, rim_speed=40.0)
    assert rim_speed(50.8, top_speed(wide, slow_rim)[0]) == pytest.approx(40.0)
    slow = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, fastest=9000.0))
    assert top_speed(wide, slow)[0] == 9000.0
    thin = straight(12.0, shank=6.0)  # hangs out more than five shank diameters
    assert top_speed(thin, USUAL_SHOP)[0] == LONG_SPEED


def test_a_machine_that_cannot_turn_slowly_enough_is_told_the_widest_bit() -> None:
    fast = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, slowest=17_000.0))
    with pytest.raises(InputError, match="a bit up to 50.5 mm across there"):
        top_speed(straight(88.9, shank=20.0), fast)


def test_the_speed_keeps_to_every_limit() -> None:
    for diameter in (4.0, 6.0, 12.0, 20.0, 40.0, 60.0):
        for shop in USUAL_SHOPS.values():
            for finishing in (True, False):
                nose = core_box(diameter, shank=20.0)
                speed = speed_for(nose, shop, OAK, finishing, 40.0, 1.0)
                assert shop.machine.slowest <= speed.rpm <= top_speed(nose, shop)[0]
                assert speed.feed <= shop.machine.largest_feed
                assert speed.tooth == pytest.approx(speed.feed / speed.rpm / nose.flutes)
                assert speed.tooth <= shop.chip_range(diameter, "hard").high + 1e-9
                force = shop.force_in(OAK)
                bears = shop.load * shop.machine.power_at(speed.rpm)
                assert cutting_power(force, 40.0, speed.feed) <= bears + 1e-6


def test_one_speed_serves_rough_and_last_cuts() -> None:
    nose = core_box(25.4, shank=20.0)
    rough, last = (speed_for(nose, USUAL_SHOP, OAK, each, 40.0, 1.0) for each in (False, True))
    assert rough.rpm == last.rpm
    assert rough.feed == USUAL_SHOP.rough_feed
    assert last.feed == USUAL_SHOP.finish_feed


def test_a_weak_spindle_is_fed_slower() -> None:
    weak = replace(USUAL_SHOP, machine=replace(USUAL_SHOP.machine, power=300.0))
    nose = core_box(25.4, shank=20.0)
    assert speed_for(nose, weak, OAK, False, 120.0, 1.0).feed < weak.rough_feed


def test_step_depths_are_those_of_the_trade() -> None:
    # D to 6 mm: D/2 in hardwood, D in poplar and pine; to 20 mm: D/2 up to 8; 20 to 35: 6; over: 4
    assert [step_depth(d) for d in (4.0, 12.0, 19.0, 25.4, 50.8)] == [2.0, 6.0, 8.0, 6.0, 4.0]
    assert step_depth(6.0, "soft") == 6.0
    assert set(KINDS) == set(USUAL_SHOPS)
    assert all(species.mark in ("read", "secondary", "memory") for species in SPECIES)

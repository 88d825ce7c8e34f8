"""How low a tool comes over kept wood, against plain sampling."""

from __future__ import annotations

import random

import numpy as np
import pytest

from profilestack.bits.bit import Bit
from profilestack.finding.ruled import ruled, tips_on_grid
from profilestack.geometry.path import Points
from profilestack.planning.lowering import (
    LOWEST,
    Skyline,
    Underside,
    lowest_allowed,
    lowest_tips,
    skyline_of,
    underside,
    underside_of,
)
from tests.random_stacks import random_bits, random_target
from tests.shop import core_box, straight, vee

FINE = 0.002


def ring(*points: tuple[float, float]) -> Points:
    return np.array([*points, points[0]], dtype=float)


STEP = ring((0, 0), (40, 0), (40, 10), (20, 10), (20, 20), (0, 20))
"""Wood 20 high on the left, 10 on the right."""


def random_wood(seed: int) -> Skyline:
    chance = random.Random(seed)
    face = random_target(chance, 40.0, 25.0).flatten(0.01)
    return skyline_of([np.concatenate((face, [(40.0, 0.0), (0.0, 0.0), face[0]]))])


def sampled_tip(bit: Bit, wood: Skyline, axis: float) -> float:
    """The lowest tip by looking at many columns, which can only miss some of a contact."""
    under = underside(bit)
    off = np.arange(0.0, under.radii[-1] - 1e-6, FINE)
    lift = np.interp(off + 1e-6, under.radii, under.heights)
    return float(max((wood.over(axis + side * off) - lift).max() for side in (-1.0, 1.0)))


def test_the_highest_wood_counts_and_nothing_is_beside_it() -> None:
    wood = skyline_of([STEP, ring((25, 12), (30, 12), (30, 15), (25, 15))])
    heights = wood.over(np.array([-0.1, 0.1, 19.9, 20.1, 24.9, 27.0, 30.1, 40.1]))
    assert heights.tolist() == [LOWEST, 20.0, 20.0, 10.0, 10.0, 15.0, 10.0, LOWEST]


@pytest.mark.parametrize("seed", range(5))
def test_the_highest_between_two_places_is_that_of_all_places_between(seed: int) -> None:
    wood, chance = random_wood(seed), np.random.default_rng(seed)
    begins = chance.uniform(-5.0, 40.0, 60)
    ends = begins + chance.uniform(0.01, 30.0, 60)
    for begin, end, highest in zip(begins, ends, wood.highest_between(begins, ends), strict=True):
        dense = wood.over(np.linspace(begin, end, 20_001)).max()
        assert highest == pytest.approx(dense, abs=0.03)  # flanks of 45 degrees and steeper
        assert highest >= dense - 1e-9


def test_a_flat_bit_stands_on_the_step_until_it_is_past_it() -> None:
    wood = skyline_of([STEP])
    tips = lowest_tips(underside(straight(8.0)), wood, np.array([10.0, 23.99, 24.0, 30.0, 60.0]))
    assert tips == pytest.approx([20.0, 20.0, 10.0, 10.0, LOWEST])


def test_a_round_nose_in_a_square_corner_stands_its_radius_off_the_wall() -> None:
    wood = skyline_of([STEP])
    off = np.array([0.0, 1.0, 2.5, 4.0, 4.9])
    # until the axis is R past the wall the nose rests on the arris: R - sqrt(R^2 - off^2) below it
    tips = lowest_tips(underside(core_box(10.0)), wood, 20.0 + off)
    assert tips == pytest.approx(20.0 - (5.0 - np.sqrt(25.0 - off**2)), abs=0.005)
    assert lowest_tips(underside(core_box(10.0)), wood, np.array([25.0, 27.0])) == pytest.approx(
        [10.0, 10.0]
    )


def test_a_v_bit_fits_a_v_groove_of_its_angle() -> None:
    groove = ring((0, 0), (40, 0), (40, 20), (30, 20), (20, 10), (10, 20), (0, 20))
    tips = lowest_tips(underside(vee(30.0, 90.0)), skyline_of([groove]), np.array([19.0, 20.0]))
    assert tips == pytest.approx([11.0, 10.0], abs=1e-5)


@pytest.mark.parametrize("seed", range(12))
def test_contacts_at_vertices_are_all_contacts(seed: int) -> None:
    wood = random_wood(seed)
    axes = np.linspace(-3.0, 43.0, 47)
    for bit in random_bits(random.Random(seed)):
        tips = lowest_tips(underside(bit), wood, axes)
        plain = np.array([sampled_tip(bit, wood, axis) for axis in axes])
        met = plain > LOWEST / 2.0
        assert (tips[met] >= plain[met] - 1e-6).all(), bit.id
        # all but a hair on steep faces that the sampling misses a tool a column narrower misses too
        narrow = lowest_tips(narrower(underside(bit), 1.01 * FINE), wood, axes)
        assert (narrow[met] <= plain[met] + 0.05).all(), bit.id


def narrower(under: Underside, by: float) -> Underside:
    """The tool narrower by so much on either side."""
    kept = under.radii > by
    first = np.interp(by, under.radii, under.heights)
    return Underside(
        np.concatenate(([0.0], under.radii[kept] - by)),
        np.concatenate(([first], under.heights[kept])),
    )


def wider(under: Underside, by: float) -> Underside:
    """The tool wider by so much on either side."""
    return Underside(
        np.concatenate(([0.0], under.radii + by)),
        np.concatenate((under.heights[:1], under.heights)),
    )


@pytest.mark.parametrize("seed", range(12))
def test_the_grid_is_never_too_low_and_as_high_as_a_hair_wider_a_tool(seed: int) -> None:
    wood = random_wood(seed)
    step, stride = 0.005, 20
    grid = ruled(wood, 40.0, step, stride)
    axes = np.arange(-30, 431) * step * stride
    for bit in random_bits(random.Random(seed)):
        under = underside(bit)
        # places of tool and of wood are each rounded by half a step
        wide = wider(under, 1.01 * step)
        tips, bounds = tips_on_grid(under, grid, -30, len(axes))
        assert (tips >= lowest_tips(under, wood, axes) - 1e-6).all(), bit.id
        assert (tips <= lowest_tips(wide, wood, axes) + 1e-6).all(), bit.id
        for share in (0.0, 0.1, 0.25, 0.5, 0.75, 0.9, 1.0):
            between = lowest_tips(wide, wood, axes[:-1] + share * step * stride)
            assert (bounds <= between + 1e-6).all(), bit.id


@pytest.mark.parametrize("seed", range(6))
def test_a_bound_between_two_axes_shows_a_well_that_neither_sees(seed: int) -> None:
    chance = random.Random(seed)
    middle = 20.0 + chance.uniform(-1.0, 1.0)
    slot = ring((0, 0), (40, 0), (40, 20), (middle + 4.01, 20), (middle + 4.01, 12),
                (middle - 4.01, 12), (middle - 4.01, 20), (0, 20))  # fmt: skip
    wood = skyline_of([slot])
    grid = ruled(wood, 40.0, 0.005, 20)
    tips, bounds = tips_on_grid(underside(straight(8.0)), grid, 0, 400)
    well = int(middle / 0.1)
    assert bounds[well] == pytest.approx(12.0)
    outside = np.abs(np.arange(399) - well) > 1
    assert bounds[outside] == pytest.approx(np.minimum(tips[:-1], tips[1:])[outside])


def test_a_tool_is_seen_from_below_with_its_widest_part() -> None:
    # a disc of radius 5 on a neck of 2, a shank of 4
    under = underside_of(np.array([(0, 0), (5, 0), (5, 3), (2, 3), (2, 8), (6, 8), (6, 20)], float))
    off = np.array([0.0, 4.9, 5.1, 6.0])
    assert np.interp(off, under.radii, under.heights) == pytest.approx([0.0, 0.0, 8.0, 8.0])


def test_pilot_bed_and_nut_hold_a_bit_up() -> None:
    wood = skyline_of([ring((0, 0), (100, 0), (100, 5), (60, 5), (60, 30), (0, 30))])
    plain = straight(10.0, edge=20.0, length=60.0, grip=20.0)  # 37 mm from tip to nut
    bearing = straight(10.0, edge=20.0, pilot_diameter=12.0, pilot_length=8.0)
    assert lowest_allowed(plain, wood, np.array([90.0])) == pytest.approx([0.0])
    assert lowest_allowed(bearing, wood, np.array([90.0])) == pytest.approx([8.0])
    # the nut, 42 across, comes over the wood 30 high 21 from its wall
    short = straight(10.0, edge=20.0, length=40.0, grip=20.0)  # 17 from tip to nut
    assert lowest_allowed(short, wood, np.array([80.9, 81.1])) == pytest.approx([13.0, 0.0])
    # and the pilot stands on the wood beside the edge
    assert lowest_tips(underside(bearing), wood, np.array([65.5, 66.5])) == pytest.approx(
        [38.0, 13.0]
    )

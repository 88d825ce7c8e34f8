"""Ogees, base, rail, half column and casing: main figures against closed forms."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from profilestack.cutting.cut import CHORD
from tests.unit.examples.pieces import Pieces, stops

FLAT_OF_SMALL_V = 0.020 * 25.4
"""Diameter of the flat on the 1/2 in V's tip [mm]."""

# -- ogees -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["ogee/large", "ogee/small"])
def test_a_tangent_ogee_has_no_step(name: str, pieces: Pieces) -> None:
    comparison = pieces.judged(name).comparison
    assert comparison is not None
    assert comparison.unreached_max < 0.02
    assert not comparison.ridges


@pytest.mark.parametrize(
    ("name", "radius", "edge"), [("ogee/large", 25.4, 31.75), ("ogee/small", 12.7, 22.225)]
)
def test_the_core_box_goes_one_radius_deeper(
    name: str, radius: float, edge: float, pieces: Pieces
) -> None:
    stack = pieces.stack(name)
    rounding, hollow = stack.passes[-2:]
    assert hollow.depth - rounding.depth == pytest.approx(radius, abs=1e-9)
    # the round's flat of 1/8 in starts where the core box has its side
    joint = hollow.offset - radius
    assert rounding.offset - 25.4 / 16.0 == pytest.approx(joint, abs=1e-9)
    assert pieces.drawer[hollow.bit].cutting_length == pytest.approx(edge)
    assert edge < hollow.depth  # so the two alone cannot do it
    alone = replace(stack, passes=(rounding, hollow))
    assert not pieces.judge(alone).is_good


def test_a_ground_core_box_puts_a_step_into_the_ogee(pieces: Pieces) -> None:
    ground = replace(pieces.drawer["core-box-1in"], measured=25.4 - 0.2)
    shop = replace(pieces, drawer=pieces.drawer | {ground.id: ground})
    comparison = shop.judged("ogee/small").comparison
    assert comparison is not None
    # the outline moved in by 0.1 square to itself and was zeroed at the tip again
    assert comparison.leftover.max == pytest.approx(0.1, abs=0.005)


# -- base and rail ---------------------------------------------------------------------------------


def test_the_plinth_keeps_half_a_flat_in_its_line(pieces: Pieces) -> None:
    report = pieces.judged("base/plinth")
    assert report.comparison is not None
    assert report.comparison.unreached_max == pytest.approx(FLAT_OF_SMALL_V / 2.0, abs=1e-6)
    # hollow 50 x 2; V line 4 x 2 less the triangle over its bottom
    line = 4.0 * 2.0 / 2.0 - FLAT_OF_SMALL_V**2 / 4.0
    removed = [single.removed_area for single in report.cut.passes]
    assert removed == pytest.approx([100.0, line], abs=1e-6)


def test_the_rail_keeps_enough_wood_over_its_groove(pieces: Pieces) -> None:
    report = pieces.judged("shelf-rail/rail")
    thin = {c.severity: c.lengths[0] for c in report.cautions if c.code == "too-thin"}
    assert thin == {"warn": pytest.approx(22.0 - 11.1125 - 5.0, abs=0.01)}
    groove = report.cut.passes[2]
    # trapezoid: 12.7 at the bottom, 5 tan(14) less on either side at the mouth; the straight bit
    # had opened 9.525 x 4.5 of it
    whole = (12.7 - 5.0 * math.tan(math.radians(14.0))) * 5.0
    assert groove.removed_area == pytest.approx(whole - 9.525 * 4.5, abs=1e-6)


def test_a_deeper_groove_would_break_the_rail(pieces: Pieces) -> None:
    rail = pieces.stack("shelf-rail/rail")
    deeper = tuple(
        replace(single, depth=8.0) if single.bit == "dovetail-1-2in-14" else single
        for single in rail.passes
    )
    report = pieces.judge(replace(rail, passes=deeper, target=None))
    thin = [c for c in report.cautions if c.code == "too-thin" and c.severity == "stop"]
    assert thin
    assert thin[0].lengths[0] == pytest.approx(22.0 - 11.1125 - 8.0, abs=0.01)
    assert not report.is_good


# -- half column -----------------------------------------------------------------------------------


def test_the_flutes_are_sixteen_lenses(pieces: Pieces) -> None:
    report = pieces.judged("half-column/flutes")
    lens = _lens(60.125 / 2.0, 6.35, 60.125 / 2.0 - 2.2 + 6.35)
    (flutes,) = report.cut.passes
    assert flutes.removed_area == pytest.approx(16.0 * lens, rel=3e-3)
    assert flutes.removed_volume == pytest.approx(16.0 * lens * (840.0 - 60.0), rel=3e-3)
    assert flutes.removed_volume == pytest.approx(flutes.removed_area * 780.0, rel=1e-9)


def _lens(one: float, other: float, apart: float) -> float:
    """Area that two circles share [mm2] (two circular segments on one chord)."""
    reach = (apart**2 + one**2 - other**2) / (2.0 * apart)
    rest = apart - reach
    chord = math.sqrt(one**2 - reach**2)
    return one**2 * math.acos(reach / one) + other**2 * math.acos(rest / other) - apart * chord


def test_the_rings_weigh_what_their_solids_say(pieces: Pieces) -> None:
    report = pieces.judged("half-column/rings")
    # cylinders, and by Pappus what stands out from them: quarter and half discs of r, whose
    # centroids lie 4 r / (3 pi) from their diameter; the conge's corner square less a quarter disc
    r, low, shaft, c = 4.7625, 33.2375, 30.0625, 3.175
    outstanding = math.pi * r**2 / 4.0 * 3.0  # ovolo and torus
    rise = low + 4.0 * r / (3.0 * math.pi)
    corner = c**2 * (shaft + c / 2.0)
    disc = math.pi * c**2 / 4.0 * (low - 4.0 * c / (3.0 * math.pi))
    solid = math.pi * low**2 * (r + c + 2.0 * r + 4.0) + math.pi * shaft**2 * (c + 60.0)
    solid += math.tau * (outstanding * rise + corner - disc)
    # chords lose at most 2/3 of the chord error times the arcs' length, turned at most at 38
    slack = math.tau * 38.0 * 2.0 / 3.0 * CHORD * math.pi / 2.0 * (3.0 * r + c)
    assert report.cut.volume == pytest.approx(solid, abs=slack)


# -- casing ----------------------------------------------------------------------------------------


def test_the_casing_as_sampled_keeps_its_quirk(pieces: Pieces) -> None:
    report = pieces.judged("casing/as-sampled")
    assert not report.is_good
    assert not stops(report)
    assert {c.code for c in report.cautions if c.severity == "warn"} == {"leftover"}
    comparison = report.comparison
    assert comparison is not None
    r, width = 4.7625, 1.6
    stands = width * r + (1.0 - math.pi / 4.0) * r**2
    assert stands == pytest.approx(12.5, abs=0.05)
    assert comparison.leftover.area == pytest.approx(stands, abs=0.01)
    assert comparison.unreached_max == pytest.approx(r, abs=CHORD)
    # the place at the field's level that is as far from the quirk's arris as from the bead:
    # (w + r - y)^2 + r^2 = (y + r)^2
    reach = width + r
    farthest = reach**2 / (2.0 * (reach + r))
    assert comparison.leftover.max == pytest.approx(farthest, abs=2.0 * CHORD)


def test_the_adapted_casing_keeps_nothing(pieces: Pieces) -> None:
    comparison = pieces.judged("casing/adapted").comparison
    assert comparison is not None
    assert comparison.leftover.area == pytest.approx(0.0, abs=0.01)
    assert comparison.overcut.area == pytest.approx(0.0, abs=0.01)


def test_the_square_quirk_leaves_facets_on_the_bead(pieces: Pieces) -> None:
    comparison = pieces.judged("casing/adapted-square").comparison
    assert comparison is not None
    r, half = 4.7625, math.radians(15.0)
    proud = r * (1.0 / math.cos(half) - 1.0)
    assert comparison.leftover.max == pytest.approx(proud, abs=2.0 * CHORD)
    assert len(comparison.ridges) == 3
    # three corners between neighbouring tangents: r^2 (tan 15 - 15 degrees as an arc)
    assert comparison.leftover.area == pytest.approx(3.0 * r**2 * (math.tan(half) - half), abs=0.01)

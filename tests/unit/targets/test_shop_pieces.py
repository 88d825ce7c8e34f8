"""The pieces of a reading-room bookcase, as far as members express them (common practice)."""

from __future__ import annotations

import math

import pytest

from profilestack.cutting.wanted import wanted_in
from profilestack.stack import Blank, MemberTarget, Rectangle
from profilestack.targets.members import Member, MemberColumn

CORNICE = (
    Member("fillet", 10.0),
    Member("setback", projection=3.0),
    Member("ovolo", 12.7, 12.7),
    Member("setback", projection=3.0),
    Member("fillet", 6.0),
    Member("cavetto", 25.4, 25.4),
    Member("setback", projection=4.0),
    Member("fillet", 8.0),
)
"""Drop 62.1, projection 55.1 over a bottom of 7."""

RAIL_HALF = (Member("bead", 9.525), Member("fillet", 3.175), Member("cavetto", 6.35, -6.35))


def test_the_cornice_as_installed() -> None:
    assert MemberColumn(CORNICE, back=7.0).box() == pytest.approx((55.1, 62.1))


def test_the_sprung_cornice_fits_a_strip_of_84_by_20() -> None:
    half = math.sqrt(0.5)
    # square to the back: the bottom's arris stands highest, the cavetto is deepest (its centre
    # lies at (36.4, 8) from the wall's foot, its radius is 25.4)
    deep = 7.0 * half - ((36.4 - 8.0) * half - 25.4)
    strip = MemberColumn(CORNICE, lie="sprung", spring=45.0, back=20.0 - deep, bottom=7.0)
    # along the back: from the wall's foot to the top's outer arris
    assert strip.box() == pytest.approx(((55.1 + 62.1) * half, 20.0))
    assert strip.box()[0] < 84.0
    assert wanted_in(Blank(Rectangle(84.0, 20.0)), MemberTarget(strip), 0.001).region.area > 0.0
    # with one number for both thicknesses the strip could be thinner
    assert MemberColumn(CORNICE, lie="sprung", back=7.0).box()[1] == pytest.approx(deep + 7.0)


def test_the_cornice_over_a_bow_stands_on_its_head() -> None:
    column = MemberColumn(CORNICE, lie="head-down", back=9.9)
    assert column.box() == pytest.approx((58.0, 62.1))
    wanted = wanted_in(Blank(Rectangle(58.0, 62.1)), MemberTarget(column), 0.001)
    # its broad top lies on the bed, its bottom is up
    x, z = wanted.points[-1]
    assert (x, z) == pytest.approx((58.0, 0.0))


def test_the_base_is_a_cap_on_a_plinth() -> None:
    cap = MemberColumn(
        (
            Member("fillet", 4.0),
            Member("conge", 6.35, -6.35),
            Member("fillet", 5.0),
            Member("torus", 19.05),
        ),
        lie="flat",
        back=24.0 - 6.35 - 19.05 / 2.0,
    )
    assert cap.box() == pytest.approx((34.4, 24.0))
    plinth = MemberColumn(
        (
            Member("fillet", 66.0),
            Member("quirk", width=4.0, depth=2.0, variant="v"),
            Member("fillet", 10.0),
        ),
        lie="flat",
        back=22.0,
    )
    assert plinth.box() == pytest.approx((80.0, 24.0))


def test_the_shelf_rail_is_symmetric() -> None:
    back = (Member("cavetto", 6.35, 6.35), Member("fillet", 3.175), Member("bead", 9.525))
    rail = MemberColumn((*RAIL_HALF, Member("fillet", 38.1), *back), lie="flat", back=22.0 - 6.35)
    assert rail.box() == pytest.approx((76.2, 22.0))
    mirrored = MemberColumn(rail.members, lie="flat", back=rail.back, mirror=True)
    assert mirrored.path().start == pytest.approx(rail.path().start)
    for one, other in zip(mirrored.path().segments, rail.path().segments, strict=True):
        assert one.end == pytest.approx(other.end, abs=1e-9)


def test_the_half_column_is_turned_from_its_rings_down() -> None:
    rings = (
        Member("ovolo", 4.7625, -4.7625),
        Member("quirk", width=3.175, depth=4.7625, projection=4.7625),
        Member("torus", 9.525),
        Member("fillet", 4.0),
        Member("conge", 3.175, 3.175),
        Member("fillet", 120.0),
    )
    column = MemberColumn(rings, lie="flat", back=60.125 / 2.0)
    # rings of 76 on a shaft of 60.125
    assert column.box()[1] == pytest.approx(38.0)


def test_the_casing_has_a_quirk_beside_its_flush_bead() -> None:
    for width in (1.6, 3.175):
        casing = (
            Member("fillet", 9.0),
            Member("cavetto", 4.7625, 4.7625),
            Member("ovolo", 4.7625, 4.7625),
            Member("fillet", 92.0 - 9.0 - 2 * 4.7625 - width - 9.525),
            Member("quirk", width=width, depth=4.7625, projection=4.7625),
            Member("bead", 9.525),
        )
        column = MemberColumn(casing, lie="flat", back=11.475 - 4.7625)
        assert column.box() == pytest.approx((92.0, 21.0))
        # the bead is as high as the field
        assert column.path().steps[-2].to == pytest.approx((92.0, 11.475 - 4.7625))

"""Members and columns against published constructions and closed forms.

Each case names its source and how far it was followed: "read" in the source, "computed" from the
formula beside it, or from "memory". Areas come from the exact paths: the tolerance is rounding.
"""

from __future__ import annotations

import math

import pytest

from profilestack.geometry.crossing import direction_at
from profilestack.geometry.path import Arc, Path
from profilestack.targets.members import Member, MemberColumn

EXACT = 1e-9


def wood_in_box(one: Member) -> float:
    """Area between the member's face and the wall behind its nearer end [mm2], one that stands
    out above (a crown's way).
    """
    path = one.trace()
    return -path.line((-one.step, 0.0)).line((0.0, 0.0)).signed_area


def area_in_front(column: MemberColumn) -> float:
    """Area in front of the wall of an upright column without a back [mm2]."""
    path = column.path()
    return -path.line((0.0, 0.0)).line(path.start).signed_area


def arcs(one: Member) -> list[Arc]:
    return [piece for piece in one.trace().segments if isinstance(piece, Arc)]


@pytest.mark.parametrize("word", ["cyma-recta", "cyma-reversa"])
@pytest.mark.parametrize("r", [3.0, 9.525])
def test_two_equal_quadrants_fill_half_their_box(word: str, r: float) -> None:
    # two quarter circles of radius r in a 2r x 2r box: area below 2 r^2 (computed)
    assert wood_in_box(Member(word, 2 * r, 2 * r, "quarter")) == pytest.approx(2 * r * r, rel=EXACT)


@pytest.mark.parametrize("word", ["cyma-recta", "cyma-reversa"])
@pytest.mark.parametrize("variant", ["flat", "equal-arc", "grecian"])
def test_any_ogee_symmetric_about_its_middle_halves_its_box(word: str, variant: str) -> None:
    # point symmetry about the middle of the chord (computed)
    assert wood_in_box(Member(word, 20.0, 14.0, variant)) == pytest.approx(140.0, rel=EXACT)


@pytest.mark.parametrize("r", [6.35, 12.7])
def test_what_a_quarter_round_and_a_cove_leave_of_their_square(r: float) -> None:
    # The Building Trades Pocketbook, "Roman Moldings", fig. 5(b) and 5(c), p. 375 (read):
    # quarter circles. Waste of an ovolo (1 - pi/4) r^2, wood left by a cavetto the same (computed)
    corner = (1 - math.pi / 4) * r * r
    assert r * r - wood_in_box(Member("ovolo", r, r)) == pytest.approx(corner, rel=EXACT)
    assert wood_in_box(Member("cavetto", r, r)) == pytest.approx(corner, rel=EXACT)


def test_a_quarter_inch_roundover_and_cove_waste() -> None:
    # r 0.25 in: 0.0134126148 and 0.0490873852 in^2 (computed, to the digits shown)
    r, inch2 = 6.35, 645.16
    round_waste = r * r - wood_in_box(Member("ovolo", r, r))
    hollow_waste = r * r - wood_in_box(Member("cavetto", r, r))
    assert round_waste / inch2 == pytest.approx(0.0134126148, abs=5e-11)
    assert hollow_waste / inch2 == pytest.approx(0.0490873852, abs=5e-11)


@pytest.mark.parametrize("word", ["ovolo", "cavetto"])
def test_unequal_quadrants_are_struck_from_both_ends(word: str) -> None:
    # P. Nicholson, Mechanic's Companion, fig. 7 (read): height above projection; the radius is
    # the height, struck from both ends, meeting at the centre
    one = Member(word, 20.0, 15.0)
    (arc,) = arcs(one)
    assert math.dist(arc.center, (0.0, 0.0)) == pytest.approx(20.0, rel=EXACT)
    assert math.dist(arc.center, (-15.0, -20.0)) == pytest.approx(20.0, rel=EXACT)
    # on the wood's side for the round, on the other for the hollow
    side = 15.0 * arc.center[1] - 20.0 * arc.center[0]
    assert (side > 0.0) == (word == "ovolo")


@pytest.mark.parametrize("word", ["cyma-recta", "cyma-reversa"])
def test_the_flat_cyma_is_two_arcs_of_sixty_degrees(word: str) -> None:
    # P. Nicholson, Mechanic's Companion, fig. 11; R. G. Hatfield, The American House Carpenter,
    # figs 220-221 (read): equilateral triangles on the chord's halves
    one = Member(word, 20.0, 15.0, "flat")
    for arc in arcs(one):
        assert arc.radius == pytest.approx(math.hypot(20.0, 15.0) / 2.0, rel=EXACT)
        assert abs(math.degrees(arc.sweep)) == pytest.approx(60.0, rel=EXACT)


@pytest.mark.parametrize(
    ("word", "height", "projection"), [("cyma-recta", 1.0, 1.5), ("cyma-reversa", 1.5, 1.0)]
)
def test_the_equal_arc_ogee(word: str, height: float, projection: float) -> None:
    # a 1.5 along the end tangents, b 1: R = (a^2 + b^2)/(4b) = 0.8125, each arc
    # asin(a/2R) = 67.3801351 degrees (reverse curve; derived, computed to the digits shown)
    for arc in arcs(Member(word, height, projection, "equal-arc")):
        assert arc.radius == pytest.approx(0.8125, rel=EXACT)
        assert abs(math.degrees(arc.sweep)) == pytest.approx(67.3801351, abs=5e-8)


@pytest.mark.parametrize(
    ("word", "heading"), [("cyma-recta", (-1.0, 0.0)), ("cyma-reversa", (0.0, -1.0))]
)
@pytest.mark.parametrize("variant", ["quarter", "equal-arc", "grecian"])
def test_recta_ends_level_and_reversa_upright(
    word: str, heading: tuple[float, float], variant: str
) -> None:
    # The Building Trades Pocketbook, fig. 5(d) and 5(e), p. 375 (read): recta concave above,
    # ends level; reversa convex above, ends upright
    pieces = Member(word, 16.0, 16.0, variant).trace().segments
    assert direction_at(pieces[0], 0.0) == pytest.approx(heading, abs=EXACT)
    assert direction_at(pieces[-1], 1.0) == pytest.approx(heading, abs=EXACT)
    upper, lower = pieces[0], pieces[-1]
    assert isinstance(upper, Arc)
    assert isinstance(lower, Arc)
    hollow_first = word == "cyma-recta"
    assert (upper.turn == "ccw", lower.turn == "ccw") == (hollow_first, not hollow_first)


@pytest.mark.parametrize("word", ["torus", "astragal", "bead"])
def test_a_bead_is_half_a_circle_on_an_upright_diameter(word: str) -> None:
    # The Building Trades Pocketbook, fig. 5(a), p. 375 (read): projection = height / 2
    (arc,) = arcs(Member(word, 12.0))
    assert arc.center == pytest.approx((0.0, -6.0), abs=EXACT)
    assert arc.radius == pytest.approx(6.0, rel=EXACT)
    assert arc.turn == "cw"
    assert abs(math.degrees(arc.sweep)) == pytest.approx(180.0, rel=EXACT)


def test_the_scotia_divides_its_height_in_three() -> None:
    # P. Nicholson, Mechanic's Companion, fig. 9 (read): upper quadrant h/3, lower 2h/3, tangent
    one = Member("scotia", 18.0)
    upper, lower = arcs(one)
    assert (upper.radius, lower.radius) == pytest.approx((6.0, 12.0), rel=EXACT)
    assert [math.degrees(arc.sweep) for arc in (upper, lower)] == pytest.approx([90.0, 90.0])
    # tangent where the hollow is deepest: both centres on one level line
    assert upper.center[1] == pytest.approx(lower.center[1], abs=EXACT)
    assert one.step == pytest.approx(-6.0, rel=EXACT)


def test_the_conge_is_straight_then_a_quarter_circle_at_most() -> None:
    # Edinburgh Encyclopaedia, "Mouldings" (read)
    for variant in ("quarter", "flat"):
        (arc,) = arcs(Member("conge", 9.0, -6.0, variant))
        assert abs(math.degrees(arc.sweep)) <= 90.0 + EXACT
        assert arc.turn == "ccw"


def test_a_grecian_quadrant_is_two_thirds_of_the_way_to_its_corner() -> None:
    # Archimedes, Quadrature of the Parabola, prop. 24 (memory): a segment of a parabola is two
    # thirds of the triangle of its chord and end tangents. Wood of the ovolo: half the box, and
    # two thirds of the other half. The arcs stay within their stated deviation of the curve.
    one = Member("ovolo", 18.0, 14.0, "grecian")
    off = one.deviation * one.trace().length
    assert wood_in_box(one) == pytest.approx(5.0 / 6.0 * 18.0 * 14.0, abs=off)


# The Cyclopedia of Architecture, Carpentry and Building, vol. 7, 1907, secs 40-41 (read), in
# parts of the order: x from the face of the shaft, top 32 above the bottom
TUSCAN = (
    Member("conge", 3.0, -3.0),
    Member("fillet", 3.0),
    Member("torus", 12.0, 6.0),
    Member("setback", projection=-6.0),
    Member("fillet", 14.0),
)
TUSCAN_TYPED = (
    Path((0.0, 32.0))
    .arc((3.0, 29.0), center=(3.0, 32.0), turn="ccw")
    .line((3.0, 26.0))
    .arc((3.0, 14.0), center=(3.0, 20.0), turn="cw")
    .line((9.0, 14.0))
    .line((9.0, 0.0))
)

# the same, sec. 54 (read; fillet and conge by analogy with the Tuscan base)
DORIC = (
    Member("conge", 2.0, -2.0),
    Member("fillet", 2.0),
    Member("bead", 3.0, 1.5),
    Member("setback", projection=-1.5),
    Member("torus", 9.0, 4.5),
    Member("setback", projection=-4.5),
    Member("fillet", 12.0),
)
DORIC_TYPED = (
    Path((0.0, 28.0))
    .arc((2.0, 26.0), center=(2.0, 28.0), turn="ccw")
    .line((2.0, 24.0))
    .arc((2.0, 21.0), center=(2.0, 22.5), turn="cw")
    .line((3.5, 21.0))
    .arc((3.5, 12.0), center=(3.5, 16.5), turn="cw")
    .line((8.0, 12.0))
    .line((8.0, 0.0))
)


@pytest.mark.parametrize(
    ("members", "typed", "area", "tall", "wide"),
    [
        pytest.param(TUSCAN, TUSCAN_TYPED, 229.480084, 32.0, 9.0, id="tuscan"),
        pytest.param(DORIC, DORIC_TYPED, 173.701325, 28.0, 8.0, id="doric"),
    ],
)
def test_the_bases_of_two_orders(
    members: tuple[Member, ...], typed: Path, area: float, tall: float, wide: float
) -> None:
    column = MemberColumn(members)
    assert column.box() == pytest.approx((wide, tall), abs=EXACT)
    # from members, and from the typed path; areas computed, to the digits shown
    assert area_in_front(column) == pytest.approx(area, abs=5e-7)
    assert -typed.line((0.0, 0.0)).line(typed.start).signed_area == pytest.approx(area, abs=5e-7)
    # and they are the same path
    made = column.path()
    assert len(made.segments) == len(typed.segments)
    for one, other in zip(made.segments, typed.segments, strict=True):
        assert type(one) is type(other)
        assert one.end == pytest.approx(other.end, abs=EXACT)
        if isinstance(one, Arc) and isinstance(other, Arc):
            assert one.center == pytest.approx(other.center, abs=EXACT)
            assert one.turn == other.turn


def test_the_areas_of_the_two_bases_in_closed_form() -> None:
    # rectangles, half circles and conges added up (computed)
    tuscan = 14 * 9 + 12 * 3 + math.pi * 36 / 2 + 3 * 3 + (1 - math.pi / 4) * 9
    doric = (
        12 * 8 + 9 * 3.5 + math.pi * 4.5**2 / 2 + 3 * 2 + math.pi * 1.5**2 / 2
        + 2 * 2 + (1 - math.pi / 4) * 4
    )  # fmt: skip
    assert area_in_front(MemberColumn(TUSCAN)) == pytest.approx(tuscan, rel=EXACT)
    assert area_in_front(MemberColumn(DORIC)) == pytest.approx(doric, rel=EXACT)


def test_the_doric_crowning_pair() -> None:
    # the same work (read): a cyma recta 6 x 6 of two quadrants r 3 under a listel 3
    column = MemberColumn((Member("fillet", 3.0), Member("cyma-recta", 6.0, 6.0)))
    assert column.box() == pytest.approx((6.0, 9.0), abs=EXACT)
    # the listel 3 x 6, and two equal quadrants: 2 r^2 (computed)
    assert area_in_front(column) == pytest.approx(18.0 + 2 * 9.0, rel=EXACT)


@pytest.mark.parametrize("spring", [38.0, 45.0])
def test_drop_and_projection_of_a_sprung_strip(spring: float) -> None:
    # projection = W sin S, drop = W cos S: W along the back, S from the wall (computed)
    wide, angle = 84.0, math.radians(spring)
    face = (Member("bevel", wide * math.cos(angle), wide * math.sin(angle)),)
    strip = MemberColumn(face, lie="sprung", spring=spring, back=18.0, bottom=0.0)
    assert strip.box() == pytest.approx((wide, 18.0), rel=EXACT)

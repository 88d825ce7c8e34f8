from __future__ import annotations

import itertools
import math

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.geometry.crossing import direction_at
from profilestack.geometry.extent import box_of
from profilestack.geometry.path import Arc
from profilestack.targets.member import Member
from profilestack.targets.member_shapes import MEMBERS, Measures

SAMPLES = [
    pytest.param(word, given, id=f"{word}-{given.variant or ''}-{number}")
    for word, shape in MEMBERS.items()
    for number, given in enumerate(shape.samples)
]

TWO_WAYS = [
    sample
    for sample in SAMPLES
    if sample.values[0] not in ("fillet", "scotia", "quirk", "torus", "astragal", "bead", "reed")
]
"""The members that may be turned upside down by the sign of their projection."""

LEVEL_LEFT, LEVEL_RIGHT, DOWN = (-1.0, 0.0), (1.0, 0.0), (0.0, -1.0)


def member(word: str, given: Measures) -> Member:
    return Member(word, given.height, given.projection, given.variant, given.width, given.depth)


def problems_of(**keys: object) -> dict[str, str]:
    with pytest.raises(InputError) as caught:
        Member(**keys)  # type: ignore[arg-type]
    return {problem.where: str(problem) for problem in caught.value.problems}


def headings(one: Member) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Direction at the start and at the end of each piece."""
    return [(direction_at(piece, 0.0), direction_at(piece, 1.0)) for piece in one.trace().segments]


@pytest.mark.parametrize(("word", "given"), SAMPLES)
def test_every_sample_ends_where_its_height_and_projection_say(word: str, given: Measures) -> None:
    one = member(word, given)
    path = one.trace()
    assert path.start == (0.0, 0.0)
    assert path.end == pytest.approx((-one.step, -one.fall), abs=1e-12)


def test_every_variant_has_a_sample() -> None:
    for shape in MEMBERS.values():
        assert {given.variant for given in shape.samples} - {None} == set(shape.variants)
        assert shape.samples


@pytest.mark.parametrize(("word", "given"), TWO_WAYS)
def test_the_other_sign_turns_the_member_upside_down(word: str, given: Measures) -> None:
    one = member(word, given)
    over = Member(word, given.height, -given.projection, given.variant, given.width, given.depth)
    assert over.trace().length == pytest.approx(one.trace().length)
    # the same box, and the same wood in it, seen from its lower end
    flipped = one.trace().flatten(0.01)[::-1] * (1.0, -1.0) + (one.step, -one.fall)
    np.testing.assert_allclose(over.trace().flatten(0.01), flipped, atol=1e-9)


@pytest.mark.parametrize(
    ("given", "pieces"),
    [
        (Member("cavetto", 9.0, 9.0), [(LEVEL_LEFT, DOWN)]),
        (Member("ovolo", 9.0, 9.0), [(DOWN, LEVEL_LEFT)]),
        (Member("cavetto", 9.0, -9.0), [(DOWN, LEVEL_RIGHT)]),
        (Member("ovolo", 9.0, -9.0), [(LEVEL_RIGHT, DOWN)]),
        (Member("cyma-recta", 9.0, 9.0), [(LEVEL_LEFT, DOWN), (DOWN, LEVEL_LEFT)]),
        (Member("cyma-reversa", 9.0, 9.0), [(DOWN, LEVEL_LEFT), (LEVEL_LEFT, DOWN)]),
        (Member("cyma-recta", 9.0, -9.0), [(LEVEL_RIGHT, DOWN), (DOWN, LEVEL_RIGHT)]),
        (Member("cyma-reversa", 9.0, -9.0), [(DOWN, LEVEL_RIGHT), (LEVEL_RIGHT, DOWN)]),
        (Member("torus", 9.0), [(LEVEL_RIGHT, LEVEL_LEFT)]),
        (Member("scotia", 9.0), [(LEVEL_LEFT, DOWN), (DOWN, LEVEL_RIGHT)]),
        (Member("conge", 9.0, -4.0), [(DOWN, DOWN), (DOWN, LEVEL_RIGHT)]),
        (Member("conge", 9.0, 4.0), [(LEVEL_LEFT, DOWN), (DOWN, DOWN)]),
    ],
)
def test_where_a_member_is_level_and_where_upright(
    given: Member, pieces: list[tuple[tuple[float, float], tuple[float, float]]]
) -> None:
    for got, expected in zip(headings(given), pieces, strict=True):
        for one, other in zip(got, expected, strict=True):
            assert one == pytest.approx(other, abs=1e-9)


@pytest.mark.parametrize("word", ["cyma-recta", "cyma-reversa", "scotia", "ovolo", "cavetto"])
@pytest.mark.parametrize("sizes", [(18.0, 18.0), (20.0, 13.0), (13.0, 20.0), (7.0, -16.0)])
def test_curves_of_several_arcs_are_smooth(word: str, sizes: tuple[float, float]) -> None:
    for variant in MEMBERS[word].variants or (None,):
        if variant == "quarter" and sizes[0] != sizes[1]:
            continue
        if word == "scotia" and abs(sizes[1]) >= sizes[0]:
            continue
        pieces = headings(Member(word, *sizes, variant))
        for before, after in itertools.pairwise(pieces):
            assert before[1] == pytest.approx(after[0], abs=1e-9)


def test_a_cyma_without_a_variant_is_two_quarters_where_they_fit_else_flat() -> None:
    for word in ("cyma-recta", "cyma-reversa"):
        assert Member(word, 9.0, 9.0).trace() == Member(word, 9.0, 9.0, "quarter").trace()
        assert Member(word, 9.0, -7.0).trace() == Member(word, 9.0, -7.0, "flat").trace()


def test_a_torus_with_a_smaller_bulge_is_one_flatter_arc() -> None:
    one = Member("torus", 12.0, 4.0)
    box = box_of(one.trace())
    assert (box.left, box.right) == pytest.approx((0.0, 4.0))
    (arc,) = one.trace().segments
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx((36.0 + 16.0) / 8.0)


def test_reeds_fill_the_height() -> None:
    assert len(Member("reed", 18.0).trace().steps) == 3
    assert len(Member("reed", 18.0, 1.5).trace().steps) == 6
    flatter = Member("reed", 18.0, 2.0)
    assert len(flatter.trace().steps) == 4
    assert box_of(flatter.trace()).right == pytest.approx(2.0)


def test_quirks() -> None:
    square = Member("quirk", width=3.0, depth=5.0)
    assert [step.to for step in square.trace().steps] == [(-5.0, 0.0), (-5.0, -3.0), (0.0, -3.0)]
    vee = Member("quirk", width=4.0, depth=2.0, variant="v")
    assert [step.to for step in vee.trace().steps] == [(-2.0, -2.0), (0.0, -4.0)]
    hollow = Member("quirk", width=4.0, depth=6.0, variant="round")
    assert box_of(hollow.trace()).left == pytest.approx(-6.0)
    flush = Member("quirk", width=3.0, depth=5.0, projection=5.0)
    assert [step.to for step in flush.trace().steps] == [(-5.0, 0.0), (-5.0, -3.0)]


def test_a_conge_is_straight_above_its_quarter() -> None:
    straight, arc = Member("conge", 10.0, -4.0).trace().segments
    assert straight.end == pytest.approx((0.0, -6.0))
    assert isinstance(arc, Arc)
    assert arc.radius == pytest.approx(4.0)
    assert abs(math.degrees(arc.sweep)) == pytest.approx(90.0)
    (flatter,) = Member("conge", 10.0, -4.0, "flat").trace().segments
    assert abs(math.degrees(flatter.sweep)) < 90.0  # type: ignore[union-attr]
    assert direction_at(flatter, 0.0) == pytest.approx(DOWN)


@pytest.mark.parametrize(
    ("keys", "where", "words"),
    [
        ({"member": "cymarecta", "height": 3.0}, "member", "did you mean 'cyma-recta'?"),
        ({"member": "ovolo", "height": 3.0, "projection": 3.0, "variant": "quater"}, "variant",
         "did you mean 'quarter'?"),
        ({"member": "fillet", "height": 3.0, "variant": "flat"}, "variant", "expected no variant"),
        ({"member": "fillet"}, "height", "is missing"),
        ({"member": "fillet", "height": -3.0}, "height", "above 0"),
        ({"member": "fillet", "height": math.nan}, "height", "impossible"),
        ({"member": "fillet", "height": 3.0, "projection": 2.0}, "projection", "bevel"),
        ({"member": "fillet", "height": 3.0, "depth": 2.0}, "depth", "no key of a fillet"),
        ({"member": "setback", "projection": 0.0}, "projection", "no step"),
        ({"member": "setback", "projection": 2.0, "height": 2.0}, "height", "no key of a setback"),
        ({"member": "bevel", "height": 2.0, "projection": 0.0}, "projection", "fillet"),
        ({"member": "ovolo", "height": 2.0}, "projection", "is missing"),
        ({"member": "ovolo", "height": 2.0, "projection": 0.0}, "projection", "no curve"),
        ({"member": "ovolo", "height": 2.0, "projection": 9000.0}, "height", "thousandth"),
        ({"member": "ovolo", "height": 2.0, "projection": math.inf}, "projection", "at most"),
        ({"member": "cyma-recta", "height": 20.0, "projection": 15.0, "variant": "quarter"},
         "variant", "flat, equal-arc or grecian"),
        ({"member": "torus", "height": 10.0, "projection": 6.0}, "projection", "at most 5"),
        ({"member": "torus", "height": 10.0, "projection": -2.0}, "projection", "above 0"),
        ({"member": "reed", "height": 10.0, "projection": 0.01}, "projection", "0.05 at least"),
        ({"member": "scotia", "height": 10.0, "projection": 10.0}, "projection", "between"),
        ({"member": "conge", "height": 3.0, "projection": -4.0}, "height", "4 at least"),
        ({"member": "quirk", "height": 3.0, "depth": 4.0, "width": 3.0}, "height", "no key"),
        ({"member": "quirk", "width": 3.0}, "depth", "is missing"),
        ({"member": "quirk", "width": 3.0, "depth": 4.0, "projection": 5.0}, "projection", "4"),
        ({"member": "quirk", "width": 9.0, "depth": 4.0, "variant": "round"}, "depth", "4.5"),
    ],
)  # fmt: skip
def test_an_impossible_member_is_refused_by_its_key(
    keys: dict[str, object], where: str, words: str
) -> None:
    found = problems_of(**keys)
    assert list(found) == [where]
    assert words in found[where]


def test_all_problems_of_a_member_come_at_once() -> None:
    found = problems_of(
        member="ovolo", height=-12.0, projection=math.inf, variant="flatt", depth=2.0
    )
    assert list(found) == ["variant", "height", "projection", "depth"]
    assert "did you mean 'flat'?" in found["variant"]

from __future__ import annotations

import math

import numpy as np
import pytest

from profilestack.cutting.wanted import wanted_in
from profilestack.errors import InputError
from profilestack.geometry.path import Path
from profilestack.stack import Blank, MemberTarget, Rectangle
from profilestack.targets.members import LIES, Member, MemberColumn

CROWN = (
    Member("fillet", 4.0),
    Member("cavetto", 10.0, 10.0),
    Member("setback", projection=2.0),
    Member("fillet", 6.0),
)
"""Falls 20 and comes back 12."""

CROWN_WOOD = 4.0 * 12.0 + (12.0 * 10.0 - math.pi * 100.0 / 4.0)
"""Area in front of the lower fillet [mm2]: the upper fillet, and what the cavetto leaves."""

BASE = (Member("conge", 3.0, -3.0), Member("fillet", 5.0))


def column(members: tuple[Member, ...] = CROWN, **keys: object) -> MemberColumn:
    return MemberColumn(members, **keys)  # type: ignore[arg-type]


def vertices(path: Path) -> list[tuple[float, float]]:
    return [path.start, *(step.to for step in path.steps)]


def wood(given: MemberColumn, width: float, thickness: float) -> float:
    """Area wanted of a blank of that size [mm2]."""
    blank = Blank(Rectangle(width, thickness))
    return wanted_in(blank, MemberTarget(given), 1e-5).region.area


def test_upright_runs_from_the_wall_over_the_top_down_to_the_bed() -> None:
    path = column(back=5.0).path()
    np.testing.assert_allclose(
        vertices(path),
        [(0, 20), (17, 20), (17, 16), (7, 6), (5, 6), (5, 0)],
        atol=1e-12,
    )


def test_head_down_is_the_same_with_its_top_on_the_bed() -> None:
    path = column(back=5.0, lie="head-down").path()
    np.testing.assert_allclose(
        vertices(path),
        [(0, 20), (5, 20), (5, 14), (7, 14), (17, 4), (17, 0)],
        atol=1e-12,
    )


def test_flat_has_its_top_at_the_left_and_its_projection_up() -> None:
    path = column(back=5.0, lie="flat").path()
    np.testing.assert_allclose(
        vertices(path),
        [(0, 0), (0, 17), (4, 17), (14, 7), (14, 5), (20, 5), (20, 0)],
        atol=1e-12,
    )


def test_sprung_lies_on_its_sloping_back() -> None:
    path = column(back=5.0, lie="sprung", spring=45.0).path()
    half = math.sqrt(0.5)
    # square to the slope the cavetto is deepest: its centre lies at (17, 6) from the wall's foot
    deepest = (17.0 - 6.0) * half - 10.0
    assert deepest < min(0.0, (17.0 - 20.0) * half)
    bed = deepest - 5.0
    high = (20.0 + 17.0) * half
    top_back = 20.0 + bed / half
    installed = [
        (top_back, 20.0),
        (17.0, 20.0),
        (17.0, 16.0),
        (7.0, 6.0),
        (5.0, 6.0),
        (5.0, 0.0),
        (0.0, 0.0),
        (0.0, -bed / half),
    ]
    turned = [(high - (x + z) * half, (x - z) * half - bed) for x, z in installed]
    np.testing.assert_allclose(vertices(path), turned, atol=1e-9)
    assert (path.start[1], path.end[1]) == (0.0, 0.0)


@pytest.mark.parametrize("spring", [30.0, 38.0, 45.0, 52.0])
def test_a_sprung_bevel_parallel_to_its_back_is_a_strip(spring: float) -> None:
    # projection = W sin S, drop = W cos S (plane geometry, computed)
    width = 84.0
    drop = width * math.cos(math.radians(spring))
    out = width * math.sin(math.radians(spring))
    face = (Member("bevel", drop, out),)
    strip = column(face, lie="sprung", spring=spring, back=20.0, bottom=0.0)
    assert strip.box() == pytest.approx((width, 20.0))
    # between the plumb cut at the wall and the level cut at the top
    angle = math.radians(spring)
    cuts = (20.0**2 / math.tan(angle) + 20.0**2 * math.tan(angle)) / 2.0
    assert -strip.path().line(strip.path().start).signed_area == pytest.approx(width * 20.0 - cuts)


@pytest.mark.parametrize("lie", LIES)
@pytest.mark.parametrize("members", [CROWN, BASE])
def test_the_path_fits_the_blank_that_just_holds_it(lie: str, members: tuple[Member, ...]) -> None:
    bottom = 20.0 if lie == "sprung" else None
    given = column(members, lie=lie, back=8.0, bottom=bottom)
    width, height = given.box()
    assert wood(given, width, height) > 0.0
    low = given.path().flatten(1e-4).min(axis=0)
    np.testing.assert_allclose(low, (0.0, 0.0), atol=1e-9)


@pytest.mark.parametrize("lie", ["upright", "head-down", "flat"])
def test_the_wood_is_on_the_right_hand(lie: str) -> None:
    given = column(lie=lie, back=5.0)
    width, height = given.box()
    expected = CROWN_WOOD + 5.0 * 20.0
    assert wood(given, width, height) == pytest.approx(expected, abs=1e-3)
    # on a larger blank too: what is beyond the box is waste
    assert wood(given, width + 9.0, height + 7.0) == pytest.approx(expected, abs=1e-3)


def test_the_wood_of_a_sprung_crown_is_the_installed_crown_without_its_back() -> None:
    given = column(lie="sprung", spring=45.0, back=5.0, bottom=5.0)
    width, height = given.box()
    bed = (17.0 - 6.0) * math.sqrt(0.5) - 10.0 - 5.0
    behind = (20.0 + bed / math.sqrt(0.5)) ** 2 / 2.0
    expected = CROWN_WOOD + 5.0 * 20.0 - behind
    assert wood(given, width, height) == pytest.approx(expected, abs=1e-3)


def test_head_down_keeps_the_area_and_the_wall_at_the_left() -> None:
    over = column(lie="head-down", back=5.0).path()
    assert over.start[0] == 0.0
    assert over.end == pytest.approx((17.0, 0.0))


def test_without_a_back_the_least_projection_is_the_wall() -> None:
    given = column(BASE)
    np.testing.assert_allclose(vertices(given.path()), [(0, 8), (3, 5), (3, 0)], atol=1e-12)
    assert given.box() == pytest.approx((3.0, 8.0))


def test_back_is_behind_the_deepest_place_of_a_hollow() -> None:
    # the scotia's deepest place is h/3 behind its upper end
    given = column((Member("fillet", 2.0), Member("scotia", 9.0)), back=4.0)
    assert given.path().steps[0].to == pytest.approx((7.0, 11.0))


def test_a_mirrored_column_stays_in_its_box_with_its_wood_on_the_right() -> None:
    given = column(lie="flat", back=5.0, mirror=True)
    assert given.box() == pytest.approx((20.0, 17.0))
    np.testing.assert_allclose(
        vertices(given.path()),
        [(0, 0), (0, 5), (6, 5), (6, 7), (16, 17), (20, 17), (20, 0)],
        atol=1e-12,
    )
    assert wood(given, 20.0, 17.0) == pytest.approx(CROWN_WOOD + 100.0, abs=1e-3)


def test_a_column_is_scaled_turned_and_moved() -> None:
    given = column(BASE, back=1.0, scale=2.0, rotation=90.0, at=(30.0, 4.0))
    # (0, 8) (1, 8) (4, 5) (4, 0) twice as large, a quarter turn, moved
    np.testing.assert_allclose(
        vertices(given.path()), [(14, 4), (14, 6), (20, 12), (30, 12)], atol=1e-12
    )
    assert given.box() == pytest.approx((16.0, 8.0))


@pytest.mark.parametrize(
    ("keys", "where", "words"),
    [
        ({"members": ()}, "members", "is empty"),
        ({"members": (Member("setback", projection=2.0),)}, "members", "no height"),
        ({"lie": "flatt"}, "lie", "did you mean 'flat'?"),
        ({"spring": 45.0}, "spring", "sprung column alone"),
        ({"bottom": 4.0, "lie": "flat"}, "bottom", "sprung column alone"),
        ({"spring": 90.0, "lie": "sprung"}, "spring", "1 to 89"),
        ({"spring": math.nan, "lie": "sprung"}, "spring", "1 to 89"),
        ({"back": -1.0}, "back", "0 or more"),
        ({"back": math.inf}, "back", "0 or more"),
        ({"back": 40.0, "lie": "sprung"}, "back", "no sloping back"),
        ({"back": 0.0, "lie": "sprung"}, "back", "no wood"),
        ({"back": 5.0, "bottom": 0.0, "lie": "sprung"}, "bottom", "no wood"),
        ({"scale": 0.0}, "scale", "impossible"),
        ({"rotation": 1000.0}, "rotation", "-360 to 360"),
        ({"at": (math.nan, 0.0)}, "at", "no place"),
    ],
)
def test_an_impossible_column_is_refused_by_its_key(
    keys: dict[str, object], where: str, words: str
) -> None:
    with pytest.raises(InputError) as caught:
        MemberColumn(**({"members": CROWN} | keys))  # type: ignore[arg-type]
    (problem,) = caught.value.problems
    assert problem.where == where
    assert words in str(problem)


def test_the_thickest_back_that_is_named_is_taken() -> None:
    with pytest.raises(InputError) as caught:
        column(lie="sprung", back=40.0, bottom=5.0)
    most = float(caught.value.problems[0].expected.split()[2])
    assert column(lie="sprung", back=most - 0.001, bottom=5.0).path().steps
    with pytest.raises(InputError):
        column(lie="sprung", back=most + 0.001, bottom=5.0)


def test_members_that_run_into_each_other_are_named() -> None:
    deep = Member("quirk", width=3.0, depth=8.0, projection=-1.0)
    hook = (Member("fillet", 4.0), deep, Member("fillet", 2.0), Member("bevel", 6.0, 4.0))
    assert column(hook).path().steps  # the groove is clear of the bevel
    # an ovolo much wider than high dips below its lower end, where a level step meets it
    clash = (
        Member("fillet", 5.0),
        Member("ovolo", 5.0, 20.0),
        Member("setback", projection=-15.0),
        Member("fillet", 5.0),
    )
    with pytest.raises(InputError) as caught:
        column(clash)
    (problem,) = caught.value.problems
    assert problem.where == "members[2] and members[3]"
    assert "run into each other 10.000 mm below the top" in problem.text


def test_level_steps_one_after_the_other_add_up() -> None:
    def steps(*projections: float) -> Path:
        moves = [Member("setback", projection=value) for value in projections]
        return column((Member("fillet", 5.0), *moves, Member("fillet", 5.0)), back=9.0).path()

    assert steps(2.0, 3.0, -4.0) == steps(1.0)
    assert (
        steps(2.0, -2.0) == column((Member("fillet", 5.0), Member("fillet", 5.0)), back=9.0).path()
    )
    assert steps(-2.0, 3.0) == steps(1.0)
    # a groove and a step over its lower side: the flush quirk
    groove = (Member("quirk", width=3.0, depth=5.0), Member("setback", projection=5.0))
    flush = (Member("quirk", width=3.0, depth=5.0, projection=5.0),)
    rest = (Member("bead", 4.0),)
    assert column((*groove, *rest)).path() == column((*flush, *rest)).path()


@pytest.mark.parametrize("lie", LIES)
def test_a_level_step_at_the_top_or_the_bottom_only_moves_the_wall(lie: str) -> None:
    bottom = 10.0 if lie == "sprung" else None
    plain = column(lie=lie, back=5.0, bottom=bottom).path()
    stepped = column((Member("setback", projection=3.0), *CROWN), lie=lie, back=5.0, bottom=bottom)
    np.testing.assert_allclose(stepped.path().flatten(0.1), plain.flatten(0.1), atol=1e-9)

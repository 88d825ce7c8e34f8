from __future__ import annotations

from dataclasses import replace

import pytest

from profilestack.geometry.path import Path
from profilestack.session.target_fit import target_trouble, with_fitting_blank, with_snug_blank
from profilestack.stack import (
    Blank,
    MemberTarget,
    PathTarget,
    Rectangle,
    Round,
    Stack,
    StraightRun,
    Target,
)
from profilestack.targets.members import Member, MemberColumn

STRIP = MemberTarget(
    MemberColumn((Member("fillet", 12.0), Member("ovolo", 9.0, 9.0)), lie="flat", back=10.0)
)
"""On its back: 21 wide, 19 thick."""


def stack(width: float, thickness: float, target: Target | None = STRIP) -> Stack:
    return Stack(Blank(Rectangle(width, thickness), "maple"), StraightRun(900.0), target=target)


def test_nothing_is_wrong_without_a_target_or_within_the_blank() -> None:
    assert target_trouble(stack(30.0, 10.0, None)) == ""
    assert target_trouble(stack(30.0, 19.0)) == ""


def test_what_leaves_the_blank_is_told_and_a_larger_blank_offered() -> None:
    small = stack(30.0, 15.0)
    assert "leaves the blank by 4.000 mm" in target_trouble(small)
    fitted = with_fitting_blank(small)
    assert fitted is not None
    assert fitted.stack == replace(small, blank=Blank(Rectangle(30.0, 19.0), "maple"))
    assert fitted.label("mm") == "Make the blank 30 by 19 mm"
    assert target_trouble(fitted.stack) == ""


def test_members_in_a_larger_blank_may_have_a_snug_one() -> None:
    snug = with_snug_blank(stack(60.0, 22.0))
    assert snug is not None
    assert (snug.width, snug.thickness) == pytest.approx((21.0, 19.0))
    assert with_snug_blank(snug.stack) is None


def test_a_path_that_ends_on_the_right_side_takes_the_side_along() -> None:
    path = PathTarget(Path((0.0, 8.0)).line((40.0, 5.0)))
    fitted = with_fitting_blank(stack(30.0, 10.0, path))
    assert fitted is not None
    assert (fitted.width, fitted.thickness) == (40.0, 10.0)
    short = with_fitting_blank(stack(50.0, 10.0, path))
    assert short is not None
    assert (short.width, short.thickness) == (40.0, 10.0)
    assert with_snug_blank(stack(40.0, 10.0, path)) is None


def test_no_board_helps_a_path_beyond_the_corner_or_another_blank() -> None:
    path = PathTarget(Path((-5.0, 8.0)).line((40.0, 5.0)))
    assert with_fitting_blank(stack(30.0, 10.0, path)) is None
    rod = replace(stack(30.0, 10.0), blank=Blank(Round(8.0)))
    assert target_trouble(rod)
    assert with_fitting_blank(rod) is None
    assert with_snug_blank(rod) is None


def test_no_board_is_offered_for_a_slip_of_the_unit() -> None:
    assert isinstance(STRIP.column, MemberColumn)
    for slip in ({"scale": 1000.0}, {"at": (999_999.0, 0.0)}, {"at": (0.0, 999_999.0)}):
        far = MemberTarget(replace(STRIP.column, **slip))
        assert "leaves the blank" in target_trouble(stack(30.0, 20.0, far))
        assert with_fitting_blank(stack(30.0, 20.0, far)) is None
    inch = MemberTarget(replace(STRIP.column, scale=25.4))
    assert with_fitting_blank(stack(30.0, 20.0, inch)) is not None

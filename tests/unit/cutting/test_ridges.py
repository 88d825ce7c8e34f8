"""Ridges: where two passes leave a crest between them, and which passes those are."""

from __future__ import annotations

import math

import pytest

from profilestack.cutting.ridges import Ridge
from profilestack.geometry.path import Path
from profilestack.stack import PathTarget, Setup
from tests.shop import Placed, core_box, judge, lines, straight

FLOOR = 20.0
FLAT = lines((0.0, FLOOR), (60.0, FLOOR))
BALL = core_box(12.7)
R = 6.35


def ridges(*placed: Placed, target: PathTarget = FLAT) -> tuple[Ridge, ...]:
    found = judge(*placed, target=target).comparison
    assert found is not None
    return found.ridges


def low(found: tuple[Ridge, ...]) -> list[Ridge]:
    """Those that do not reach up to the blank's face."""
    return [ridge for ridge in found if ridge.at[1] < 30.0 - 1e-6]


def cusp(step: float) -> float:
    return R - math.sqrt(R**2 - step**2 / 4)


def test_two_passes_leave_one_crest_between_them() -> None:
    (ridge,) = low(ridges((BALL, 20.0, 10.0), (BALL, 24.0, 10.0)))
    assert ridge.between == (1, 2)
    assert ridge.height == pytest.approx(cusp(4.0), abs=0.002)
    assert ridge.width == pytest.approx(4.0, abs=0.01)
    assert ridge.at == pytest.approx((22.0, FLOOR + cusp(4.0)), abs=0.002)


def test_the_order_of_passes_is_not_the_order_along_the_target() -> None:
    """``between`` names the lower x first, whichever was cut first."""
    (ridge,) = low(ridges((BALL, 24.0, 10.0), (BALL, 20.0, 10.0)))
    assert ridge.between == (2, 1)


def test_on_a_target_from_right_to_left_its_own_order_counts() -> None:
    """The back is hollowed: the wood is above, the target runs to the left."""
    back = {"setup": "back"}
    report = judge(
        (BALL, 20.0, 10.0, back), (BALL, 24.0, 10.0, back), setups=(Setup("back", 180.0),),
        target=PathTarget(Path((60.0, 10.0)).line((0.0, 10.0))),
    )  # fmt: skip
    assert report.comparison is not None
    (ridge,) = [ridge for ridge in report.comparison.ridges if ridge.at[1] > 1e-6]
    # the first pass lies at x = 40, where the target comes by first
    assert ridge.between == (1, 2)
    assert ridge.at == pytest.approx((38.0, 10.0 - cusp(4.0)), abs=0.002)


@pytest.mark.parametrize("count", [3, 5, 8])
def test_every_neighbouring_pair_has_its_crest_in_the_order_of_the_target(count: int) -> None:
    placed = [(BALL, 12.0 + 4.0 * k, 10.0) for k in range(count)]
    found = low(ridges(*placed))
    assert [ridge.between for ridge in found] == [(k, k + 1) for k in range(1, count)]
    assert [ridge.height for ridge in found] == pytest.approx([cusp(4.0)] * (count - 1), abs=0.002)


@pytest.mark.parametrize("steps", [(2.0, 3.0, 4.0, 5.0), (5.0, 4.0, 3.0, 2.0), (3.0, 5.0, 2.0)])
def test_crests_beside_higher_ones_are_found(steps: tuple[float, ...]) -> None:
    places = [15.0]
    for step in steps:
        places.append(places[-1] + step)
    found = low(ridges(*[(BALL, x, 10.0) for x in places]))
    assert [ridge.height for ridge in found] == pytest.approx([cusp(s) for s in steps], abs=0.002)
    assert [ridge.width for ridge in found] == pytest.approx(list(steps), abs=0.01)


def test_repeats_of_one_pass_have_crests_of_their_own() -> None:
    found = low(ridges((BALL, 15.0, 10.0, {"count": 4, "pitch": 4.0})))
    assert [ridge.between for ridge in found] == [(1, 1)] * 3


def test_a_crest_that_keeps_the_blanks_face_is_level() -> None:
    """Two grooves leave a land of the face between them."""
    found = ridges((straight(20.0), 10.0, 10.0), (straight(20.0), 50.0, 10.0))
    (land,) = found
    assert land.height == pytest.approx(10.0)
    assert land.at == pytest.approx((30.0, 30.0))
    assert land.between == (1, 2)


def test_stock_up_to_the_side_has_the_face_on_one_flank() -> None:
    found = ridges((straight(20.0), 50.0, 10.0))
    assert [ridge.between for ridge in found] == [(0, 1)]
    assert found[0].height == pytest.approx(10.0)


@pytest.mark.parametrize(("step", "told"), [(0.46, 0), (0.60, 1)])
def test_crests_below_five_thousandths_are_not_told(step: float, told: int) -> None:
    assert (cusp(step) > 0.005) == bool(told)
    assert len(low(ridges((BALL, 20.0, 10.0), (BALL, 20.0 + step, 10.0)))) == told


def test_on_a_round_heights_are_square_to_the_target() -> None:
    """Three balls on a convex arc of 25; see the validation for the formula's source."""
    rho, step = 18.0, 3.0
    path = Path((0.0, 8.0)).line((30.0 - rho, 8.0))
    path = path.arc((30.0 + rho, 8.0), (30.0, 8.0), "cw").line((60.0, 8.0))
    placed = []
    for k in range(3):
        angle = (k - 1) * step / rho
        x, z = 30.0 + (rho + R) * math.sin(angle), 8.0 + (rho + R) * math.cos(angle)
        placed.append((BALL, x, 30.0 - (z - R)))
    b = step / 2 / rho
    crest = (rho + R) * math.cos(b) - math.sqrt(R**2 - ((rho + R) * math.sin(b)) ** 2) - rho
    found = [ridge for ridge in ridges(*placed, target=PathTarget(path)) if 0 not in ridge.between]
    assert [ridge.between for ridge in found] == [(1, 2), (2, 3)]
    assert [ridge.height for ridge in found] == pytest.approx([crest] * 2, abs=0.003)


def test_a_crest_that_is_level_round_a_corner_is_no_higher_there() -> None:
    """A wide bit stands 0.01 off wall and floor: what is left is as thick all along."""
    path = Path((0.0, 30.0)).line((20.0, 30.0)).line((20.0, 16.0)).line((60.0, 16.0))
    found = ridges((straight(90.0), 65.01, 13.99), target=PathTarget(path))
    assert all(ridge.height <= 0.01 * math.sqrt(2.0) + 1e-6 for ridge in found)


@pytest.mark.parametrize(("turned", "between"), [(False, (2, 1)), (True, (1, 2))])
def test_on_a_closed_target_its_own_direction_counts(
    turned: bool, between: tuple[int, int]
) -> None:
    """Counter-clockwise the target comes along its top from the right, clockwise from the left."""
    path = Path((0.0, 0.0)).line((60.0, 0.0)).line((60.0, FLOOR)).line((0.0, FLOOR))
    path = path.line((0.0, 0.0))
    target = PathTarget(path.reversed() if turned else path, closed=True)
    (ridge,) = low(ridges((BALL, 20.0, 10.0), (BALL, 24.0, 10.0), target=target))
    assert ridge.between == between

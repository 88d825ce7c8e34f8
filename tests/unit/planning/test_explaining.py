"""A test cut with known errors is explained within the stated uncertainty."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from profilestack.errors import InputError
from profilestack.files.stack_file import read_stack
from profilestack.geometry.path import Points
from profilestack.jobs.measure import corrected
from profilestack.jobs.opening import find_bits
from profilestack.planning.check_dimensions import check_dimensions
from profilestack.planning.explaining import Explanation, explain
from profilestack.planning.unknowns import Unknowns, unknowns_of
from profilestack.planning.usual_errors import UsualErrors
from tests.shop import board, core_box, stack_of, straight, vee
from tests.unit.planning.shipped import CROWN

FREE = UsualErrors(
    touch_off=5.0, edge_zero=0.0, single_cut=5.0, bit_mean=0.0, bit_spread=0.9, blank=0.0, wedge=0.0
)
"""So wide that the points alone speak."""


def outline_of(unknowns: Unknowns, values: np.ndarray, step: float = 1.0) -> Points:
    """Points along the outline of the section with these errors."""
    section = unknowns.sections(values[None, :])[0]
    edge = max(shapely.get_parts(section), key=shapely.area).exterior
    places = np.arange(0.0, edge.length, step)
    return np.asarray(shapely.get_coordinates(shapely.line_interpolate_point(edge, places)))


def found_error(answer: Explanation, kind: str, number: int) -> tuple[float, float]:
    return next(
        (each.error, each.sigma)
        for each in answer.found
        if each.source.kind == kind and number in each.source.numbers
    )


def test_known_errors_are_found_within_the_uncertainty_told() -> None:
    """Of the finishing passes that are seen, 95 in 100 lie within two standard deviations."""
    stack = read_stack(CROWN)
    bits = find_bits(stack)[0]
    unknowns = unknowns_of(stack, bits)
    root = np.linalg.cholesky(unknowns.covariance)
    chance = np.random.default_rng(11)
    scores = []
    for _ in range(10):
        truth = unknowns.mean + root @ chance.normal(size=len(unknowns.mean))
        points = outline_of(unknowns, truth, 2.0)
        points = points + chance.normal(0.0, 0.03, points.shape)
        answer = explain(stack, bits, points, 0.03)
        assert 0.02 < answer.after < 0.04 < answer.before
        for each, true in zip(answer.found, truth.tolist(), strict=True):
            relief = all(stack.passes[place].relief for place in each.source.passes)
            if each.seen and not relief:
                scores.append(abs(each.error - true) / each.sigma)
                assert each.sigma < each.usual * 1.05
    assert len(scores) > 120
    assert np.mean(np.array(scores) < 2.0) > 0.9
    assert np.median(scores) > 0.3  # nor are the uncertainties far too wide


@pytest.mark.parametrize(("left", "right"), [(0.10, 0.10), (0.12, -0.04), (0.0, 0.2)])
def test_a_groove_off_at_both_walls(left: float, right: float) -> None:
    """Left wall off a, right wall off b, to the right: offset (a+b)/2, diameter b-a."""
    bit = straight(12.0, measured=None)
    stack, bits = stack_of((bit, 30.0, 8.0))
    heights = np.arange(23.0, 29.6, 0.5)
    walls = [np.column_stack((np.full(len(heights), x), heights))
             for x in (24.0 + left, 36.0 + right)]  # fmt: skip
    answer = explain(stack, bits, np.concatenate(walls), 0.01, errors=FREE)
    offset, diameter = found_error(answer, "offset", 1), found_error(answer, "diameter", 1)
    assert offset[0] == pytest.approx((left + right) / 2.0, abs=2e-3)
    assert diameter[0] == pytest.approx(right - left, abs=2e-3)
    # the mean of n readings at each wall, and their difference
    sigma = 0.01 / np.sqrt(len(heights))
    assert offset[1] == pytest.approx(sigma / np.sqrt(2.0), rel=0.05)
    assert diameter[1] == pytest.approx(sigma * np.sqrt(2.0), rel=0.05)
    assert answer.mixed == ()


def test_one_wall_does_not_tell_offset_from_diameter() -> None:
    bit = straight(12.0)
    stack, bits = stack_of((bit, 30.0, 8.0))
    heights = np.arange(23.0, 29.6, 0.5)
    points = np.column_stack((np.full(len(heights), 24.1), heights))
    answer = explain(stack, bits, points, 0.01)
    kinds = [{answer.found[k].source.kind for k in group} for group in answer.mixed]
    assert kinds == [{"offset", "diameter"}]
    depth = next(each for each in answer.found if each.source.kind == "depth")
    assert not depth.seen
    assert depth.sigma == pytest.approx(depth.usual, rel=0.02)  # as expected before


def test_a_point_that_nothing_explains_is_named_and_does_not_pull() -> None:
    stack, bits = stack_of((core_box(20.0), 30.0, 6.0), blank=board(60.0, 30.0))
    unknowns = unknowns_of(stack, bits)
    points = outline_of(unknowns, np.zeros(len(unknowns.mean)))
    spoilt = points.copy()
    spoilt[np.argmin(np.hypot(*(points - (30.0, 24.0)).T))] += (0.0, 0.8)
    clean, answer = explain(stack, bits, points, 0.02), explain(stack, bits, spoilt, 0.02)
    assert len(answer.outlying) == 1
    assert clean.outlying == ()
    for one, other in zip(clean.found, answer.found, strict=True):
        assert other.error == pytest.approx(one.error, abs=0.5 * one.sigma)


def test_points_that_lie_anywhere_are_laid() -> None:
    stack, bits = stack_of((core_box(20.0), 20.0, 6.0), (vee(20.0, 90.0), 45.0, 5.0))
    unknowns = unknowns_of(stack, bits)
    truth = np.zeros(len(unknowns.mean))
    truth[0] = 0.15
    points = outline_of(unknowns, truth)
    turn = np.radians(0.8)
    turned = points @ np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    answer = explain(stack, bits, turned + np.array((0.9, -0.6)), 0.02, lies_anywhere=True)
    assert answer.lay is not None
    assert answer.lay[2] == pytest.approx(-0.8, abs=0.01)
    assert found_error(answer, "offset", 1)[0] == pytest.approx(0.15, abs=0.02)


def test_settings_undo_what_was_found() -> None:
    stack, bits = stack_of((straight(12.0, measured=12.0), 30.0, 8.0))
    unknowns = unknowns_of(stack, bits, FREE)
    points = outline_of(unknowns, np.array([0.2, -0.1]), 0.5)
    answer = explain(stack, bits, points, 0.01, errors=FREE)
    single = corrected(stack, bits, answer).passes[0]
    assert single.offset == pytest.approx(29.8, abs=0.003)
    assert single.depth == pytest.approx(8.1, abs=0.003)


def test_what_cannot_be_points_of_the_part_is_refused() -> None:
    stack, bits = stack_of((straight(12.0), 30.0, 8.0))
    with pytest.raises(InputError, match="off the section.*lower left"):
        explain(stack, bits, np.array([(100.0, 100.0), (120.0, 90.0), (130.0, 80.0)]))
    with pytest.raises(InputError, match="at least two"):
        explain(stack, bits, np.array([(30.0, 22.0)]))
    empty, _ = stack_of()
    with pytest.raises(InputError, match="cuts nothing"):
        explain(empty, {}, np.array([(30.0, 22.0), (31.0, 22.0)]))


def test_check_dimensions_lie_where_they_tell() -> None:
    stack = read_stack(CROWN)
    bits = find_bits(stack)[0]
    checks = check_dimensions(stack, bits)
    assert [check.number for check in checks] == list(range(1, len(checks) + 1))
    finishing = {n for n, single in enumerate(stack.passes, 1) if not single.relief}
    assert {n for check in checks for n in check.passes} >= finishing
    unknowns = unknowns_of(stack, bits)
    section = unknowns.sections(np.zeros((1, len(unknowns.mean))))[0]
    for check in checks:
        assert section.boundary.distance(shapely.Point(check.at)) < 1e-6
        assert check.place == round(check.place)
    assert checks == check_dimensions(stack, bits)


def test_readings_of_check_dimensions_explain_a_depth() -> None:
    stack, bits = stack_of((core_box(20.0), 30.0, 6.0))
    unknowns = unknowns_of(stack, bits)
    truth = np.zeros(len(unknowns.mean))
    truth[1] = 0.2
    section = unknowns.sections(truth[None, :])[0]
    checks = check_dimensions(stack, bits)
    points = []
    for check in checks:
        probe = shapely.LineString([check.point(check.nominal - 3), check.point(check.nominal + 3)])
        met = shapely.get_coordinates(section.boundary.intersection(probe))
        points.append(met[np.argmin(np.hypot(*(met - check.at).T))])
    answer = explain(stack, bits, np.array(points), 0.03)
    error, sigma = found_error(answer, "depth", 1)
    assert abs(error - 0.2) < 2.0 * sigma < 0.1

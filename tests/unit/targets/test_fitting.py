from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from profilestack.errors import InputError
from profilestack.geometry.crossing import direction_at
from profilestack.geometry.motion import turn
from profilestack.geometry.path import Arc, Line, LineTo, Path
from profilestack.targets.bulges import BulgePath
from profilestack.targets.deviation import signed_along
from profilestack.targets.fitting import Fit, FitWishes, exact_path, fit
from profilestack.targets.rows import Corner
from profilestack.targets.tracing import Chain, Curve
from tests.unit.targets.profiles import (
    SECTION,
    STEPPED,
    drawn,
    farthest,
    measured,
    sampled,
    scattered,
)


def kinds(fitted: Fit) -> str:
    return "".join("A" if isinstance(piece, Arc) else "L" for piece in fitted.path.segments)


def radii(fitted: Fit) -> list[float]:
    return [piece.radius for piece in fitted.path.segments if isinstance(piece, Arc)]


def bend(path: Path, k: int) -> float:
    """The change of direction between pieces k and k + 1 [rad]."""
    before, after = path.segments[k], path.segments[k + 1]
    one, two = direction_at(before, 1.0), direction_at(after, 0.0)
    return abs(math.atan2(one[0] * two[1] - one[1] * two[0], one[0] * two[0] + one[1] * two[1]))


def test_a_drawing_of_lines_and_arcs_stays_exactly_as_it_is() -> None:
    fitted = fit(drawn(STEPPED))
    assert fitted.after == fitted.before == 6
    for one, two in zip(STEPPED.segments, fitted.path.segments, strict=True):
        assert one.start == two.start
        assert one.end == two.end
        if isinstance(one, Arc):
            assert isinstance(two, Arc)
            assert two.center == pytest.approx(one.center, abs=1e-12)
    assert fitted.deviation.largest < 2e-4  # the yardstick's own chord error


def test_a_curve_cut_into_short_lines_becomes_its_arcs_again() -> None:
    flat = STEPPED.flatten(0.002).tolist()
    lines = Chain(tuple(Line(tuple(a), tuple(b)) for a, b in pairwise(flat)))
    fitted = fit(lines, FitWishes(0.02))
    assert fitted.before > 100
    assert kinds(fitted) == "LALAAL"
    # the lines' middles lie up to 0.002 inside the arcs
    assert radii(fitted) == pytest.approx([20.0, 10.0, 10.0], abs=0.01)
    assert farthest(np.array(flat), fitted.path) < 0.003


def test_a_bevelled_polygon_keeps_its_bevels() -> None:
    points = [(0.0, 10.0), (5.0, 10.0), (9.0, 8.0), (11.0, 4.0), (11.0, 0.0)]
    chain = Chain(tuple(Line(a, b) for a, b in pairwise(points)))
    fitted = fit(chain, FitWishes(0.05))
    assert [fitted.path.start, *(step.to for step in fitted.path.steps)] == points


def test_many_shallow_arcs_of_one_curve_become_one() -> None:
    whole = Path((0.0, 10.0)).arc((10.0, 0.0), (0.0, 0.0), "cw")
    angles = np.linspace(math.pi / 2, 0.0, 31)
    points = [(10.0 * math.cos(a), 10.0 * math.sin(a)) for a in angles]
    pieces = tuple(Arc(a, b, (0.0, 0.0), "cw") for a, b in pairwise(points))
    fitted = fit(Chain(pieces), FitWishes(0.01))
    assert fitted.after == 1
    assert radii(fitted) == pytest.approx([10.0], abs=1e-6)
    assert farthest(fitted.path.flatten(0.01), whole) < 1e-6


def test_one_shallow_arc_alone_stays() -> None:
    path = Path((0.0, 20.0)).line((10.0, 20.0)).arc((50.0, 20.0), (30.0, -480.0), "cw")
    path = path.line((60.0, 20.0))
    fitted = fit(drawn(path), FitWishes(0.02))
    assert radii(fitted) == pytest.approx([math.hypot(20.0, 500.0)], rel=1e-9)


def test_measured_points_without_scatter_give_the_profile() -> None:
    points = sampled(STEPPED, 0.3)[::4]  # corners and joints are hardly among them
    fitted = fit(measured(points), FitWishes(0.05))
    assert kinds(fitted) == "LALAAL"
    assert radii(fitted) == pytest.approx([20.0, 10.0, 10.0], abs=1e-3)
    corner = fitted.path.segments[2].end
    assert corner == pytest.approx((40.0, 25.0), abs=1e-3)


def test_scatter_is_evened_out() -> None:
    points = scattered(sampled(STEPPED, 0.15), 0.02)
    fitted = fit(measured(points), FitWishes(0.09))
    assert kinds(fitted) == "LALAAL"
    assert radii(fitted) == pytest.approx([20.0, 10.0, 10.0], abs=0.04)
    # 15 points a mm: the mean of so many is far better than each
    assert farthest(fitted.path.flatten(0.5), STEPPED) < 0.015


def test_level_and_upright_lines_become_exactly_so() -> None:
    path = turn(0.05).apply_to(SECTION)
    points = scattered(sampled(path, 0.2), 0.01)
    points[-1] = points[0]
    fitted = fit(measured(points), FitWishes(0.1))
    lines = [piece for piece in fitted.path.segments if isinstance(piece, Line)]
    assert len(lines) == 6
    for piece in lines:
        assert piece.start[0] == piece.end[0] or piece.start[1] == piece.end[1]
    left = fit(measured(points), FitWishes(0.1, level=False))
    slopes = [
        (piece.end[1] - piece.start[1]) / (piece.end[0] - piece.start[0])
        for piece in left.path.segments
        if isinstance(piece, Line) and abs(piece.end[0] - piece.start[0]) > 30.0
    ]
    assert slopes == pytest.approx([math.tan(math.radians(0.05))], rel=0.2)


def test_a_line_that_is_meant_to_slope_stays() -> None:
    path = Path((0.0, 0.0)).line((10.0, 1.0)).line((20.0, 1.0))
    fitted = fit(drawn(path), FitWishes(0.05))
    assert fitted.path.segments[0].end == (10.0, 1.0)


def ellipse() -> Chain:
    angles = np.linspace(math.pi, 0.0, 900)
    return Chain((Curve(np.column_stack((30.0 * np.cos(angles), 18.0 * np.sin(angles)))),))


def test_a_free_curve_is_few_arcs_tangent_to_each_other() -> None:
    fitted = fit(ellipse(), FitWishes(0.02))
    assert kinds(fitted) == "A" * fitted.after
    assert fitted.after <= 7
    assert fitted.deviation.largest <= 0.02
    assert max(bend(fitted.path, k) for k in range(fitted.after - 1)) < 1e-5


def test_without_the_wish_joints_keep_their_small_kinks() -> None:
    fitted = fit(ellipse(), FitWishes(0.02, tangent="nowhere"))
    assert max(bend(fitted.path, k) for k in range(fitted.after - 1)) > 1e-4


def test_tangent_everywhere_takes_more_arcs_where_it_needs_them() -> None:
    """Two lines at 9 degrees: within 0.3 mm of the joint they can flow into each other."""
    end = (20.0 + 20.0 * math.cos(0.16), 20.0 * math.sin(0.16))
    path = Path((0.0, 0.0)).line((20.0, 0.0)).line(end)
    arcs = Chain((Curve(sampled(path, 0.1)),))
    usual = fit(arcs, FitWishes(0.3, tangent="where-it-fits", level=False))
    fitted = fit(arcs, FitWishes(0.3, tangent="everywhere", level=False))
    assert fitted.deviation.largest <= 0.3
    assert fitted.after >= usual.after
    for k in range(fitted.after - 1):
        before, after = fitted.path.segments[k], fitted.path.segments[k + 1]
        assert bend(fitted.path, k) < 1e-4 or (isinstance(before, Line) and isinstance(after, Line))


def test_a_joint_said_to_be_a_corner_is_not_made_tangent() -> None:
    kinked = BulgePath(
        np.array([[0.0, 0.0], [10.0, 3.0], [24.0, 3.0]]), np.array([0.17, 0.2])
    ).path()
    angle = bend(kinked, 0)
    points = sampled(kinked, 0.1)
    said = fit(
        measured(points), FitWishes(0.05, "everywhere", level=False, corners=(Corner((10.0, 3.0)),))
    )
    assert any(abs(bend(said.path, k) - angle) < 0.02 for k in range(said.after - 1))


def test_a_rounded_corner_said_to_be_sharp_becomes_so() -> None:
    sharp = Path((0.0, 10.0)).line((10.0, 10.0)).line((10.0, 0.0))
    rounded = Path((0.0, 10.0)).line((9.0, 10.0)).arc((10.0, 9.0), (9.0, 9.0), "cw")
    points = sampled(rounded.line((10.0, 0.0)), 0.1)
    plain = fit(measured(points), FitWishes(0.02))
    assert kinds(plain) == "LAL"
    said = fit(measured(points), FitWishes(0.02, corners=(Corner((10.0, 10.0), 1.2),)))
    assert kinds(said) == "LL"
    assert said.path.segments[0].end == pytest.approx((10.0, 10.0), abs=1e-6)
    assert said.deviation.largest < 1e-6
    assert farthest(said.path.flatten(0.1), sharp) < 1e-6


def test_a_closed_outline_stays_closed_and_begins_at_a_corner() -> None:
    points = scattered(sampled(SECTION, 0.2), 0.01)
    points = np.roll(points[:-1], 37, axis=0)  # begun in the middle of a line
    points = np.concatenate((points, points[:1]))
    fitted = fit(measured(points), FitWishes(0.06))
    assert fitted.path.is_closed
    assert kinds(fitted).count("A") == 3
    assert fitted.after == len(SECTION.steps)
    assert fitted.path.signed_area == pytest.approx(SECTION.signed_area, rel=2e-3)


def test_a_circle_is_two_arcs() -> None:
    around = Path((5.0, 0.0)).arc((5.0, 0.0), (0.0, 0.0), "ccw")
    exact = fit(drawn(around))
    assert radii(exact) == pytest.approx([5.0, 5.0], abs=1e-12)
    points = sampled(around, 0.1)
    points[-1] = points[0]
    assert radii(fit(measured(points), FitWishes(0.01))) == pytest.approx([5.0, 5.0], abs=1e-6)


def test_the_deviation_told_is_the_real_one_both_ways() -> None:
    chain = ellipse()
    fitted = fit(chain, FitWishes(0.05))
    row = chain.flatten()
    assert farthest(row[::3], fitted.path) == pytest.approx(fitted.deviation.points, rel=0.02)
    back = farthest(
        fitted.path.flatten(1e-4), Path((row[0, 0], row[0, 1]), ()).joined(_through(row))
    )
    assert back == pytest.approx(fitted.deviation.path, rel=0.02)


def _through(row: np.ndarray) -> Path:
    path = Path((float(row[0, 0]), float(row[0, 1])))
    for x, z in row[1:].tolist():
        path = path.line((x, z))
    return path


def test_one_point_and_wild_tolerances_are_refused() -> None:
    with pytest.raises(InputError, match="one point"):
        fit(Chain((Line((1.0, 1.0), (1.0, 1.0 + 1e-9)),)))
    with pytest.raises(InputError, match="tolerance"):
        FitWishes(0.0)
    with pytest.raises(InputError, match="tolerance"):
        FitWishes(math.nan)


def test_points_left_of_a_path_count_as_proud() -> None:
    places, off = signed_along(STEPPED, np.array([[5.0, 45.2], [35.0, 24.9], [70.0, 5.3]]))
    assert off == pytest.approx([0.2, -0.1, 0.3])
    quarter = math.pi / 2
    length = STEPPED.length
    assert places == pytest.approx([5.0, 10.0 + 20.0 * quarter + 5.0, length])


def test_an_exact_chain_is_a_path_and_a_curve_is_none() -> None:
    assert exact_path(drawn(STEPPED)) == STEPPED
    assert exact_path(ellipse()) is None


def test_a_few_points_far_apart_make_straight_lines_and_no_invented_hollow() -> None:
    # any three points lie on an arc: through these it would dip 15 mm below the step
    points = np.array([(0.0, 20.0), (40.0, 20.0), (40.0, 10.0), (80.0, 10.0)])
    lines = tuple(
        Line((float(a[0]), float(a[1])), (float(b[0]), float(b[1]))) for a, b in pairwise(points)
    )
    found = fit(Chain(lines, measured=True), FitWishes(tolerance=0.05))
    assert found.deviation.largest <= 0.05
    flat = found.path.flatten(1e-3)
    assert flat[:, 1].min() > 9.9
    assert all(isinstance(step, LineTo) for step in found.path.steps)

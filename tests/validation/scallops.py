"""Cusps between parallel passes of a round nose: on a flat, a slope, a hollow and a round."""

from __future__ import annotations

import math

from profilestack.cutting.ridges import Ridge
from profilestack.geometry.path import Path, Point
from profilestack.jobs.cut import CutReport
from profilestack.stack import PathTarget
from tests.shop import board, core_box, judge, lines
from tests.validation.check import CHORD, Check

FLAT = (
    'E. Weisstein, CRC Concise Encyclopedia of Mathematics, "Segment", eqs (1)-(9), solved for '
    "the height: h = R - sqrt(R^2 - (s/2)^2)"
)
STEP = 'Weisstein, "Segment", eqs (1)-(9): s = 2 sqrt(2Rh - h^2)'
SLACK = 3 * CHORD
REASON = "chord errors of the two cuts and of the target"
HEIGHT = 40.0


def cusp(radius: float, step: float) -> float:
    return radius - math.sqrt(radius**2 - (step / 2) ** 2)


def ridge_at(report: CutReport, numbers: tuple[int, int]) -> Ridge:
    assert report.comparison is not None
    found = [ridge for ridge in report.comparison.ridges if ridge.between == numbers]
    assert len(found) == 1, report.comparison.ridges
    return found[0]


def passes_at(centres: list[Point], radius: float, target: PathTarget) -> CutReport:
    """A round nose with its ball's centre at each of the places."""
    nose = core_box(2 * radius, edge=60.0)
    placed = [(nose, x, HEIGHT - (z - radius)) for x, z in centres]
    return judge(*placed, blank=board(80.0, HEIGHT), target=target, chord=CHORD)


def on_a_flat(radius: float, step: float) -> float:
    floor = 20.0
    target = lines((0.0, floor), (80.0, floor))
    centres = [(40.0 + k * step, floor + radius) for k in range(3)]
    return ridge_at(passes_at(centres, radius, target), (2, 3)).height


def on_a_slope(radius: float, step: float, degrees: float) -> float:
    """Passes ``step`` apart, measured level, on a plane inclined by ``degrees``."""
    lean = math.radians(degrees)
    foot, rise = 5.0, 30.0
    run = rise / math.tan(lean)
    target = lines((0.0, foot), (run, foot + rise), (80.0, foot + rise))
    centres = []
    for k in range(3):
        x = run / 2 + k * step
        z = 5.0 + x * math.tan(lean)
        centres.append((x - radius * math.sin(lean), z + radius * math.cos(lean)))
    return ridge_at(passes_at(centres, radius, target), (2, 3)).height


def on_an_arc(radius: float, step: float, rho: float, sign: float) -> float:
    """Passes ``step`` apart along an arc of radius ``rho``; ``sign`` +1 convex, -1 concave."""
    middle = (40.0, 5.0 if sign > 0 else 35.0)
    if sign > 0:
        path = Path((0.0, 5.0)).line((40.0 - rho, 5.0))
        path = path.arc((40.0 + rho, 5.0), middle, "cw").line((80.0, 5.0))
    else:
        path = Path((0.0, 35.0)).line((40.0 - rho, 35.0))
        path = path.arc((40.0 + rho, 35.0), middle, "ccw").line((80.0, 35.0))
    centres = []
    for k in range(3):
        angle = (k - 1) * step / rho
        reach = rho + sign * radius
        centres.append(
            (middle[0] + reach * math.sin(angle), middle[1] + sign * reach * math.cos(angle))
        )
    return ridge_at(passes_at(centres, radius, PathTarget(path)), (2, 3)).height


def convex(radius: float, step: float, rho: float) -> float:
    b = step / (2 * rho)
    return (
        (rho + radius) * math.cos(b)
        - math.sqrt(radius**2 - ((rho + radius) * math.sin(b)) ** 2)
        - rho
    )


def concave(radius: float, step: float, rho: float) -> float:
    b = step / (2 * rho)
    return (
        rho
        - (rho - radius) * math.cos(b)
        - math.sqrt(radius**2 - ((rho - radius) * math.sin(b)) ** 2)
    )


def flat_row(radius: float, step: float, printed: str) -> Check:
    return Check(
        "Cusp between passes of a round nose", f"on a flat, R {radius:g}, {step:g} apart", "mm",
        FLAT, "computed", cusp(radius, step), lambda: on_a_flat(radius, step), SLACK, REASON,
        printed,
    )  # fmt: skip


def step_row(radius: float, height: float, printed: str) -> Check:
    """The step for a wanted cusp: what it gives when it is cut."""
    step = 2 * math.sqrt(2 * radius * height - height**2)
    return Check(
        "Cusp between passes of a round nose",
        f"on a flat, R {radius:g}, at the step for {height:g}: {float(printed):.8f} apart", "mm",
        STEP, "computed", height, lambda: on_a_flat(radius, float(printed)),
        SLACK + abs(step - float(printed)), REASON + " and the step's last digit",
    )  # fmt: skip


def arc_row(word: str, radius: float, step: float, rho: float) -> Check:
    formula = convex if word == "convex" else concave
    sign = 1.0 if word == "convex" else -1.0
    source = (
        "derived: h = (rho+R) cos b - sqrt(R^2 - ((rho+R) sin b)^2) - rho, b = s / (2 rho)"
        if word == "convex"
        else "derived: h = rho - (rho-R) cos b - sqrt(R^2 - ((rho-R) sin b)^2), b = s / (2 rho)"
    )
    return Check(
        "Cusp between passes of a round nose",
        f"on a {word} arc of {rho:g}, R {radius:g}, {step:g} apart along it", "mm",
        source, "computed", formula(radius, step, rho),
        lambda: on_an_arc(radius, step, rho, sign), SLACK, REASON,
    )  # fmt: skip


def slope_row(radius: float, step: float, degrees: float) -> Check:
    return Check(
        "Cusp between passes of a round nose",
        f"on a slope of {degrees:g} degrees, R {radius:g}, {step:g} apart measured level", "mm",
        "derived: the step along the slope is s / cos(phi), the height square to it", "computed",
        cusp(radius, step / math.cos(math.radians(degrees))),
        lambda: on_a_slope(radius, step, degrees), SLACK, REASON,
    )  # fmt: skip


CHECKS = (
    flat_row(3.175, 0.5, "0.0098578231"),
    flat_row(3.0, 0.5, "0.0104348142"),
    flat_row(12.7, 6.35, "0.403277876"),
    step_row(3.175, 0.05, "1.12249722"),
    step_row(6.35, 0.05, "1.59059737"),
    slope_row(3.175, 1.0, 30.0),
    slope_row(6.35, 2.0, 45.0),
    arc_row("convex", 3.175, 1.5, 25.0),
    arc_row("convex", 6.35, 3.0, 25.0),
    arc_row("concave", 3.175, 1.5, 25.0),
    arc_row("concave", 6.35, 4.0, 20.0),
)

"""Places that a round nose cannot reach, and two bits that make one smooth curve."""

from __future__ import annotations

import math

from profilestack.cutting.comparison import Comparison
from profilestack.geometry.path import Path
from profilestack.jobs.cut import CutReport
from profilestack.stack import PathTarget
from tests.shop import Placed, board, codes, core_box, judge, lines, roundover, straight
from tests.validation.check import CHORD, Check, arc_area_slack

R = 12.7
TWO_CHORDS = "chord errors of the cut and the target"


def square_corner() -> Comparison:
    """A step, its floor and wall met by one core box; a straight bit clears the rest."""
    target = lines((0.0, 10.0), (40.0, 10.0), (40.0, 40.0), (60.0, 40.0))
    placed: list[Placed] = [
        (straight(20.0), 10.0, 30.0),
        (straight(20.0), 40.0 - R - 10.0, 30.0),
        (core_box(2 * R), 40.0 - R, 30.0),
    ]
    report = judge(*placed, blank=board(60.0, 40.0), target=target, chord=CHORD)
    assert report.comparison is not None
    return report.comparison


def half_round_on_a_fillet(rho: float, r: float) -> float:
    """Distance from the round's foot to the nearest cut by a round nose in the corner [mm]."""
    floor, left, width = 10.0, 20.0, 60.0
    path = Path((0.0, floor)).line((left, floor))
    path = path.arc((left + 2 * rho, floor), (left + rho, floor), "cw").line((width, floor))
    middle = left + rho
    # the ball rests on the fillet and touches the round: centres rho + r apart, r above the floor
    off = math.sqrt((rho + r) ** 2 - r**2)
    nose = core_box(2 * r)
    # the top of the round is left standing: the corner's distance is to the nearest cut
    report = judge(
        (nose, middle - off, 30.0 - floor), (nose, middle + off, 30.0 - floor),
        blank=board(width, 30.0), target=PathTarget(path), chord=CHORD,
    )  # fmt: skip
    assert report.comparison is not None
    feet = [
        corner.distance
        for corner in report.comparison.corners
        if math.dist(corner.at, (left, floor)) < 1e-6
    ]
    assert len(feet) == 1
    return feet[0]


def ogee(radius: float, tip: float, edge: float) -> CutReport:
    """An ogee into a groove, by a core box and a point-cutting roundover of one radius.

    The roundover goes ``radius`` deep, so its depth d is R, and the core box R + d.
    """
    face, middle = 40.0, 40.0
    wall = middle - radius  # where both edges are upright
    path = (
        Path((0.0, face)).line((wall - radius, face))
        .arc((wall, face - radius), (wall - radius, face - radius), "cw")
        .arc((middle, face - 2 * radius), (middle, face - radius), "ccw")
        .arc((middle + radius, face - radius), (middle, face - radius), "ccw")
        .line((middle + radius, face)).line((80.0, face))
    )  # fmt: skip
    return judge(
        (core_box(2 * radius, edge), middle, 2 * radius),
        (roundover(radius, tip), wall + tip / 2, radius),
        blank=board(80.0, face), target=PathTarget(path), chord=CHORD,
    )  # fmt: skip


def comparison_of(report: CutReport) -> Comparison:
    assert report.comparison is not None
    return report.comparison


OGEE_R, TIP, SHORT = 12.7, 3.175, 0.5


def standing_over_a_short_edge() -> float:
    """Stock beside the shank when the edge is shorter than R + d by ``SHORT`` [mm2].

    It reaches from the roundover's upper curve to the core box's wall, ``SHORT`` high: a strip
    (R - t) wide, and half a circular segment under the curve's end.
    """
    half_segment = (
        OGEE_R**2 * math.acos((OGEE_R - SHORT) / OGEE_R)
        - (OGEE_R - SHORT) * math.sqrt(2 * OGEE_R * SHORT - SHORT**2)
    ) / 2
    return SHORT * (OGEE_R - TIP) + half_segment


def relief_needed(edge: float) -> float:
    """1 when the engine warns of stock over the core box's shank or edge, else 0."""
    return float(bool(codes(ogee(OGEE_R, TIP, edge)) & {"too-deep", "shank-rubs"}))


SQUARE = "Square inside corner cut with a round nose R 12.7 mm"
OGEE = "Tangent ogee of a core box and a point-cutting roundover, R 12.7 mm"

CHECKS = (
    Check(
        SQUARE, "leftover area", "mm2", "square less quarter circle: (1 - pi/4) R^2", "computed",
        (1 - math.pi / 4) * R**2, lambda: square_corner().leftover.area,
        arc_area_slack(R * math.pi / 2), "2/3 x chord error x arc length",
    ),
    Check(
        SQUARE, "corner to the nearest cut", "mm", "diagonal less radius: R (sqrt 2 - 1)",
        "computed", R * (math.sqrt(2) - 1), lambda: square_corner().unreached_max,
        CHORD, "chord error of the cut",
    ),
    Check(
        SQUARE, "leftover's farthest point from the target", "mm",
        "where the diagonal meets the arc: R (1 - 1/sqrt 2)", "computed",
        R * (1 - 1 / math.sqrt(2)), lambda: square_corner().leftover.max,
        CHORD, "chord error of the cut",
    ),
    Check(
        "Round nose r 1.5 mm in the corner of a level fillet and a torus of radius 6 mm",
        "corner to the nearest cut", "mm",
        "sqrt((sqrt(rho^2 + 2 rho r) - rho)^2 + r^2) - r", "computed",
        math.hypot(math.sqrt(6.0**2 + 2 * 6.0 * 1.5) - 6.0, 1.5) - 1.5,
        lambda: half_round_on_a_fillet(6.0, 1.5), 2 * CHORD, TWO_CHORDS, "0.517",
    ),
    Check(
        OGEE, "leftover with the core box R + d deep, edge R + d", "mm",
        "both edges are upright at the joint: nothing stands", "computed", 0.0,
        lambda: comparison_of(ogee(OGEE_R, TIP, 2 * OGEE_R)).leftover_worst,
        2 * CHORD, TWO_CHORDS,
    ),
    Check(
        OGEE, "overcut with the core box R + d deep, edge R + d", "mm",
        "both edges are upright at the joint: nothing is missing", "computed", 0.0,
        lambda: comparison_of(ogee(OGEE_R, TIP, 2 * OGEE_R)).overcut_worst,
        2 * CHORD, TWO_CHORDS,
    ),
    Check(
        OGEE, "leftover area with the edge 0.5 mm shorter than R + d", "mm2",
        "strip over the shank: e (R - t) and half a segment of height e", "computed",
        standing_over_a_short_edge(),
        lambda: comparison_of(ogee(OGEE_R, TIP, 2 * OGEE_R - SHORT)).leftover.area,
        arc_area_slack(4 * OGEE_R * math.pi), "2/3 x chord error x all arc lengths",
    ),
    Check(
        OGEE, "relief wanted with the edge R + d", "yes/no", "stock above the edge is gone",
        "computed", 0.0, lambda: relief_needed(2 * OGEE_R), 0.0, "a yes or a no",
    ),
    Check(
        OGEE, "relief wanted with the edge 0.5 mm shorter", "yes/no",
        "stock stands above the edge", "computed", 1.0,
        lambda: relief_needed(2 * OGEE_R - SHORT), 0.0, "a yes or a no",
    ),
)  # fmt: skip

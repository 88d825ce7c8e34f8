"""The section that one pass of one bit cuts."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import shapely

from profilestack.bits.bit import Bit
from profilestack.bits.shapes import Cove
from profilestack.cutting.cut import Cut
from profilestack.geometry.region import chains_of
from profilestack.units import from_units, to_units
from tests.shop import bit, board, core_box, cut, roundover, vee
from tests.validation.check import CHORD, Check, arc_area_slack

SEGMENT = (
    'E. Weisstein, CRC Concise Encyclopedia of Mathematics, "Segment", eqs (9), (12), (15): '
    "A = R^2 acos((R-h)/R) - (R-h) sqrt(2Rh - h^2)"
)
CHORD_LENGTH = 'Weisstein, "Segment", eqs (1)-(9): c = 2 sqrt(h (2R - h))'
WIDTH, THICKNESS = 100.0, 40.0
EXACT = "straight edges: only rounding"


def segment_area(radius: float, depth: float) -> float:
    """A circular segment (Weisstein, "Segment", eqs (9), (12), (15)), in the radius's unit."""
    flat = radius - depth
    return radius**2 * math.acos(flat / radius) - flat * math.sqrt(2 * radius * depth - depth**2)


def to_square_inches(area: float) -> float:
    return to_units(to_units(area, "in"), "in")


def one_pass(single: Bit, depth: float, offset: float = WIDTH / 2) -> Cut:
    return cut((single, offset, depth), blank=board(WIDTH, THICKNESS), chord=CHORD)


def removed_square_inches(single: Bit, depth: float) -> float:
    return to_square_inches(one_pass(single, depth).passes[0].removed_area)


def opening_inches(single: Bit, depth: float) -> float:
    """How much of the board's upper face the pass takes away [in]."""
    level = 0.0
    for chain in chains_of(one_pass(single, depth).section):
        starts, ends = chain[:-1], chain[1:]
        on_face = (starts[:, 1] == THICKNESS) & (ends[:, 1] == THICKNESS)
        level += float(np.abs(ends[on_face, 0] - starts[on_face, 0]).sum())
    return to_units(WIDTH - level, "in")


def inches(value: float) -> float:
    return from_units(value, "in")


def core_box_rows(radius: float, width: str, area: str) -> tuple[Check, Check]:
    depth = 0.25
    single = core_box(inches(2 * radius))
    half_angle = math.acos((radius - depth) / radius)
    arc = inches(2 * radius * half_angle)
    topic = "Section of one cut"
    named = f"core box R {radius:g} in, {depth:g} in deep"
    return (
        Check(
            topic, f"{named}: removed area", "in2", SEGMENT, "computed",
            segment_area(radius, depth),
            lambda: removed_square_inches(single, inches(depth)),
            to_square_inches(arc_area_slack(arc)),
            "2/3 x chord error x arc length", area,
        ),
        Check(
            topic, f"{named}: width at the face", "in", CHORD_LENGTH, "computed",
            2 * math.sqrt(depth * (2 * radius - depth)),
            lambda: opening_inches(single, inches(depth)),
            to_units(2 * CHORD / math.sin(half_angle) + 1e-9, "in"),
            "chord error over the sine of the edge's slope, both sides", width,
        ),
    )  # fmt: skip


def vee_rows(angle: float, width: str, area: str) -> tuple[Check, Check]:
    depth = 0.25
    single = vee(inches(1.5), angle)
    half = math.tan(math.radians(angle / 2))
    topic = "Section of one cut"
    named = f"V {angle:g} degrees, {depth:g} in deep"
    triangle = "triangle: half width = depth x tan(angle/2)"
    return (
        Check(
            topic, f"{named}: removed area", "in2", triangle, "computed", depth**2 * half,
            lambda: removed_square_inches(single, inches(depth)), 1e-9, EXACT, area,
        ),
        Check(
            topic, f"{named}: width at the face", "in", triangle, "computed", 2 * depth * half,
            lambda: opening_inches(single, inches(depth)), 1e-9, EXACT, width,
        ),
    )  # fmt: skip


def edge_row(what: str, single: Bit, radius: float, share: float, formula: str, area: str) -> Check:
    """A quarter round on the board's right edge, the bit's flat just off the board."""

    def measure() -> float:
        depth = inches(radius)
        tip = 2.0
        done = one_pass(single, depth, offset=WIDTH + tip / 2)
        return to_square_inches(done.passes[0].removed_area)

    return Check(
        "Section of one cut", f"{what} r {radius:g} in on a square edge: waste", "in2", formula,
        "computed", share * radius**2, measure,
        to_square_inches(arc_area_slack(inches(radius) * math.pi / 2)),
        "2/3 x chord error x arc length", area,
    )  # fmt: skip


RADIUS, DEPTH, APART = 0.5, 0.25, 0.5


def two_passes() -> Cut:
    single = core_box(inches(2 * RADIUS))
    places = (40.0, 40.0 + inches(APART))
    placed = [(single, x, inches(DEPTH)) for x in places]
    return cut(*placed, blank=board(WIDTH, THICKNESS), chord=CHORD)


def crest_above_floor() -> float:
    """Height of the highest wood between the two axes over the floor of the cuts [in]."""
    section = two_passes().section
    middle = 40.0 + inches(APART) / 2
    upright = shapely.linestrings(((middle, -1.0), (middle, THICKNESS + 1.0)))
    crest = shapely.bounds(shapely.intersection(section, upright))[3]
    return to_units(float(crest) - (THICKNESS - inches(DEPTH)), "in")


def shared_by_both() -> float:
    """What two equal segments share: the lens over the crest, cut off at the face [in2].

    Left half of the lens: the part of the second segment between its own end and the middle.
    """
    chord_half = math.sqrt(DEPTH * (2 * RADIUS - DEPTH))
    centre = RADIUS - DEPTH  # of the circles, above the face

    def under_face(x: float) -> float:
        """Integral of the segment's depth from its end at -chord_half to x."""
        half = (x * math.sqrt(RADIUS**2 - x**2) + RADIUS**2 * math.asin(x / RADIUS)) / 2
        return half - centre * x

    return 2 * (under_face(-APART / 2) - under_face(-chord_half))


def pair_rows() -> tuple[Check, ...]:
    first = segment_area(RADIUS, DEPTH)
    second = first - shared_by_both()
    arc = 2 * inches(RADIUS) * math.acos((RADIUS - DEPTH) / RADIUS)
    slack = to_square_inches(2 * arc_area_slack(arc))
    reason = "2/3 x chord error x arc length of both cuts"
    topic = "Two core-box passes R 0.5 in, 0.25 in deep, 0.5 in apart"

    def removed(number: int) -> Callable[[], float]:
        return lambda: to_square_inches(two_passes().passes[number].removed_area)

    def together() -> float:
        done = two_passes()
        return to_square_inches(done.blank.area - done.section.area)

    source = f"{SEGMENT}; the second less the integral of the overlap"
    return (
        Check(topic, "first removes", "in2", source, "computed", first, removed(0), slack, reason,
              "0.153546212"),
        Check(topic, "second removes", "in2", source, "computed", second, removed(1), slack, reason,
              "0.114152869"),
        Check(topic, "together", "in2", source, "computed", first + second, together, slack, reason,
              "0.267699082"),
        Check(topic, "cusp above the floor", "in", "R - sqrt(R^2 - (s/2)^2)", "computed",
              RADIUS - math.sqrt(RADIUS**2 - (APART / 2) ** 2), crest_above_floor,
              to_units(2 * CHORD, "in"), "both arcs fall short by the chord error at most",
              "0.0669872981"),
    )  # fmt: skip


CHECKS = (
    *core_box_rows(0.5, "0.866025404", "0.153546212"),
    *core_box_rows(0.25, "0.5", "0.0981747704"),
    *core_box_rows(1.0, "1.32287566", "0.226655877"),
    Check(
        "Section of one cut", "core box R 0.5 in, 0.25 in deep: removed area", "mm2", SEGMENT,
        "computed", segment_area(12.7, 6.35),
        lambda: one_pass(core_box(25.4), 6.35).passes[0].removed_area,
        arc_area_slack(2 * 12.7 * math.acos(0.5)), "2/3 x chord error x arc length", "99.0618743",
    ),
    *vee_rows(90.0, "0.5", "0.0625"),
    *vee_rows(60.0, "0.288675135", "0.0360843918"),
    edge_row("roundover", roundover(inches(0.25), 2.0), 0.25, 1 - math.pi / 4,
             "square less quarter circle: (1 - pi/4) r^2", "0.0134126148"),
    edge_row("cove", bit("cove", Cove(inches(0.25), 2.0)), 0.25, math.pi / 4,
             "quarter circle: pi r^2 / 4", "0.0490873852"),
    *pair_rows(),
)  # fmt: skip

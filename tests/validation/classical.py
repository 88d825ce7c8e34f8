"""Classical moldings as targets: what their regions measure, and how their arcs are struck."""

from __future__ import annotations

import math

import numpy as np

from profilestack.cutting.wanted import wanted_in
from profilestack.geometry.path import Arc, Path
from profilestack.geometry.region import region_from_points, rings_of
from profilestack.stack import Blank, MemberTarget, PathTarget, Rectangle, Round, Setup, Target
from profilestack.targets.members import Member, MemberColumn
from tests.shop import core_box, cut
from tests.validation.check import CHORD, Check, arc_area_slack

CYCLOPEDIA = "Cyclopedia of Architecture, Carpentry and Building, vol. 7, 1907"
POCKETBOOK = 'The Building Trades Pocketbook, "Roman Moldings", p. 375'
SHAFT = 10.0
"""Wood behind the shaft's face in the typed sections [parts, here mm]."""


def tuscan_typed() -> PathTarget:
    """Conge r 3, listel 3, torus 12 (r 6 centred 3 out), plinth 14 at 9: from the top down."""
    x = SHAFT
    return PathTarget(
        Path((x, 32.0))
        .arc((x + 3, 29.0), (x + 3, 32.0), "ccw")
        .line((x + 3, 26.0))
        .arc((x + 3, 14.0), (x + 3, 20.0), "cw")
        .line((x + 9, 14.0))
        .line((x + 9, 0.0))
    )


def doric_typed() -> PathTarget:
    """Conge r 2, fillet 2, bead 3 (r 1.5), torus 9 (r 4.5 centred 3.5 out), plinth 12 at 8."""
    x = SHAFT
    return PathTarget(
        Path((x, 28.0))
        .arc((x + 2, 26.0), (x + 2, 28.0), "ccw")
        .line((x + 2, 24.0))
        .arc((x + 2, 21.0), (x + 2, 22.5), "cw")
        .line((x + 3.5, 21.0))
        .arc((x + 3.5, 12.0), (x + 3.5, 16.5), "cw")
        .line((x + 8, 12.0))
        .line((x + 8, 0.0))
    )


def crown_typed() -> PathTarget:
    """A cyma recta 6 x 6 of two quadrants r 3 under a listel 3, projecting 6."""
    x = SHAFT
    return PathTarget(
        Path((x + 6, 9.0))
        .line((x + 6, 6.0))
        .arc((x + 3, 3.0), (x + 6, 3.0), "ccw")
        .arc((x, 0.0), (x, 3.0), "cw")
    )


def tuscan_members() -> MemberTarget:
    rows = (
        Member("conge", 3.0, -3.0),
        Member("fillet", 3.0),
        Member("torus", 12.0),
        Member("setback", projection=-6.0),
        Member("fillet", 14.0),
    )
    return MemberTarget(MemberColumn(rows, back=SHAFT))


def doric_members() -> MemberTarget:
    rows = (
        Member("conge", 2.0, -2.0),
        Member("fillet", 2.0),
        Member("bead", 3.0),
        Member("setback", projection=-1.5),
        Member("torus", 9.0),
        Member("setback", projection=-4.5),
        Member("fillet", 12.0),
    )
    return MemberTarget(MemberColumn(rows, back=SHAFT))


def crown_members() -> MemberTarget:
    rows = (Member("fillet", 3.0), Member("cyma-recta", 6.0, 6.0))
    return MemberTarget(MemberColumn(rows, back=SHAFT))


def area_in_front(target: Target, height: float) -> float:
    """Area of the wanted region in front of the shaft's face [parts2]."""
    blank = Blank(Rectangle(SHAFT + 9.0, height))
    return wanted_in(blank, target, CHORD).region.area - SHAFT * height


TUSCAN = 14 * 9 + (12 * 3 + math.pi * 6**2 / 2) + 3 * 3 + (1 - math.pi / 4) * 3**2
DORIC = (
    12 * 8
    + (9 * 3.5 + math.pi * 4.5**2 / 2)
    + (3 * 2 + math.pi * 1.5**2 / 2)
    + 2 * 2
    + (1 - math.pi / 4) * 2**2
)
CROWN = 3 * 6 + 6 * 6 / 2


def area_rows() -> tuple[Check, ...]:
    rows = []
    for word, where, height, arcs, area, printed, typed, members in (
        (
            "Tuscan base",
            f"{CYCLOPEDIA}, secs 40-41 (read)",
            32.0,
            6 * math.pi + 3 * math.pi / 2,
            TUSCAN,
            "229.480084",
            tuscan_typed,
            tuscan_members,
        ),
        (
            "Doric base",
            f"{CYCLOPEDIA}, sec. 54 (read; conge and fillet by analogy)",
            28.0,
            6 * math.pi + math.pi,
            DORIC,
            "173.701325",
            doric_typed,
            doric_members,
        ),
        (
            "Doric crowning pair",
            f"{CYCLOPEDIA}, sec. 54 (read); a cyma halves its box",
            9.0,
            3 * math.pi,
            CROWN,
            "36",
            crown_typed,
            crown_members,
        ),
    ):
        for how, target in (("typed as a path", typed), ("built of members", members)):
            rows.append(
                Check(
                    "Classical sections, in parts", f"{word} {how}: area before the shaft",
                    "parts2", where + "; area", "computed", area,
                    lambda target=target, height=height: area_in_front(target(), height),
                    arc_area_slack(arcs), "2/3 x chord error x arc length", printed,
                )
            )  # fmt: skip
    return tuple(rows)


def arcs_of(member: Member) -> list[Arc]:
    return [piece for piece in member.trace().segments if isinstance(piece, Arc)]


def largest_radius_error(member: Member, radii: tuple[float, ...], degrees: float) -> float:
    """How far the member's arcs are from the wanted radii and sweep, whichever is worse."""
    arcs = arcs_of(member)
    assert len(arcs) == len(radii)
    off = [abs(arc.radius - radius) for arc, radius in zip(arcs, radii, strict=True)]
    swept = [abs(abs(math.degrees(arc.sweep)) - degrees) for arc in arcs]
    return max(*off, *swept)


def struck(
    what: str, source: str, member: Member, radii: tuple[float, ...], degrees: float
) -> Check:
    return Check(
        "How members are struck", f"{what}: error of radii [mm] and sweeps [deg]", "mm, deg",
        source, "read", 0.0, lambda: largest_radius_error(member, radii, degrees), 1e-9,
        "exact arcs: only rounding",
    )  # fmt: skip


def equal_arc() -> Member:
    """Level ends: the side along the end tangents (a) is the projection, b the height."""
    return Member("cyma-recta", 1.0, 1.5, "equal-arc")


REVERSE = "reverse curve, derived: R = (a^2 + b^2) / (4b), each arc asin(a / 2R)"

FLUTES, DIAMETER = 20, 100.0
FLUTE_CHORD = DIAMETER * math.sin(math.pi / FLUTES)


def fluted_ring() -> list[tuple[float, float]]:
    """A round shaft with twenty flutes by a core box whose arc in the wood is 60 degrees.

    An arc of 60 degrees has its chord for a radius; the ball's axis lies R cos 30 beyond the
    chord, the chord D/2 cos 9 from the shaft's axis.
    """
    nose = core_box(2 * FLUTE_CHORD, edge=60.0)
    centre = DIAMETER / 2 * math.cos(math.pi / FLUTES) + FLUTE_CHORD * math.cos(math.pi / 6)
    depth = DIAMETER / 2 - (centre - FLUTE_CHORD)
    done = cut(
        (nose, DIAMETER / 2, depth, {"setup": "flutes"}), blank=Blank(Round(DIAMETER)),
        setups=(Setup("flutes", 0.0, FLUTES),), chord=CHORD,
    )  # fmt: skip
    (ring,) = rings_of(done.section)
    return [(float(x), float(z)) for x, z in ring]


def arrises() -> list[tuple[float, float]]:
    """The shaft's points that lie on its outer circle: one between each two flutes."""
    middle = (DIAMETER / 2, DIAMETER / 2)
    ring = fluted_ring()
    far = [p for p in ring if math.dist(p, middle) > DIAMETER / 2 - 1e-3]
    kept: list[tuple[float, float]] = []
    for place in far:  # a crumb of the outer circle may be left between two cuts
        if all(math.dist(place, other) > 1.0 for other in kept):
            kept.append(place)
    return kept


def flute_width() -> float:
    """Width of a flute in shaft diameters: the distance of neighbouring arrises."""
    points = arrises()
    assert len(points) == FLUTES
    nearest = [min(math.dist(a, b) for b in points if b != a) for a in points]
    return sum(nearest) / len(nearest) / DIAMETER


def arris_angle() -> float:
    """Angle between the flutes' tangents at an arris, from points 0.5 mm away [deg].

    Each tangent is steeper than the chord of its flute to that point by half the angle that the
    chord spans in the flute's circle.
    """
    ring = fluted_ring()
    tip = max(ring, key=lambda p: p[0])  # the arris on the right, if one is there
    tip = min(arrises(), key=lambda p: math.dist(p, tip))
    at = min(range(len(ring)), key=lambda k: math.dist(ring[k], tip))
    sides = []
    for step in (1, -1):
        k = at
        while math.dist(ring[k % len(ring)], tip) < 0.5:
            k += step
        point = ring[k % len(ring)]
        bend = math.degrees(math.asin(math.dist(point, tip) / 2 / FLUTE_CHORD))
        sides.append((math.degrees(math.atan2(point[1] - tip[1], point[0] - tip[0])), bend))
    (first, bend_one), (second, bend_two) = sides
    between = abs(first - second) % 360.0
    between = min(between, 360.0 - between)
    return between - bend_one - bend_two


def fluted_area() -> float:
    return float(region_from_points(np.array(fluted_ring())).area)


WIDE = 84.0


def strip(spring: float) -> MemberColumn:
    """A plain slope that was W sin S out and W cos S high when installed, laid on its back."""
    lean = math.radians(spring)
    face = (Member("bevel", WIDE * math.cos(lean), WIDE * math.sin(lean)),)
    return MemberColumn(face, lie="sprung", spring=spring, back=18.0, bottom=0.0)


def strip_row(spring: float) -> Check:
    return Check(
        "Crown molding lying flat", f"width of a strip sprung at {spring:g} degrees", "mm",
        "projection = W sin S, drop = W cos S, S from the wall", "computed", WIDE,
        lambda: strip(spring).box()[0], 1e-9, "straight sides: only rounding",
    )  # fmt: skip


POLYGON = FLUTES * DIAMETER**2 / 8 * math.sin(math.tau / FLUTES)
SEGMENTS = FLUTES * FLUTE_CHORD**2 * (math.pi / 6 - math.sqrt(3) / 4)
WARE = "W. R. Ware, The American Vignola, p. 13"

CHECKS = (
    *area_rows(),
    struck("torus, astragal, bead: semicircle on an upright diameter", f"{POCKETBOOK}, fig. 5(a)",
           Member("torus", 12.0), (6.0,), 180.0),
    struck("cavetto: quarter circle", f"{POCKETBOOK}, fig. 5(b)",
           Member("cavetto", 9.0, 9.0), (9.0,), 90.0),
    struck("ovolo: quarter circle", f"{POCKETBOOK}, fig. 5(c)",
           Member("ovolo", 9.0, 9.0), (9.0,), 90.0),
    struck("ovolo 20 x 15: one arc, radius the height",
           "P. Nicholson, Mechanic's Companion, fig. 7", Member("ovolo", 20.0, 15.0), (20.0,),
           2 * math.degrees(math.asin(12.5 / 20.0))),
    struck("cavetto 20 x 15: one arc, radius the height",
           "P. Nicholson, Mechanic's Companion, fig. 7", Member("cavetto", 20.0, 15.0), (20.0,),
           2 * math.degrees(math.asin(12.5 / 20.0))),
    struck("conge 9 x 4: straight, then a quarter circle of the projection",
           'Edinburgh Encyclopaedia, "Mouldings"', Member("conge", 9.0, 4.0), (4.0,), 90.0),
    struck("cyma recta: two quarter circles", f"{POCKETBOOK}, fig. 5(d)",
           Member("cyma-recta", 12.0, 12.0, "quarter"), (6.0, 6.0), 90.0),
    struck("cyma reversa: two quarter circles", f"{POCKETBOOK}, fig. 5(e)",
           Member("cyma-reversa", 12.0, 12.0, "quarter"), (6.0, 6.0), 90.0),
    struck("flat cyma: two arcs of 60 degrees, radius half the chord",
           "P. Nicholson, Mechanic's Companion, fig. 11; R. G. Hatfield, The American House "
           "Carpenter, figs 220-221",
           Member("cyma-recta", 12.0, 16.0, "flat"), (10.0, 10.0), 60.0),
    struck("scotia: quadrants of h/3 above and 2h/3 below",
           "P. Nicholson, Mechanic's Companion, fig. 9", Member("scotia", 18.0), (6.0, 12.0), 90.0),
    Check("How members are struck", "equal-arc ogee 1.5 x 1: radius", "in", REVERSE, "computed",
          (1.5**2 + 1.0**2) / 4.0, lambda: arcs_of(equal_arc())[0].radius, 1e-9,
          "exact arcs: only rounding", "0.8125"),
    Check("How members are struck", "equal-arc ogee 1.5 x 1: sweep of each arc", "deg", REVERSE,
          "computed", math.degrees(math.asin(1.5 / (2 * 0.8125))),
          lambda: abs(math.degrees(arcs_of(equal_arc())[1].sweep)), 1e-9,
          "exact arcs: only rounding", "67.3801351"),
    strip_row(38.0),
    strip_row(45.0),
    Check("Doric shaft, twenty flutes of 60 degrees", "width of a flute in diameters", "D",
          f"{WARE} (read: 0.157); chord D sin 9 degrees", "computed", math.sin(math.pi / FLUTES),
          flute_width, 1e-6, "chord error and a crumb of the outer circle", "0.156434"),
    Check("Doric shaft, twenty flutes of 60 degrees", "angle of the arrises", "deg",
          f"{WARE}", "read", 102.0, arris_angle, 0.02,
          "chord errors over the half millimetre that the tangent is taken from: "
          "2 atan(2 x 0.00001 / 0.5) twice, and a crumb of the outer circle"),
    Check("Doric shaft, twenty flutes of 60 degrees", "section area, D 100 mm", "mm2",
          "twenty-sided polygon less twenty segments of 60 degrees", "computed",
          POLYGON - SEGMENTS, fluted_area,
          arc_area_slack(FLUTES * FLUTE_CHORD * math.pi / 3), "2/3 x chord error x arc length"),
)  # fmt: skip

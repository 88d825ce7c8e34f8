"""What the two cymas share: a double curve, hollow and round, tangent in the middle."""

from __future__ import annotations

import math

from profilestack.errors import Problem
from profilestack.geometry.path import Path, Point, Turn
from profilestack.targets.conic import arcs_of_parabola
from profilestack.targets.member_shapes.base import (
    Measures,
    arc_between,
    same_length,
    upside_down,
)
from profilestack.targets.member_shapes.quadrant import reach_problems

VARIANTS = ("quarter", "flat", "equal-arc", "grecian")


def variant_of(given: Measures) -> str:
    """The variant given; without one two quarters where they fit, else the flat one."""
    if given.variant is not None:
        return given.variant
    return "quarter" if same_length(given.tall, abs(given.out)) else "flat"


def cyma_problems(given: Measures) -> list[Problem]:
    """Two quarter circles need equal height and projection."""
    if found := reach_problems(given):
        return found
    if variant_of(given) != "quarter" or same_length(given.tall, abs(given.out)):
        return []
    text = f'"quarter" needs equal height and projection, not {given.tall:g} and {given.out:g}'
    return [Problem("variant", text, "flat, equal-arc or grecian")]


def double_curve(given: Measures, first: Turn) -> Path:
    """The face; ``first`` is the turn of the upper curve: "ccw" hollow, "cw" round.

    - quarter: two quarter circles of half the height.
    - flat: on the chord's halves equilateral triangles, so two arcs of 60 degrees whose radius is
      half the chord (P. Nicholson, Mechanic's Companion, fig. 11; R. G. Hatfield, The American
      House Carpenter, figs 220-221; read).
    - equal-arc: two equal arcs, the ends level (recta) or upright (reversa): with a the side of
      the box along the end tangents and b the other, R = (a^2 + b^2) / (4 b), each arc
      2 atan(b / a) (the reverse curve; derived). Above 90 degrees (b > a) it hangs over.
    - grecian: two parabolas, each drawn in its quarter of the box, see
      :func:`profilestack.targets.conic.arcs_of_parabola`.
    """
    out, tall = abs(given.out), given.tall
    start, middle, end = (0.0, 0.0), (-out / 2.0, -tall / 2.0), (-out, -tall)
    second: Turn = "cw" if first == "ccw" else "ccw"
    if variant_of(given) == "grecian":
        one, two = corners(given, first)
        path = arcs_of_parabola(start, one, middle).path
        path = path.joined(arcs_of_parabola(middle, two, end).path)
    else:
        radius = _radius(given, first)
        path = arc_between(start, middle, radius, first)
        path = path.joined(arc_between(middle, end, radius, second))
    return path if given.out > 0.0 else upside_down(path)


def corners(given: Measures, first: Turn) -> tuple[Point, Point]:
    """Where the end tangents of the upper and of the lower curve meet [mm]."""
    out, tall = abs(given.out), given.tall
    if first == "ccw":  # level, upright, level
        return ((-out / 2.0, 0.0), (-out / 2.0, -tall))
    return ((0.0, -tall / 2.0), (-out, -tall / 2.0))


def deviation_of(given: Measures, first: Turn) -> float:
    """How far the arcs leave the curve that they stand for [mm]; 0 where they are the curve."""
    if variant_of(given) != "grecian":
        return 0.0
    out, tall = abs(given.out), given.tall
    one, _ = corners(given, first)
    return arcs_of_parabola((0.0, 0.0), one, (-out / 2.0, -tall / 2.0)).deviation


def _radius(given: Measures, first: Turn) -> float:
    out, tall = abs(given.out), given.tall
    if variant_of(given) == "flat":
        return math.hypot(out, tall) / 2.0
    along, across = (out, tall) if first == "ccw" else (tall, out)
    return (along**2 + across**2) / (4.0 * across)

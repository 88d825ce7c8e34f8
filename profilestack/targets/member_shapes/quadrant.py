"""What ovolo and cavetto share: one curve, convex or concave."""

from __future__ import annotations

import math

from profilestack.errors import Problem
from profilestack.geometry.path import Path, Turn
from profilestack.targets.conic import ParabolaArcs, arcs_of_parabola
from profilestack.targets.member_shapes.base import Measures, arc_between, upside_down

VARIANTS = ("quarter", "flat", "grecian")


def quadrant(given: Measures, turn: Turn) -> Path:
    """One arc between the ends, struck as Nicholson strikes it.

    The radius is the larger of height and projection, and the centre is where the arcs of that
    radius struck from both ends meet; for equal ones that is a quarter circle (P. Nicholson,
    Mechanic's Companion, fig. 7, read: there the height is the larger; for a projection larger
    than the height the same is done with the projection, our own reading).
    """
    return _one_arc(given, max(given.tall, abs(given.out)), turn)


def flat_arc(given: Measures, turn: Turn) -> Path:
    """An arc of 60 degrees: the centre is the tip of the equilateral triangle on the chord.

    The construction of the flat cyma's halves (Nicholson, fig. 11; Hatfield, figs 220-221; read)
    used for one curve.
    """
    return _one_arc(given, math.hypot(given.tall, given.out), turn)


def conic_arc(given: Measures, turn: Turn) -> ParabolaArcs:
    """A Grecian curve: a parabola from one end of the corner's two sides to the other.

    The convex one is upright above and level below, the concave one level above and upright
    below, as the quarter circles are.
    """
    out, tall = abs(given.out), given.tall
    corner = (0.0, -tall) if turn == "cw" else (-out, 0.0)
    return arcs_of_parabola((0.0, 0.0), corner, (-out, -tall))


def curve(given: Measures, turn: Turn) -> Path:
    """The curve in the variant given; without one the quarter."""
    if given.variant == "flat":
        return flat_arc(given, turn)
    if given.variant == "grecian":
        path = conic_arc(given, turn).path
        return path if given.out > 0.0 else upside_down(path)
    return quadrant(given, turn)


def curve_deviation(given: Measures, turn: Turn) -> float:
    """How far the arcs leave the curve that they stand for [mm]."""
    return conic_arc(given, turn).deviation if given.variant == "grecian" else 0.0


def reach_problems(given: Measures) -> list[Problem]:
    """One curve needs both a height and a projection."""
    if given.out == 0.0:
        return [Problem("projection", "0 leaves no curve", "a length above or below 0")]
    larger, smaller = max(given.tall, abs(given.out)), min(given.tall, abs(given.out))
    if smaller / larger < 1e-3:
        key = "height" if given.tall < abs(given.out) else "projection"
        return [Problem(key, f"{smaller!r} is a thousandth of the other", "a curve that shows")]
    return []


def _one_arc(given: Measures, radius: float, turn: Turn) -> Path:
    out = abs(given.out)
    path = arc_between((0.0, 0.0), (-out, -given.tall), radius, turn)
    return path if given.out > 0.0 else upside_down(path)

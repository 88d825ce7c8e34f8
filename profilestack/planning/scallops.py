"""Cusps between parallel rows of a ball nose, and how far apart rows may be for a cusp.

All lengths in mm. On a flat: h = R - sqrt(R^2 - (s/2)^2), s = 2 sqrt(2Rh - h^2) (E. Weisstein,
*CRC Concise Encyclopedia of Mathematics*, "Segment", eqs (1)-(9)). On an arc of radius rho the
ball's centres lie at rho + R (convex) or rho - R (concave) from the arc's centre, and the cusp on
the line half way between them (derived).
"""

from __future__ import annotations

import math


def cusp_on_flat(radius: float, step: float) -> float:
    """Height between rows ``step`` apart on a flat; the ball's radius where it is too wide."""
    half = min(step / 2.0, radius)
    return radius - math.sqrt(radius**2 - half**2)


def step_on_flat(radius: float, cusp: float) -> float:
    """How far apart rows lie on a flat for a cusp, at most the ball's diameter."""
    high = min(cusp, radius)
    return 2.0 * math.sqrt(2.0 * radius * high - high**2)


def cusp_on_slope(radius: float, level_step: float, slope: float) -> float:
    """Height, square to a plane inclined by ``slope`` [deg], between rows a level step apart."""
    return cusp_on_flat(radius, level_step / math.cos(math.radians(slope)))


def cusp_on_arc(radius: float, step: float, arc: float, convex: bool) -> float:
    """Height between rows ``step`` apart along an arc of radius ``arc``.

    Convex: (rho+R) cos b - sqrt(R^2 - ((rho+R) sin b)^2) - rho; concave: rho - (rho-R) cos b -
    sqrt(R^2 - ((rho-R) sin b)^2); b = s / (2 rho).
    """
    half = step / (2.0 * arc)
    if convex:
        reach = arc + radius
        off = min(radius, reach * math.sin(half))
        return reach * math.cos(half) - math.sqrt(radius**2 - off**2) - arc
    reach = arc - radius
    off = min(radius, reach * math.sin(half))
    return arc - reach * math.cos(half) - math.sqrt(radius**2 - off**2)


def step_on_arc(radius: float, cusp: float, arc: float, convex: bool) -> float:
    """How far apart rows lie along an arc for a cusp; infinite where the ball fills the arc.

    From the triangle of the arc's centre, a ball's centre (at d) and the cusp (at e): cos b =
    (d^2 + e^2 - R^2) / (2 d e).
    """
    if not convex and radius >= arc - 1e-9:
        return math.inf
    high = min(cusp, radius)
    centre = arc + radius if convex else arc - radius
    top = arc + high if convex else arc - high
    cosine = (centre**2 + top**2 - radius**2) / (2.0 * centre * top)
    return 2.0 * arc * math.acos(max(-1.0, min(1.0, cosine)))


def rows_over(length: float, step: float) -> int:
    """Rows of a finishing pass over a developed length: ceil(length / step)."""
    return max(1, math.ceil(length / step - 1e-9))


def row_minutes(length: float, feed: float, acceleration: float, step: float) -> float:
    """One row there, and the turn to the next [min].

    ``feed`` [mm/min], ``acceleration`` [mm/s2]: starting and stopping cost v/a of time beyond
    length / v, and the step across starts and stops as well.
    """
    speed = feed / 60.0
    across = 2.0 * math.sqrt(step / acceleration)
    if step > speed**2 / acceleration:
        across = step / speed + speed / acceleration
    return (length / speed + speed / acceleration + across) / 60.0

"""Rows of a 3D ball-nose pass: cusp, step, number, minutes, and the ratio to profile passes."""

from __future__ import annotations

import math

import numpy as np

from profilestack.planning.facing import left_in_corner
from profilestack.planning.scallops import (
    cusp_on_arc,
    cusp_on_flat,
    cusp_on_slope,
    row_minutes,
    rows_over,
    step_on_arc,
    step_on_flat,
)
from profilestack.planning.shop import Shop
from tests.validation.check import Check

TOPIC = "Rows of a ball nose"
CHORD = 'E. Weisstein, CRC Concise Encyclopedia of Mathematics, "Segment", eqs (1)-(9)'
ROWS = "N = ceil(developed length / s), minutes = N x length / feed"
SAMPLED = "the envelope of three balls sampled 400,000 times"
DERIVED = "b = s / (2 rho), from the triangle of both centres and the cusp (derived)"
CORNER = "a circle in a right corner touches both sides: R (sqrt 2 - 1), (1 - pi/4) R^2"

ENDLESS = 1e30
"""An acceleration that costs no time [mm/s2]."""


def sampled_cusp(radius: float, step: float, arc: float, convex: bool) -> float:
    """The highest place of the floor between two balls on an arc, without any formula.

    The floor is what rows at -step, 0 and +step leave: its distance beyond the arc is looked for
    along rays of the arc's centre.
    """
    reach = arc + radius if convex else arc - radius
    turns = np.array([-1.0, 0.0, 1.0]) * step / arc
    centres = reach * np.column_stack((np.sin(turns), np.cos(turns)))
    rays = np.linspace(0.0, step / arc, 400_001)
    ways = np.column_stack((np.sin(rays), np.cos(rays)))
    along = ways @ centres.T
    off2 = reach**2 - along**2
    half = np.sqrt(np.maximum(radius**2 - off2, 0.0))
    if convex:  # wood inside the arc: a ball takes from along - half on
        floor = np.where(off2 <= radius**2, along - half, np.inf).min(axis=1)
        return float(floor.max() - arc)
    floor = np.where(off2 <= radius**2, along + half, -np.inf).max(axis=1)
    return float(arc - floor.min())


def sampled_slope(radius: float, step: float, slope: float) -> float:
    """The same on a plane inclined by ``slope`` [deg], rows a level ``step`` apart."""
    tilt = math.radians(slope)
    level = np.array([-step, 0.0, step])
    centres = np.column_stack(
        (level - radius * math.sin(tilt), level * math.tan(tilt) + radius * math.cos(tilt))
    )
    along = np.linspace(0.0, step / math.cos(tilt), 400_001)
    feet = np.column_stack((along * math.cos(tilt), along * math.sin(tilt)))
    normal = np.array((-math.sin(tilt), math.cos(tilt)))
    gaps = centres[None, :, :] - feet[:, None, :]
    up = gaps @ normal
    off2 = (gaps**2).sum(axis=2) - up**2
    floor = np.where(off2 <= radius**2, up - np.sqrt(np.maximum(radius**2 - off2, 0.0)), np.inf)
    return float(floor.min(axis=1).max())


def ball_minutes() -> float:
    """The example's finishing pass [min]."""
    rows = rows_over(100.0, step_on_flat(3.175, 0.05))
    return rows * row_minutes(2400.0, 3000.0, ENDLESS, 0.0)


def profile_minutes() -> float:
    """Six profile passes at the same feed, without return."""
    return 6 * Shop(back=0.0).pass_minutes(2400.0, 3000.0)


def flat_rows() -> tuple[Check, ...]:
    cases = ((3.175, 0.5, "0.0098578231"), (3.0, 0.5, "0.0104348142"), (12.7, 6.35, "0.403277876"))
    steps = ((3.175, 0.05, "1.12249722"), (6.35, 0.05, "1.59059737"))
    return (
        *(
            Check(TOPIC, f"R {r:g}, rows {s:g} apart: cusp", "mm", CHORD, "computed",
                  r - math.sqrt(r**2 - (s / 2) ** 2), lambda r=r, s=s: cusp_on_flat(r, s),
                  1e-12, "only rounding", printed)
            for r, s, printed in cases
        ),
        *(
            Check(TOPIC, f"R {r:g}, cusp {h:g}: rows apart", "mm", CHORD, "computed",
                  2 * math.sqrt(2 * r * h - h**2), lambda r=r, h=h: step_on_flat(r, h),
                  1e-12, "only rounding", printed)
            for r, h, printed in steps
        ),
    )  # fmt: skip


def sampled_rows() -> tuple[Check, ...]:
    arcs = ((3.175, 1.2, 12.7, True), (3.175, 1.2, 12.7, False), (6.35, 3.0, 20.0, True),
            (6.35, 3.0, 9.0, False))  # fmt: skip
    rows = [
        Check(TOPIC, f"R {r:g}, rows {s:g} apart on a {'round' if out else 'hollow'} of {rho:g}",
              "mm", f"{SAMPLED}; {DERIVED}", "computed", sampled_cusp(r, s, rho, out),
              lambda r=r, s=s, rho=rho, out=out: cusp_on_arc(r, s, rho, out), 1e-9,
              "the sampling's step")
        for r, s, rho, out in arcs
    ]  # fmt: skip
    rows += [
        Check(TOPIC, f"R {r:g}, rows a level {s:g} apart at {phi:g} degrees", "mm", SAMPLED,
              "computed", sampled_slope(r, s, phi),
              lambda r=r, s=s, phi=phi: cusp_on_slope(r, s, phi), 1e-9, "the sampling's step")
        for r, s, phi in ((3.175, 0.8, 30.0), (3.175, 0.8, 60.0))
    ]  # fmt: skip
    rows += [
        Check(TOPIC, f"R {r:g}, {'round' if out else 'hollow'} of {rho:g}: step for a cusp, back",
              "mm", DERIVED, "computed", 0.05,
              lambda r=r, rho=rho, out=out: cusp_on_arc(
                  r, step_on_arc(r, 0.05, rho, out), rho, out),
              1e-12, "only rounding")
        for r, rho, out in ((3.175, 12.7, True), (3.175, 12.7, False))
    ]  # fmt: skip
    return tuple(rows)


CHECKS = (
    *flat_rows(),
    *sampled_rows(),
    Check(TOPIC, "100 mm developed, R 3.175, cusp 0.05: rows", "", ROWS, "computed",
          math.ceil(100.0 / (2 * math.sqrt(2 * 3.175 * 0.05 - 0.05**2))),
          lambda: float(rows_over(100.0, step_on_flat(3.175, 0.05))), 0.0, "a count", "90"),
    Check(TOPIC, "the same on 2400 mm at 3000 mm/min", "min", ROWS, "computed",
          90 * 2400.0 / 3000.0, ball_minutes, 1e-9, "only rounding", "72.0"),
    Check(TOPIC, "six profile passes at the same feed", "min", ROWS, "computed",
          6 * 2400.0 / 3000.0, profile_minutes, 1e-9, "only rounding", "4.8"),
    Check(TOPIC, "ratio, without air moves and tool changes", "", ROWS, "computed", 15.0,
          lambda: ball_minutes() / profile_minutes(), 1e-9, "only rounding", "15.0"),
    Check(TOPIC, "R 3.175 in a square corner: how far short", "mm", CORNER, "computed",
          3.175 * (math.sqrt(2.0) - 1.0), lambda: left_in_corner(3.175, math.pi / 2)[0],
          1e-12, "only rounding"),
    Check(TOPIC, "R 3.175 in a square corner: area left", "mm2", CORNER, "computed",
          (1.0 - math.pi / 4.0) * 3.175**2, lambda: left_in_corner(3.175, math.pi / 2)[1],
          1e-12, "only rounding"),
)  # fmt: skip

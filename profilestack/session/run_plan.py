"""The run seen in plan: the part's outline and the line along it, for a small drawing."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.geometry.path import Path, Point
from profilestack.session.piece_edits import blank_box
from profilestack.stack import CurvedRun, Stack, StraightRun

WHOLE = 360.0


@dataclass(frozen=True, slots=True)
class RunPlan:
    """Closed outlines [mm] of the part from above, and its axis where it has one.

    A turned part lies across, its axis along x.
    """

    outlines: tuple[Path, ...]
    axis: Path | None = None


def run_plan(stack: Stack) -> RunPlan:
    """The part as it is seen from above; a curved one bows upward about (0, 0)."""
    width, height = blank_box(stack.blank)
    run = stack.run
    if isinstance(run, StraightRun):
        return RunPlan((_rectangle((0.0, 0.0), (run.length, width)),))
    if isinstance(run, CurvedRun):
        return RunPlan(_sector(run.radius, run.radius + width, run.angle))
    middle = Path((-0.08 * width, 0.0)).line((1.08 * width, 0.0))
    return RunPlan((_rectangle((0.0, -height), (width, height)),), middle)


def _rectangle(low: Point, high: Point) -> Path:
    (left, bottom), (right, top) = low, high
    return Path(low).line((right, bottom)).line(high).line((left, top)).line(low)


def _sector(inner: float, outer: float, angle: float) -> tuple[Path, ...]:
    """A ring's part of so many degrees, symmetric about the upward direction."""
    if angle >= WHOLE:
        return tuple(
            Path((0.0, radius)).arc((0.0, radius), center=(0.0, 0.0), turn="ccw")
            for radius in (inner, outer)
        )
    half = math.radians(angle) / 2.0

    def at(radius: float, turned: float) -> Point:
        return (radius * math.sin(turned), radius * math.cos(turned))

    return (
        Path(at(inner, -half))
        .arc(at(inner, half), center=(0.0, 0.0), turn="cw")
        .line(at(outer, half))
        .arc(at(outer, -half), center=(0.0, 0.0), turn="ccw")
        .line(at(inner, -half)),
    )

"""The stays of the blank: a setup with its steps, the wood before and after, as it lies."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.edge import largest_radius
from profilestack.cutting.stroke import Lie
from profilestack.planning.machine import Machine
from profilestack.planning.plan import Plan, Step
from profilestack.stack import TurnedRun

KEEP_OFF = 5.0
"""Clamps keep so far from bit and nut [mm] (judgement)."""


@dataclass(frozen=True, slots=True, eq=False)
class Lying:
    """One stay of the blank in a setup: its steps, the wood before and after, on the bench [mm]."""

    plan: Plan
    steps: tuple[Step, ...]
    lie: Lie
    blank: BaseGeometry
    before: BaseGeometry
    after: BaseGeometry

    @property
    def turned(self) -> bool:
        """Whether the part turns about the picture's bottom side."""
        return isinstance(self.plan.stack.run, TurnedRun)

    @property
    def below(self) -> bool:
        """Whether the spindle stands below."""
        return self.plan.shop.machine.spindle_below and not self.turned


def stays_of(plan: Plan) -> list[Lying]:
    """The stays of the blank in its setups, in order: one page each."""
    groups: list[list[Step]] = []
    for step in plan.steps:
        if not groups or groups[-1][-1].setup != step.setup:
            groups.append([])
        groups[-1].append(step)
    stays = []
    for steps in groups:
        first = plan.cut.passes[steps[0].number - 1]
        last = plan.cut.passes[steps[-1].number - 1]
        lie = plan.cut.strokes[first.first].lie
        laid = [
            shapely.transform(region, lie.to_bench)
            for region in (
                plan.cut.sections[0], plan.cut.sections[first.first], plan.cut.sections[last.last],
            )
        ]  # fmt: skip
        stays.append(Lying(plan, tuple(steps), lie, laid[0], laid[1], laid[2]))
    return stays


def axes_of(stay: Lying) -> list[tuple[int, float]]:
    """Number and place across [mm] of every pass; of repeats the first and the last."""
    found = []
    for step in stay.steps:
        if step.place == 1:
            found.append((step.pass_number, step.offset))
            if step.count > 1:
                found.append((step.pass_number, step.offset + (step.count - 1) * step.pitch))
    return found


def no_clamp_zones(stay: Lying) -> list[tuple[float, float]]:
    """Stretches across the blank [mm] over which bit or nut pass: no clamp may stand there."""
    machine: Machine = stay.plan.shop.machine
    zones = []
    for step in stay.steps:
        half = max(largest_radius(step.bit), machine.nut_diameter / 2.0) + KEEP_OFF
        for k in range(step.count):
            axis = step.offset + k * step.pitch
            zones.append((max(0.0, axis - half), min(stay.lie.width, axis + half)))
    merged: list[tuple[float, float]] = []
    for low, high in sorted(zone for zone in zones if zone[0] < zone[1]):
        if merged and low <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], high))
        else:
            merged.append((low, high))
    return merged

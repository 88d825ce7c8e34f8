"""Ways of making one molding side by side: stacked bits, ball nose, made-to-order cutter, hybrid.

What lies hidden from above (undercut sides, grooves of the back) is made as in the stacked way in
all of them, so that like is compared with like.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from profilestack.bits.bit import Bit
from profilestack.cutting.comparison import Comparison
from profilestack.cutting.wanted import Wanted
from profilestack.errors import InputError, Problem
from profilestack.planning.ball_nose import (
    BallRows,
    Roughing,
    chosen_ball,
    roughing_of,
    rows_of,
)
from profilestack.planning.facing import Facing, facing_of
from profilestack.planning.made_to_order import Cutter, cutter_for
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.plan import Plan, Step
from profilestack.planning.shop import Shop
from profilestack.planning.work import Work

LEAST_CUSP = 0.05
"""A finer cusp is not asked for [mm], unless it is given."""

MAKES = 4
"""A step makes hidden wood when so many hidden points lie nearest to its edge."""


@dataclass(frozen=True, slots=True, eq=False)
class Method:
    """One way: its work, the ridge that it leaves [mm], days to wait; why not, where it cannot be.

    ``name`` is that of the JSON.
    """

    name: str
    work: Work
    ridge_max: float
    wait: float = 0.0
    trouble: str = ""
    ball: BallRows | None = None
    roughing: Roughing | None = None
    cutter: Cutter | None = None

    @property
    def is_possible(self) -> bool:
        """Whether it can be done at all."""
        return not self.trouble


@dataclass(frozen=True, slots=True)
class Means:
    """What the shop has for the other ways: bits to choose from; the cusp where one was given.

    ``stretches`` are places along the target [mm], from and to, that no bit reaches.
    """

    bits: tuple[Bit, ...]
    cusp: float | None = None
    stretches: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class Methods:
    """All ways of one planned stack, the stacked one first."""

    plan: Plan
    facing: Facing
    kept: tuple[Step, ...]
    means: Means
    cusp: float
    methods: tuple[Method, ...]

    def method(self, name: str) -> Method | None:
        """The way of that name that can be done."""
        return next((m for m in self.methods if m.name == name and m.is_possible), None)


def compare_methods(
    plan: Plan, comparison: Comparison | None, wanted: Wanted | None, means: Means
) -> Methods:
    """Work out every way for a planned stack.

    Raises:
        InputError: a stack without a target, a cusp that is none.
    """
    if comparison is None or wanted is None:
        text = "the stack has no wanted profile"
        raise InputError(Problem("target", text, "a [target], that other ways could make too"))
    if means.cusp is not None and not 1e-4 <= means.cusp <= 10.0:
        text = f"{means.cusp:g} mm is impossible"
        raise InputError(Problem("cusp", text, "0.0001 to 10 mm"))
    facing = facing_of(plan.document.blank, wanted)
    kept = kept_steps(plan, facing)
    # what the stack leaves, but no more than it may: the rest is what it does not make
    left = min(comparison.leftover.max, plan.document.tolerance.leftover)
    cusp = means.cusp if means.cusp is not None else max(left, LEAST_CUSP)
    stacked = stacked_method(plan, comparison)
    found = [
        stacked,
        ball_method(plan, facing, kept, means.bits, cusp),
        cutter_method(plan, facing, kept),
    ]
    if means.stretches:
        found.append(_hybrid(plan, stacked, comparison, wanted, means, cusp))
    return Methods(plan, facing, kept, means, cusp, tuple(found))


def stacked_method(plan: Plan, comparison: Comparison) -> Method:
    """The plan itself."""
    rough, fine = minutes_each(plan, plan.steps)
    sanding = plan.minutes.sanding / plan.stack.run.pieces
    work = Work(runs_of(plan.steps), plan.setups, rough, fine, sanding)
    return Method("stacked", work, comparison.leftover.max)


def ball_method(
    plan: Plan,
    facing: Facing,
    kept: Sequence[Step],
    bits: Sequence[Bit],
    cusp: float,
    ball: Bit | None = None,
) -> Method:
    """Ball rows over all that is seen from above, after roughing out with a straight bit."""
    shop, species, stack = plan.shop, plan.species, plan.stack
    nothing = Work(0, (), 0.0, 0.0, 0.0)
    if facing.developed == 0.0:
        return Method("ball-nose", nothing, cusp, trouble="nothing is to be cut from above")
    ball = ball or chosen_ball(facing, bits)
    if ball is None:
        trouble = "no ball at hand is small enough for the hollows and reaches deep enough"
        return Method("ball-nose", nothing, cusp, trouble=trouble)
    rows = rows_of(facing, ball, cusp, stack, shop, species)
    roughing = roughing_of(facing, bits, stack, shop, species)
    rough, fine = minutes_each(plan, kept)
    work = Work(
        runs=runs_of(kept) + 1 + (roughing is not None),
        setups=_setups_with(kept),
        roughing=rough + (roughing.minutes if roughing else 0.0),
        finishing=fine + rows.minutes,
        sanding=_sanding(plan, rows.ridge_area),
    )
    return Method("ball-nose", work, cusp, ball=rows, roughing=roughing)


def cutter_method(plan: Plan, facing: Facing, kept: Sequence[Step]) -> Method:
    """A cutter made to order, in its own steps."""
    area = stock_over(plan, facing)
    cutter = cutter_for(facing, plan.stack, plan.shop, plan.species, area)
    trouble = cutter.trouble
    if not trouble and facing.developed == 0.0:
        trouble = "nothing is to be cut from above"
    rough, fine = minutes_each(plan, kept)
    work = Work(
        runs=runs_of(kept) + 1,
        setups=_setups_with(kept),
        roughing=rough,
        finishing=fine + cutter.minutes,
        sanding=_sanding(plan, 0.0),
        once=cutter.setting,
        price=cutter.price,
    )
    return Method("made-to-order", work, 0.0, cutter.wait, trouble, cutter=cutter)


def _hybrid(
    plan: Plan,
    stacked: Method,
    comparison: Comparison,
    wanted: Wanted,
    means: Means,
    cusp: float,
) -> Method:
    """Stacked bits, and ball rows for what no bit makes."""
    shop, species, stack = plan.shop, plan.species, plan.stack
    rows: list[BallRows] = []
    left = comparison.leftover.area
    for stretch in means.stretches:
        facing = facing_of(stack.blank, wanted, stretch)
        ball = chosen_ball(facing, means.bits, corners_too=True)
        done = rows_of(facing, ball, cusp, stack, shop, species) if ball is not None else None
        if done is None or done.narrow > 0.5 * facing.developed:
            trouble = "no ball at hand gets into what the bits leave"
            return Method("hybrid", stacked.work, stacked.ridge_max, trouble=trouble)
        rows.append(done)
        near = shapely.buffer(shapely.linestrings(_between(wanted, stretch)), 2.0 * done.radius)
        gone = shapely.area(shapely.intersection(comparison.leftover_region, near))
        left -= float(gone) - done.ridge_area
    balls = {done.ball.id for done in rows}
    work = replace(
        stacked.work,
        runs=stacked.work.runs + len(balls),
        finishing=stacked.work.finishing + sum(done.minutes for done in rows),
        sanding=_sanding(plan, max(0.0, left)),
    )
    first = max(rows, key=lambda done: done.minutes)
    return Method("hybrid", work, cusp, ball=first)


def _between(wanted: Wanted, stretch: tuple[float, float]) -> np.ndarray:
    """The target between two places along it, (n, 2) [mm]."""
    places = np.linspace(stretch[0], max(stretch[1], stretch[0] + 0.01), 20)
    return np.column_stack(wanted.line.at(places))


def kept_steps(plan: Plan, facing: Facing) -> tuple[Step, ...]:
    """The steps that make what is hidden from above, and the roughing of their setups."""
    if len(facing.hidden_points) == 0 or not plan.steps:
        return ()
    cut = plan.cut
    edges = np.asarray(shapely.boundary([stroke.region for stroke in cut.strokes]))
    points = np.asarray(shapely.points(facing.hidden_points))
    nearest = np.argmin(shapely.distance(edges[:, None], points[None, :]), axis=0)
    makes = np.bincount(nearest, minlength=len(edges)) >= MAKES
    numbers = {stroke.number for stroke, made in zip(cut.strokes, makes, strict=True) if made}
    # strokes of the plan's cut are numbered by steps; all depths of a pass go together
    passes = {step.pass_number for step in plan.steps if step.number in numbers}
    setups = {step.setup for step in plan.steps if step.pass_number in passes}
    return tuple(
        step
        for step in plan.steps
        if step.pass_number in passes
        or (step.relief and step.setup in setups and not _looks_up(plan, step.setup))
    )


def _looks_up(plan: Plan, setup: str) -> bool:
    """Whether the face lies up in a setup, level or tipped."""
    angle = plan.stack.setup(setup).angle % 360.0
    return angle < 90.0 or angle > 270.0


def runs_of(steps: Sequence[Step]) -> int:
    """How often a bit is taken up for steps in their order."""
    keys = [(step.bit.id, step.setup) for step in steps]
    return sum(now != before for before, now in zip([None, *keys], keys, strict=False))


def minutes_each(
    plan: Plan, steps: Sequence[Step], rough: float = 1.0, fine: float = 1.0
) -> tuple[float, float]:
    """Minutes of roughing and of finishing a piece; feeds times a factor each."""
    pieces = plan.stack.run.pieces
    total = [0.0, 0.0]
    for step in steps:
        factor = fine if step.finishing else rough
        length = length_of_travel(plan.stack)
        if step.begin is not None or step.end is not None:
            length = (step.end if step.end is not None else length) - (step.begin or 0.0)
        more = step.travels * length / step.feed * (1.0 / factor - 1.0)
        total[step.finishing] += step.minutes / pieces + more
    return total[0], total[1]


def stock_over(plan: Plan, facing: Facing) -> float:
    """The area of stock over what is seen of a target from above [mm2]."""
    if len(facing.points) == 0:
        return 0.0
    x = np.sort(facing.points[:, 0])
    places = np.linspace(x[0], x[-1], 400)
    lowest = float(facing.points[:, 1].min())
    top = lowest + facing.depth
    open_above = top - np.clip(facing.skyline.over(places), lowest, top)
    return float(np.trapezoid(open_above, places))


def _setups_with(kept: Sequence[Step]) -> tuple[str, ...]:
    """The setups of kept steps, and the face, where balls and cutters work."""
    return tuple(dict.fromkeys([*(step.setup for step in kept), "face"]))


def _sanding(plan: Plan, area: float) -> float:
    """Minutes of sanding a piece that has so much leftover [mm2]."""
    shop: Shop = plan.shop
    return length_of_travel(plan.stack) / 1000.0 * (shop.sanding + shop.sanding_area * area)

"""Programs: what a machine can do in one go, from a plan's steps."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from profilestack.bits.bit import Bit
from profilestack.cutting.stroke import lie_of
from profilestack.errors import InputError, Problem
from profilestack.geometry.extent import box_of
from profilestack.geometry.path import Path
from profilestack.planning.machine import Machine
from profilestack.planning.plan import Plan, Step
from profilestack.planning.toolpath.moves import Bend, Move
from profilestack.planning.toolpath.travels import Room, step_moves
from profilestack.stack import Setup, TurnedRun
from profilestack.units import format_length


@dataclass(frozen=True, slots=True)
class Stage:
    """One step and its moves [mm]."""

    step: Step
    moves: tuple[Move, ...]


@dataclass(frozen=True, slots=True)
class Program:
    """What is cut without touching the blank: one setup, one bit or several.

    ``number`` counts the plan's programs from 1. ``width`` and ``height`` are of the blank's box
    as it lies, ``safe`` is the safe height above the bed, ``extra`` how far the wood may reach
    beyond each end of the part [mm]. ``rests`` says that the wood rests and is made flat again
    before it.
    """

    number: int
    setup: Setup
    width: float
    height: float
    safe: float
    extra: float
    rests: bool
    stages: tuple[Stage, ...]

    @property
    def bits(self) -> tuple[Bit, ...]:
        """The bits in the order they are first taken."""
        return tuple({stage.step.bit.id: stage.step.bit for stage in self.stages}.values())

    @property
    def moves(self) -> Iterator[Move]:
        """All moves."""
        return itertools.chain.from_iterable(stage.moves for stage in self.stages)


def programs_of(plan: Plan, *, per_bit: bool = False, extra: float = 0.0) -> tuple[Program, ...]:
    """The programs of a plan: one a setup, or one a bit where each shall have its own.

    ``extra`` is how far the wood reaches beyond each end of the part [mm]: bits start and stop
    beyond it.

    Raises:
        InputError: what the shop's machine cannot do, every reason.
    """
    machine, run = plan.shop.machine, plan.stack.run
    if machine.spindle_below:
        text = f"a {machine.called} runs no program"
        raise InputError(Problem("machine.kind", text, "a shop with a CNC router"))
    if isinstance(run, TurnedRun):
        text = "a turned part wants an axis that turns, and none of the words written does"
        raise InputError(Problem("run.kind", text, "a straight or curved run"))
    programs = []
    for number, (setup, rests, steps) in enumerate(_groups(plan, per_bit), 1):
        lie = lie_of(plan.stack.blank, setup.angle)
        room = Room(lie.height, lie.height + machine.safe_height, extra)
        stages = tuple(Stage(step, tuple(step_moves(step, run, room))) for step in steps)
        programs.append(
            Program(number, setup, lie.width, lie.height, room.safe, extra, rests, stages)
        )
    if problems := [problem for each in programs for problem in _outside(each, machine)]:
        raise InputError(problems)
    return tuple(programs)


def _groups(plan: Plan, per_bit: bool) -> Iterator[tuple[Setup, bool, list[Step]]]:
    """Steps that follow each other in one setup, and with one bit where each has its own."""
    rests = {rest.before_step for rest in plan.rests}
    group: list[Step] = []
    begins_rested = False
    for step in plan.steps:
        new = group and (
            step.setup != group[-1].setup
            or step.number in rests
            or (per_bit and step.bit.id != group[-1].bit.id)
        )
        if new:
            yield plan.stack.setup(group[0].setup), begins_rested, group
            group, begins_rested = [], step.number in rests
        group.append(step)
    if group:
        yield plan.stack.setup(group[0].setup), begins_rested, group


def reach_of(moves: Sequence[Move]) -> tuple[tuple[float, float], ...]:
    """Lowest and highest x, y and z of moves [mm]."""
    places, boxes = [move.to for move in moves], []
    for before, move in itertools.pairwise(moves):
        if isinstance(move, Bend):
            start, end = before.to[:2], move.to[:2]
            boxes.append(box_of(Path(start).arc(end, move.center, move.turn)))
    xs = [place[0] for place in places] + [x for box in boxes for x in (box.left, box.right)]
    ys = [place[1] for place in places] + [y for box in boxes for y in (box.bottom, box.top)]
    zs = [place[2] for place in places]
    return tuple((min(values), max(values)) for values in (xs, ys, zs))


def _outside(program: Program, machine: Machine) -> Iterator[Problem]:
    """What does not fit the machine's travels and the height under its gantry."""
    ways = reach_of(tuple(program.moves))
    axes = (("width", "across"), ("length", "along"), ("travel", "up and down"))
    for (key, word), (low, high) in zip(axes, ways, strict=True):
        has = getattr(machine, key)
        if high - low > has:
            needs = format_length(high - low, "mm")
            text = f"setup {program.setup.name!r} takes {needs} {word}, leads included"
            expected = f"at most {format_length(has, 'mm')}, what the machine has"
            yield Problem(f"machine.{key}", text, expected, "a shorter part, or another shop")
    if program.safe > machine.clearance:
        text = f"setup {program.setup.name!r} stands {format_length(program.height, 'mm')} high"
        most = format_length(machine.clearance - machine.safe_height, "mm")
        expected = f"at most {most} under the gantry, with the safe height above it"
        yield Problem("machine.clearance", text, expected, "a lower setup, or another shop")

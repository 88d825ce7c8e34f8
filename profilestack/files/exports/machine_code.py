"""Machine code in the open RS-274 words: one program of one setup.

Words (NIST RS274NGC report, from memory): G0 G1 G2 G3 moves, G17 plane, G20/G21 inches or mm, G54
work offset, G90 absolute, G94 feed a minute, M3 M5 spindle, M6 change, M2 end; F, S, T, X, Y, Z, I
and J carry their numbers. Nothing else is written: no canned cycles, no length offsets, no blocks
that a control might read in its own way.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from profilestack.bits.edge import largest_radius
from profilestack.cutting.caution import Caution
from profilestack.files.exports.layered import ascii_text
from profilestack.planning.plan import Plan, Step
from profilestack.planning.toolpath.moves import Bend, Move, Place, Rapid, lowered
from profilestack.planning.toolpath.programs import Program, reach_of
from profilestack.planning.toolpath.travels import LEAD
from profilestack.stack import CurvedRun, StraightRun
from profilestack.units import MILLIMETRES, format_length

Zero = Literal["bed", "face"]

LONGEST_LINE = 79
"""Characters of a line at most."""

DIGITS = {"mm": 4, "in": 5}
"""Decimals of coordinates."""

UNIT_CODE = {"mm": "G21", "in": "G20"}

SAFETY = (
    "Local rules, the makers' marked limits and a qualified operator come first.",
    "Look at every move on the screen, then cut air, then scrap.",
    "Check the rpm against the mark on each bit.",
)


@dataclass(frozen=True, slots=True)
class CodeWishes:
    """How code is written: numbers in ``units``; z counts up from the ``zero`` level.

    ``zero``: the bed (or carrier) under the blank, or the face on top of it as it lies.
    ``programs`` is how many the plan has.
    """

    units: str
    zero: Zero = "bed"
    programs: int = 1


def code_bytes(
    program: Program, plan: Plan, cautions: Sequence[Caution], wishes: CodeWishes
) -> bytes:
    """The program as a file of ASCII lines under 80 characters, without exponents."""
    level = program.height if wishes.zero == "face" else 0.0
    rows = [*_comments(_header(program, plan, cautions, wishes, level))]
    writer = _Writer(wishes.units)
    rows += [f"G17 {UNIT_CODE[wishes.units]} G90 G94 G54"]
    tools = {bit.id: number for number, bit in enumerate(program.bits, 1)}
    safe = program.safe - level
    # one bit is put in by hand before the program starts, unless the machine does that
    changes = len(tools) > 1 or plan.shop.machine.kind == "cnc-with-changer"
    held: str | None = None
    speed: float | None = None
    for stage in program.stages:
        step = stage.step
        rows += _comments([_about(step, plan, wishes.units)])
        if step.bit.id != held:
            # up first, so that nothing turns or is changed near the wood
            rows += ["M5", writer.up(safe)]
            if changes:
                # and up again: the touch-off of the new bit leaves it down at its zero
                rows += [f"T{tools[step.bit.id]} M6", writer.up(safe)]
            rows += _comments([f"T{tools[step.bit.id]} is in the spindle, z zero set with it"])
            held, speed = step.bit.id, None
        if step.rpm != speed:
            rows += [f"S{_whole(step.rpm)} M3"]
            speed = step.rpm
        rows += writer.rows(lowered(stage.moves, level))
    rows += ["M5", writer.up(safe), "M2", ""]
    text = "\n".join(row for row in rows if row or row is rows[-1])
    return text.encode("ascii")


class _Writer:
    """Moves as words; a coordinate or feed that stays as it is is not written again."""

    def __init__(self, units: str) -> None:
        self._unit = float(MILLIMETRES[units])
        self._digits = DIGITS[units]
        self._feed_digits = 0 if units == "mm" else 2
        self._here: list[str | None] = [None, None, None]
        self._feed: str | None = None

    def up(self, safe: float) -> str:
        """The quick move to the safe height, written even where the spindle stands there."""
        self._here[2] = self._number(safe)
        return f"G0 Z{self._here[2]}"

    def rows(self, moves: Iterable[Move]) -> Iterator[str]:
        """One line a move; none for one that goes nowhere."""
        for move in moves:
            before = list(self._here)
            words = self._words(move.to)
            if not words:
                continue
            if isinstance(move, Rapid):
                yield " ".join(["G0", *words])
                continue
            if isinstance(move, Bend):
                start = [float(word or 0.0) for word in before]
                # from the start as it is written, so that both radii agree to the last digit
                off = [
                    self._plain(center / self._unit - at)
                    for center, at in zip(move.center, start[:2], strict=True)
                ]
                words += [f"I{off[0]}", f"J{off[1]}"]
                code = "G2" if move.turn == "cw" else "G3"
            else:
                code = "G1"
            feed = f"{move.feed / self._unit:.{self._feed_digits}f}"
            if feed != self._feed:
                words.append(f"F{feed}")
                self._feed = feed
            yield " ".join([code, *words])

    def _words(self, to: Place) -> list[str]:
        found = []
        for axis, value in enumerate(to):
            text = self._number(value)
            if text != self._here[axis]:
                found.append(f"{'XYZ'[axis]}{text}")
                self._here[axis] = text
        return found

    def _number(self, mm: float) -> str:
        return self._plain(mm / self._unit)

    def _plain(self, value: float) -> str:
        text = f"{value:.{self._digits}f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text


def _header(
    program: Program, plan: Plan, cautions: Sequence[Caution], wishes: CodeWishes, level: float
) -> Iterator[str]:
    units, stack = wishes.units, plan.stack
    pieces = "1 piece" if stack.run.pieces == 1 else f"{stack.run.pieces} pieces"
    yield f"profilestack: {stack.title or 'untitled stack'}"
    yield f"program {program.number} of {wishes.programs}, for {pieces}"
    wood = f", {stack.blank.species}" if stack.blank.species else ""
    size = f"{_length(program.width, units)} x {_length(program.height, units)}"
    yield f"blank as it lies: {size} across x high, {_run_text(plan, units)}{wood}"
    yield f"setup {program.setup.name}: {_lie_text(program)}"
    if program.rests:
        yield "before this program: let the wood rest, make it flat again, zero anew"
        if wishes.zero == "bed":
            yield "what is planed off the side below: set z 0 lower than the bed by so much"
    if program.setup.copies > 1:
        turn = 360.0 / program.setup.copies
        yield (
            f"run it {program.setup.copies} times, the blank turned by {turn:g} degrees "
            "counter-clockwise about its middle between, seen from the left end"
        )
    yield (
        f"zero, G54: x 0 the left side of the blank, y 0 the part's left end, z 0 "
        f"{'the bed under it' if wishes.zero == 'bed' else 'the face on top of it'}"
    )
    yield _wood_text(program, units)
    if isinstance(stack.run, CurvedRun):
        yield "y runs along the bend where it begins; the bend goes to the left, toward -x"
    words = {"mm": "mm, feeds mm a minute", "in": "inches, feeds inches a minute"}
    yield f"units: {words[units]}"
    ways = reach_of(lowered(program.moves, level))
    for axis, (low, high) in zip("xyz", ways, strict=True):
        yield f"moves in {axis}: {_length(low, units)} to {_length(high, units)}"
    speeds = {stage.step.bit.id: stage.step.rpm for stage in program.stages}
    for number, bit in enumerate(program.bits, 1):
        diameter = _length(2.0 * largest_radius(bit), units)
        name = bit.id if bit.name == bit.id else f"{bit.id}, {bit.name}"
        yield f"T{number}: {name}, diameter {diameter}, {_whole(speeds[bit.id])} rpm"
    yield "no length offsets are written: set z zero anew with each bit"
    if plan.through == "each bit" and len(program.bits) > 1:
        yield "the plan takes each bit through all pieces: write a file for each bit for that"
    mine = {stage.step.pass_number for stage in program.stages}
    for caution in cautions:
        if caution.number is None or caution.number in mine:
            about = f"pass {caution.number}: " if caution.number else ""
            yield f"{caution.severity} {caution.code}: {about}{caution.say(units)}"
    yield from SAFETY


def _run_text(plan: Plan, units: str) -> str:
    run = plan.stack.run
    if isinstance(run, StraightRun):
        return f"{_length(run.length, units)} long"
    if isinstance(run, CurvedRun):
        return f"radius {_length(run.radius, units)} to its left side, over {run.angle:g} degrees"
    return "turned"


def _wood_text(program: Program, units: str) -> str:
    """Where the wood must end, so that bits go down beside it."""
    clear = f"bits go down {_length(LEAD, units)} clear of it"
    if program.extra == 0.0:
        return (
            f"the wood must end where the part ends, without spare ends: {clear}. Where it is "
            "longer, export anew with --extra"
        )
    return f"the wood may reach {_length(program.extra, units)} beyond each end, no more: {clear}"


def _lie_text(program: Program) -> str:
    angle = program.setup.angle % 360.0
    if angle == 0.0:
        return "as drawn, the face up"
    if angle == 180.0:
        return "turned over, the back up"
    turn = angle - 360.0 if angle > 180.0 else angle
    way = "counter-clockwise" if turn > 0.0 else "clockwise"
    return f"turned {way} by {abs(turn):g} degrees, seen from the left end"


def _about(step: Step, plan: Plan, units: str) -> str:
    """What a step is: bit, place, this depth of all."""
    which = f", depth {step.place} of {len(step.depths)}" if len(step.depths) > 1 else ""
    kind = "rough out" if step.relief else "finish" if step.finishing else "cut"
    repeats = f", {step.count} times" if step.count > 1 else ""
    angle = plan.stack.setup(step.setup).angle
    top = "face" if angle % 360.0 == 0.0 else "top corner" if angle % 90.0 else "top side"
    return (
        f"step {step.number} of {len(plan.steps)}, pass {step.pass_number}: {kind}, {step.bit.id}, "
        f"edge to bit centre {_length(step.offset, units)}, below {top} "
        f"{_length(step.depth, units)}{which}{repeats}"
    )


def _length(mm: float, units: str) -> str:
    return format_length(mm, units, 0.001 if units == "mm" else 0.0001)


def _whole(number: float) -> str:
    return f"{number:.0f}"


def _comments(texts: Iterable[str]) -> Iterator[str]:
    """Texts as comments; brackets of their own would end them."""
    for text in texts:
        inside = ascii_text(text, 1000).replace("(", "[").replace(")", "]")
        for row in textwrap.wrap(inside, LONGEST_LINE - 2, subsequent_indent="  "):
            yield f"({row})"

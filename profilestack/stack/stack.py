"""The stack: one frozen value that says how a profile is cut."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from profilestack.bits.bit import Bit
from profilestack.errors import InputError, Problem, nearest_word
from profilestack.stack.blank import LARGEST, Blank
from profilestack.stack.run import CurvedRun, Run, StraightRun, TurnedRun
from profilestack.stack.target import Target


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How much stock may stand proud of the target, and how much may be missing [mm]."""

    leftover: float = 0.30
    overcut: float = 0.10

    def __post_init__(self) -> None:
        found = [
            Problem(key, f"{getattr(self, key)!r} is impossible", "0 or more")
            for key in ("leftover", "overcut")
            if not (math.isfinite(getattr(self, key)) and getattr(self, key) >= 0.0)
        ]
        if found:
            raise InputError(found)


@dataclass(frozen=True, slots=True)
class Setup:
    """How the blank lies: turned counter-clockwise by ``angle`` [deg].

    With ``copies`` above 1 each pass is cut so often, the blank turned by 360/copies between.
    """

    name: str
    angle: float
    copies: int = 1

    def __post_init__(self) -> None:
        found = []
        if not self.name:
            found.append(Problem("name", "is empty", "a word such as edge, back or tipped"))
        if not (math.isfinite(self.angle) and abs(self.angle) <= 360.0):
            found.append(Problem("angle", f"{self.angle!r} is impossible", "-360 to 360 degrees"))
        if not 1 <= self.copies <= 360:
            found.append(Problem("copies", f"{self.copies!r} is impossible", "1 to 360"))
        if found:
            raise InputError(found)


FACE = Setup("face", 0.0)
"""The setup that always exists: the blank as drawn, its top up."""


@dataclass(frozen=True, slots=True)
class Pass:
    """One bit along the part at one offset and depth [mm].

    ``offset``: from the left side of the blank's box, as it lies in ``setup``, to the bit's axis.
    ``depth``: from the top of that box down to the lowest cutting point. Repeats lie at
    offset + k x pitch for k < count. ``begin`` and ``end`` (``from`` and ``to`` in files) are
    places along a straight part; None is its end. A pass that is not ``on`` is kept, not cut.
    """

    bit: str
    offset: float
    depth: float
    setup: str = "face"
    count: int = 1
    pitch: float = 0.0
    begin: float | None = None
    end: float | None = None
    on: bool = True
    relief: bool = False
    note: str = ""

    def __post_init__(self) -> None:
        found = []
        if not self.bit:
            found.append(Problem("bit", "is empty", "the id of a bit"))
        for key, low in (("offset", -LARGEST), ("depth", 0.0), ("pitch", -LARGEST)):
            value = getattr(self, key)
            if not (math.isfinite(value) and low <= value <= LARGEST):
                expected = "a length above 0" if key == "depth" else "a finite length"
                found.append(Problem(key, f"{value!r} is impossible", expected))
        if self.depth == 0.0:
            found.append(Problem("depth", "0 cuts nothing", "a length above 0"))
        if not 1 <= self.count <= 1000:
            found.append(Problem("count", f"{self.count!r} is impossible", "1 to 1000"))
        if self.count > 1 and self.pitch == 0.0:
            found.append(Problem("pitch", "is 0 though count is above 1", "the distance between"))
        if found:
            raise InputError(found)


@dataclass(frozen=True, slots=True)
class Stack:
    """The whole document. Every edit makes a new one.

    ``units`` ("mm" or "in") is what its file's bare numbers mean; all values here are mm.

    Raises:
        InputError: every contradiction between its parts.
    """

    blank: Blank
    run: Run
    title: str = ""
    units: str = "mm"
    tolerance: Tolerance = field(default_factory=Tolerance)
    target: Target | None = None
    setups: tuple[Setup, ...] = ()
    passes: tuple[Pass, ...] = ()
    bits: tuple[Bit, ...] = ()

    def __post_init__(self) -> None:
        if problems := tuple(_problems(self)):
            raise InputError(problems)

    def setup(self, name: str) -> Setup:
        """The setup of that name; "face" always exists."""
        return next((setup for setup in self.setups if setup.name == name), FACE)


def _problems(stack: Stack) -> list[Problem]:
    found = []
    if stack.units not in ("mm", "in"):
        found.append(Problem("units", f"{stack.units!r} is unknown", '"mm" or "in"'))
    names = [FACE.name]
    for number, setup in enumerate(stack.setups, 1):
        if setup.name in names:
            what = "always exists" if setup.name == FACE.name else "is named twice"
            found.append(Problem(f"setup[{number}].name", f"{setup.name!r} {what}", "a new name"))
        names.append(setup.name)
        if reason := _setup_refusal(stack.run, setup):
            found.append(Problem(f"setup[{number}]", *reason))
    for number, single in enumerate(stack.passes, 1):
        if single.setup not in names:
            known = ", ".join(names)
            hint = nearest_word(single.setup, names)
            text = f"no setup is called {single.setup!r}"
            found.append(Problem(f"pass[{number}].setup", text, f"one of {known}", hint))
        found += _stop_problems(stack.run, number, single)
    seen: set[str] = set()
    for number, bit in enumerate(stack.bits, 1):
        if bit.id in seen:
            found.append(Problem(f"bit[{number}].id", f"{bit.id!r} is there twice", "a new id"))
        seen.add(bit.id)
    return found


def _setup_refusal(run: Run, setup: Setup) -> tuple[str, str] | None:
    if isinstance(run, TurnedRun):
        return ("a turned part is cut from its face alone", "no [[setup]]")
    if isinstance(run, CurvedRun) and setup.angle % 360.0 not in (0.0, 180.0):
        text = f"angle {setup.angle:g}: a curved blank lies neither on edge nor on a wedge"
        return (text, "0 or 180")
    if isinstance(run, CurvedRun) and setup.copies > 1:
        return (f"copies {setup.copies}: a curved blank cannot be turned about itself", "1")
    return None


def _stop_problems(run: Run, number: int, single: Pass) -> list[Problem]:
    if single.begin is None and single.end is None:
        return []
    where = f"pass[{number}]"
    if not isinstance(run, StraightRun):
        return [Problem(where, "from and to are places along a straight part", "a straight run")]
    begin = 0.0 if single.begin is None else single.begin
    end = run.length if single.end is None else single.end
    if not 0.0 <= begin < end <= run.length:
        text = f"from {begin:g} to {end:g} is not a stretch of the part"
        return [Problem(where, text, f"0 <= from < to <= {run.length:g} mm")]
    return []

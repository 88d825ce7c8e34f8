"""A router bit: what its edge cuts, and what the rest of it needs room for."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.bits.shapes.base import BitShape
from profilestack.bits.wear import largest_radius_of, new_edge, worn_edge
from profilestack.errors import InputError, Problem

NUT_DIAMETER = 42.0
NUT_HEIGHT = 20.0
"""Collet nut [mm], assumed until a shop file says otherwise (common practice, from memory)."""

NUT_CLEARANCE = 3.0
"""The bit is backed off the collet's bottom by so much [mm] (common practice)."""


@dataclass(frozen=True, slots=True)
class Bit:
    """A router bit; lengths [mm], speeds [rpm].

    ``measured`` is the bit's own largest diameter when it is worn or ground. ``grip`` is the
    length held in the collet. A pilot is a bearing (or the stub left of it) that hangs below the
    edge and does not cut.

    Raises:
        InputError: naming every key that is impossible.
    """

    id: str
    shape: BitShape
    cutting_length: float
    shank: float
    length: float
    name: str = ""
    flutes: int = 2
    max_rpm: float | None = None
    plunges: bool = True
    grip: float = 20.0
    pilot_diameter: float | None = None
    pilot_length: float | None = None
    measured: float | None = None
    price: float | None = None
    note: str = ""

    def __post_init__(self) -> None:
        object.__setattr__(self, "name", self.name or self.id)
        if problems := tuple(_problems(self)):
            raise InputError(problems)

    @property
    def reach(self) -> float:
        """From the tip to the collet nut [mm]."""
        return self.length - self.grip - NUT_CLEARANCE


def _problems(bit: Bit) -> list[Problem]:
    found = []

    def refuse(key: str, expected: str) -> None:
        found.append(Problem(key, f"{getattr(bit, key)!r} is impossible", expected))

    if not bit.id:
        refuse("id", "a short name of the bit")
    for key in ("cutting_length", "shank", "length", "grip"):
        if not _is_size(getattr(bit, key)):
            refuse(key, "a length above 0 and at most 1000 mm")
    for key in ("pilot_diameter", "pilot_length", "measured", "max_rpm", "price"):
        value = getattr(bit, key)
        if value is not None and not (math.isfinite(value) and value > 0.0):
            refuse(key, "a number above 0")
    if (bit.pilot_diameter is None) != (bit.pilot_length is None):
        found.append(Problem("pilot_length", "a pilot needs both its diameter and its length"))
    if bit.flutes < 1:
        refuse("flutes", "1 or more")
    if _is_size(bit.length) and bit.cutting_length > bit.length:
        refuse("cutting_length", f"at most the overall length, {bit.length:g} mm")
    if _is_size(bit.cutting_length):
        found += bit.shape.problems_at(bit.cutting_length)
    if not found and bit.measured is not None:
        found += _wear_problems(bit, bit.measured)
    return found


def _wear_problems(bit: Bit, measured: float) -> tuple[Problem, ...]:
    """What is wrong with a worn bit whose values are each possible by themselves."""
    new = 2.0 * largest_radius_of(new_edge(bit.shape, bit.cutting_length))
    if not 0.5 * new <= measured <= new + 1.0:
        text = f"{measured!r} is impossible"
        return (Problem("measured", text, f"about its diameter when new, {new:.3f} mm"),)
    try:
        worn_edge(bit.shape, bit.cutting_length, measured)
    except InputError as error:
        return error.problems
    return ()


def _is_size(value: float) -> bool:
    return math.isfinite(value) and 0.0 < value <= 1000.0

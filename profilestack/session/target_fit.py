"""Whether a wanted profile lies in its blank, and a blank that holds it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from profilestack.cutting.cut import CHORD
from profilestack.cutting.wanted import wanted_in
from profilestack.errors import InputError
from profilestack.geometry.extent import box_of
from profilestack.stack import Blank, MemberTarget, Rectangle, Stack
from profilestack.units import format_length

DIGITS = 9

WIDEST = 3000.0
"""No board is offered that is wider or thicker [mm]: such a size is a slip of the unit."""


@dataclass(frozen=True, slots=True)
class FittedBlank:
    """A document whose blank holds its profile."""

    stack: Stack
    width: float
    thickness: float

    def label(self, units: str) -> str:
        """What the change would be called on a button."""
        step = 0.01 if units == "mm" else 0.001
        width, thickness = (
            format_length(side, units, step) for side in (self.width, self.thickness)
        )
        return f"Make the blank {width.removesuffix(f' {units}')} by {thickness}"


def target_trouble(stack: Stack) -> str:
    """What is wrong with how the target lies in the blank; "" when nothing is."""
    if stack.target is None:
        return ""
    try:
        wanted_in(stack.blank, stack.target, CHORD)
    except InputError as error:
        return "\n".join(str(replace(problem, where="")) for problem in error.problems)
    return ""


def with_snug_blank(stack: Stack) -> FittedBlank | None:
    """The document with the blank that just holds its members; None where it does already.

    What is wider or thicker has to be roughed out. A path from side to side says nothing of that.
    """
    if not isinstance(stack.target, MemberTarget) or not isinstance(stack.blank.stock, Rectangle):
        return None
    box = box_of(stack.target.path())
    return _with_blank(stack, box.right, box.top)


def with_fitting_blank(stack: Stack) -> FittedBlank | None:
    """The document with the least larger blank that holds the target; None where there is none.

    A board is only made wider and thicker. An end that lay on its right side or its top goes on
    lying there, so the side goes as far as the profile does where the profile passes it.
    """
    stock = stack.blank.stock
    if stack.target is None or not isinstance(stock, Rectangle):
        return None
    box = box_of(stack.target.path())
    for width, thickness in (
        (max(stock.width, box.right), max(stock.thickness, box.top)),
        (box.right, max(stock.thickness, box.top)),
        (box.right, box.top),
    ):
        if fitted := _with_blank(stack, width, thickness):
            return fitted
    return None


def _with_blank(stack: Stack, width: float, thickness: float) -> FittedBlank | None:
    """Another board, if it is another one and holds the target."""
    sides = (round(width, DIGITS), round(thickness, DIGITS))
    if not 0.0 < min(sides) <= max(sides) <= WIDEST or stack.blank.stock == Rectangle(*sides):
        return None
    fitted = replace(stack, blank=Blank(Rectangle(*sides), stack.blank.species))
    return None if target_trouble(fitted) else FittedBlank(fitted, *sides)

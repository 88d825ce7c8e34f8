"""Columns, drawers and stacks that the tests of fitting to a drawer share; lengths in mm."""

from __future__ import annotations

from typing import Any

from profilestack.bits.bit import Bit
from profilestack.finding.adapting.adaptation import Adaptation, Change
from profilestack.geometry.extent import box_of
from profilestack.geometry.path import Path
from profilestack.stack import Blank, MemberTarget, PathTarget, Rectangle, Stack, StraightRun
from profilestack.targets.member import Member
from profilestack.targets.members import MemberColumn
from tests.shop import core_box, roundover, straight, vee

DRAWER: tuple[Bit, ...] = (
    straight(3.0, 12.0),
    straight(12.0),
    core_box(12.0),
    core_box(25.4),
    roundover(6.0, 3.0, 9.0),
    roundover(12.7, 3.2, 16.0),
    vee(12.7, 60.0, 0.5, 10.5),
)
"""Hollows of 6 and 12.7, rounds of 6 and 12.7, flats of 3 and more, a V of 60 degrees."""


def fillet(height: float) -> Member:
    return Member("fillet", height)


def setback(projection: float) -> Member:
    return Member("setback", projection=projection)


def column_of(*members: Member, **keys: Any) -> MemberColumn:
    return MemberColumn(members, **({"lie": "flat", "back": 5.0} | keys))


def stack_for(column: MemberColumn) -> Stack:
    """The column in the blank that just holds it."""
    blank = Blank(Rectangle(*column.box()))
    return Stack(blank, StraightRun(1000.0), target=MemberTarget(column))


def board_with(path: Path, width: float, thickness: float, *, closed: bool = False) -> Stack:
    blank = Blank(Rectangle(width, thickness))
    return Stack(blank, StraightRun(1000.0), target=PathTarget(path, closed))


def members_of(adaptation: Adaptation) -> tuple[Member, ...]:
    target = adaptation.stack.target
    assert isinstance(target, MemberTarget)
    return target.column.members


def sizes_of(adaptation: Adaptation) -> dict[tuple[int, str], float]:
    """The fitted sizes by member and key; radii are the drawer's business."""
    return {(c.number, c.key): c.fitted for c in adaptation.changes if c.key != "radius"}


def bits_of(changes: tuple[Change, ...], number: int) -> set[str | None]:
    return {change.bit for change in changes if change.number == number}


def extent(stack: Stack) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of the target [mm]."""
    assert stack.target is not None
    box = box_of(stack.target.path())
    return (box.left, box.bottom, box.right, box.top)

"""Classical members, one under the other, laid on the bed as the shop cuts them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.geometry.crossing import crossings_of, distance_to
from profilestack.geometry.extent import box_of
from profilestack.geometry.motion import move
from profilestack.geometry.path import Path, Point
from profilestack.targets.laying import LIES, Body, joined_level
from profilestack.targets.member import Member
from profilestack.targets.member_shapes.base import LARGEST
from profilestack.targets.placement import place, placement_problems

__all__ = ["LIES", "Member", "MemberColumn"]

CHORD = 0.001
"""Arcs are looked at so closely [mm] when members are checked for running into each other."""

USUAL_SPRING = 45.0
"""Angle between the back of a crown and the wall [deg]; 38 is the other usual one."""


@dataclass(frozen=True, slots=True)
class MemberColumn:
    """Members listed from the top of the molding to its bottom, laid and placed.

    ``lie`` is a word of ``LIES``: "upright" as installed, wall at the left, top at the top;
    "head-down" the same turned over, its top on the bed; "flat" on its back, top at the left;
    "sprung" turned until its sloping back lies on the bed, top at the left.

    ``back`` [mm] is the thickness of the wood behind the least projection: level, from the wall
    to the face where that is nearest to it. A sprung column has it square to its sloping back as
    well, behind the face where that is deepest; ``spring`` [deg] is the angle between that back
    and the wall. ``bottom`` [mm] is for a sprung column whose level bottom is not as wide as its
    back is thick: the wood from the wall to the face where that is nearest; None: as ``back``.

    ``mirror``, ``scale``, ``rotation`` [deg] and ``at`` [mm] then place the path: see
    :func:`profilestack.targets.placement.place`.

    Raises:
        InputError: no members, an unknown lie, a number out of range, a spring or a bottom that is
            given to a column that is not sprung, members without a height, or members that run
            into each other.
    """

    members: tuple[Member, ...]
    lie: str = "upright"
    spring: float | None = None
    back: float = 0.0
    at: Point = (0.0, 0.0)
    scale: float = 1.0
    rotation: float = 0.0
    mirror: bool = False
    bottom: float | None = None

    def __post_init__(self) -> None:
        if problems := _problems(self):
            raise InputError(problems)
        if problem := _crossing_problem(self):
            raise InputError(problem)

    @property
    def height(self) -> float:
        """Along the wall, all members together [mm], before ``scale``."""
        return math.fsum(member.fall for member in self.members)

    def face(self) -> Path:
        """The face as the members trace it, from the top at (0, 0) downward [mm].

        x is away from the wall, the wood on the right hand; not yet laid or placed. A level step
        that goes back over the one before it counts as their difference.
        """
        whole = Path((0.0, 0.0))
        for piece in _traces(self.members):
            whole = joined_level(whole, piece)
        return whole

    def laid(self) -> Path:
        """The path on the bed, the lower left of its box at the origin; not yet placed [mm]."""
        spring = USUAL_SPRING if self.spring is None else self.spring
        bottom = self.back if self.bottom is None else self.bottom
        return LIES[self.lie](self.face(), Body(self.back, spring, bottom))

    def path(self) -> Path:
        """The target path in section coordinates [mm], the wood on its right hand."""
        return place(self.laid(), self.at, self.scale, self.rotation, self.mirror)

    def box(self) -> tuple[float, float]:
        """Width and height [mm] of the blank that just holds the column, as it lies."""
        box = box_of(place(self.laid(), (0.0, 0.0), self.scale, self.rotation, self.mirror))
        return (box.width, box.height)


def _problems(column: MemberColumn) -> list[Problem]:
    found = placement_problems(column.at, column.scale, column.rotation)
    if not column.members:
        found.append(Problem("members", "is empty", "one member at least"))
    elif column.height <= 0.0:
        found.append(Problem("members", "have no height together", "a member with a height"))
    if column.lie not in LIES:
        hint = nearest_word(str(column.lie), LIES)
        found.append(
            Problem("lie", f"{column.lie!r} is unknown", f"one of {', '.join(LIES)}", hint)
        )
    for key in ("back", "bottom"):
        value = getattr(column, key)
        if value is not None and not (math.isfinite(value) and 0.0 <= value <= LARGEST):
            expected = f"0 or more, at most {LARGEST:g} mm"
            found.append(Problem(key, f"{value!r} is impossible", expected))
    if column.lie != "sprung":
        found += [
            Problem(key, "is for a sprung column alone", 'lie = "sprung", or no such key')
            for key in ("spring", "bottom")
            if getattr(column, key) is not None
        ]
    elif column.spring is not None and not 1.0 <= column.spring <= 89.0:
        found.append(Problem("spring", f"{column.spring!r} is impossible", "1 to 89 degrees"))
    return found


def _traces(members: Sequence[Member]) -> list[Path]:
    """Each member's face where it stands in the column, from the top at (0, 0) downward [mm]."""
    traces: list[Path] = []
    end: Point = (0.0, 0.0)
    for member in members:
        traces.append(move(*end).apply_to(member.trace()))
        end = traces[-1].end
    return traces


def _crossing_problem(column: MemberColumn) -> Problem | None:
    """Whether the members run into each other, or into what lies behind them."""
    from profilestack.geometry.region import crossing_of

    face = column.face()
    if place := crossing_of(face.flatten(CHORD)):
        place = next(iter(crossings_of(face)), place)
        near = [
            number
            for number, trace in enumerate(_traces(column.members), 1)
            if min(distance_to(piece, place) for piece in trace.segments) <= 10.0 * CHORD
        ]
        which = " and ".join(f"members[{number}]" for number in near) or "members"
        text = f"run into each other {-place[1]:.3f} mm below the top"
        return Problem(which, text, "members that keep clear of each other")
    if crossing_of(column.laid().flatten(CHORD)):
        key = "bottom" if column.lie == "sprung" and column.bottom is not None else "back"
        text = f"{getattr(column, key)!r} lets the face run into the wood's back"
        return Problem(key, text, "a thickness that leaves wood behind every member")
    return None

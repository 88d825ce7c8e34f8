"""What may move while a path is fitted, and what must hold."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from profilestack.targets.bulges import BulgePath, Numbers


@dataclass(frozen=True, slots=True)
class Rules:
    """What may move, and what must hold.

    ``held_joints`` and ``held_bulges`` are not moved. ``level`` and ``upright`` are pieces,
    lines, whose ends keep one z or one x. ``tangent`` are joints without a kink (0 in a closed
    path: its closing joint).
    """

    held_joints: frozenset[int] = frozenset()
    held_bulges: frozenset[int] = frozenset()
    level: frozenset[int] = frozenset()
    upright: frozenset[int] = frozenset()
    tangent: frozenset[int] = frozenset()


class Variables:
    """Which of the numbers of a path vary together.

    An index for each joint's x and z and each bulge, -1 where it is held.
    """

    def __init__(self, joined: BulgePath, rules: Rules) -> None:
        count = joined.count
        closed = joined.is_closed
        groups: list[list[tuple[str, int]]] = []
        for axis, same in (("x", rules.upright), ("z", rules.level)):
            group: dict[int, int] = {k: k for k in range(count + 1)}
            for k in sorted(same):
                unite(group, k, k + 1)
            if closed:
                unite(group, 0, count)
            members: dict[int, list[tuple[str, int]]] = {}
            for k in range(count + 1):
                members.setdefault(root(group, k), []).append((axis, k))
            groups += [
                own for own in members.values()
                if not any(k in rules.held_joints for _, k in own)
            ]  # fmt: skip
        lines = set(np.flatnonzero(joined.bulges == 0.0).tolist())
        free = [k for k in range(count) if k not in rules.held_bulges and k not in lines]
        groups += [[("b", k)] for k in free]
        self.groups = groups
        self.of_joints = np.full((count + 1, 2), -1)
        self.of_bulges = np.full(count, -1)
        for number, members_of in enumerate(groups):
            for what, k in members_of:
                if what == "b":
                    self.of_bulges[k] = number
                else:
                    self.of_joints[k, 0 if what == "x" else 1] = number

    def gathered(self, joined: BulgePath) -> Numbers:
        """The varying numbers of a path; those that vary together by their mean."""
        values = np.zeros(len(self.groups))
        for number, members in enumerate(self.groups):
            own = [
                joined.bulges[k] if what == "b" else joined.joints[k, 0 if what == "x" else 1]
                for what, k in members
            ]
            values[number] = math.fsum(own) / len(own)
        return values

    def put(self, joined: BulgePath, values: Numbers) -> BulgePath:
        """The path with other numbers."""
        joints, bulges = joined.joints.copy(), joined.bulges.copy()
        vary = self.of_joints >= 0
        joints[vary] = values[self.of_joints[vary]]
        free = self.of_bulges >= 0
        bulges[free] = values[self.of_bulges[free]]
        return BulgePath(joints, bulges)

    def moves_piece(self) -> npt.NDArray[np.bool_]:
        """Whether anything of each piece varies, shape (m,)."""
        moves: npt.NDArray[np.bool_] = np.any(self.columns() >= 0, axis=1)
        return moves

    def columns(self) -> npt.NDArray[np.int64]:
        """The five numbers of each piece (its ends' x and z, its bulge), shape (m, 5)."""
        ends = self.of_joints.astype(np.int64)
        return np.column_stack((ends[:-1], ends[1:], self.of_bulges))


def unite(group: dict[int, int], one: int, two: int) -> None:
    """Put two members, and all that are with them, into one group."""
    group[root(group, two)] = root(group, one)


def root(group: dict[int, int], member: int) -> int:
    """Who stands for a member's group."""
    while group[member] != member:
        member = group[member]
    return member

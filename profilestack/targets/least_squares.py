"""Least squares for paths in joints and bulges: each point is moved by five numbers only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from profilestack.geometry.path import Points
from profilestack.targets.bulges import BulgePath, Numbers, carrier_distances, kinks
from profilestack.targets.moving import Variables

Places = npt.NDArray[np.signedinteger[Any]]

HOLD = 1e-3
"""Joints are drawn to where they were with this weight, so that one between two pieces that run
alike has a place at all; points weigh 1."""

TANGENT = 1e4
"""Weight of a kink [mm/rad]: joints come out tangent to about a ten-thousandth of a degree."""

MOST_STEPS = 20
"""Steps of one least squares."""

STEP = 1e-6
"""Step of the numeric derivatives [mm, and in bulge]."""

LEAST_GAIN, LEAST_STEP = 1e-5, 1e-8
"""A step that gains less than this share, or moves by less [mm], is the last."""


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """A path, what varies in it, and the points that it should pass near.

    ``owners`` has for each point the piece that stands for it, in order; ``tangent`` are joints
    without a kink.
    """

    joined: BulgePath
    variables: Variables
    points: Points
    owners: Places
    tangent: tuple[int, ...]

    def hold(self) -> Numbers:
        """How strongly each number is drawn to where it was.

        Bulges hardly: an arc between two points only has none of its own.
        """
        return HOLD * np.array([0.01 if own[0][0] == "b" else 1.0 for own in self.variables.groups])

    def off(self, here: BulgePath) -> Numbers:
        """Signed distances of the points [mm]."""
        first = here.joints[self.owners]
        return carrier_distances(
            self.points, first, here.joints[self.owners + 1], here.bulges[self.owners]
        )

    def bends(self, values: Numbers) -> Numbers:
        """The weighed kinks of the joints that should have none."""
        kept = list(self.tangent)
        return TANGENT * kinks(self.variables.put(self.joined, values))[kept]


def least_squares(task: Task) -> Numbers:
    """The numbers with the least sum of squares near those that the path has.

    Levenberg's and Marquardt's steps (D. Marquardt, SIAM J. Appl. Math. 11, 1963, 431-441, from
    memory), on the normal equations.
    """
    started = task.variables.gathered(task.joined)
    values, damping = started, 1e-6
    hold = task.hold()
    cost = _cost(task, values, started, hold)
    for _ in range(MOST_STEPS):
        normal, slope = _normal_equations(task, values, started, hold)
        better = False
        while not better and damping < 1e8:
            damped = normal + damping * np.diag(np.diag(normal))
            tried = values - _eliminated(damped, slope)
            squares = _cost(task, tried, started, hold)
            better = squares <= cost  # never where a number is not finite
            damping *= 0.1 if better else 10.0
        if not better:
            break
        gain, step = cost - squares, float(np.abs(tried - values).max())
        values, cost, damping = tried, squares, max(damping, 1e-12)
        if gain <= LEAST_GAIN * cost or step <= LEAST_STEP:
            break
    return values


def _eliminated(matrix: Numbers, side: Numbers) -> Numbers:
    """The solution of matrix x = side, the matrix symmetric and positive definite.

    Plain elimination (C. F. Gauss; any text on linear algebra): for a hundred numbers it is quick
    enough, while a library's threads cost a hundredfold where the machine is busy.
    """
    rest, right = matrix.copy(), side.copy()
    count = len(right)
    with np.errstate(all="ignore"):  # what is not finite is no better, and is not taken
        for k in range(count - 1):
            column = rest[k + 1 :, k] / rest[k, k]
            rest[k + 1 :, k + 1 :] -= column[:, None] * rest[k, k + 1 :]
            right[k + 1 :] -= column * right[k]
        for k in range(count - 1, -1, -1):
            right[k] = (right[k] - float((rest[k, k + 1 :] * right[k + 1 :]).sum())) / rest[k, k]
    return right


def _cost(task: Task, values: Numbers, started: Numbers, hold: Numbers) -> float:
    off = task.off(task.variables.put(task.joined, values))
    drawn = hold * (values - started)
    bends = task.bends(values)
    return float(off @ off + drawn @ drawn + bends @ bends)


def _normal_equations(
    task: Task, values: Numbers, started: Numbers, hold: Numbers
) -> tuple[Numbers, Numbers]:
    """The matrix of the squared slopes, and the slope of half the cost."""
    here = task.variables.put(task.joined, values)
    normal = np.diag(hold * hold)
    slope = hold * hold * (values - started)
    if len(task.owners):
        off, five = _point_slopes(task, here)
        begins = np.flatnonzero(np.diff(task.owners, prepend=-1))
        blocks = np.add.reduceat(five[:, :, None] * five[:, None, :], begins)
        sides = np.add.reduceat(five * off[:, None], begins)
        columns = task.variables.columns()[task.owners[begins]]
        vary = columns >= 0
        both = vary[:, :, None] & vary[:, None, :]
        rows = np.broadcast_to(columns[:, :, None], both.shape)
        across = np.broadcast_to(columns[:, None, :], both.shape)
        np.add.at(normal, (rows[both], across[both]), blocks[both])
        np.add.at(slope, columns[vary], sides[vary])
    if task.tangent:
        table = _bend_slopes(task, here)
        normal += np.einsum("ij,ik->jk", table, table)
        slope += np.einsum("ij,i->j", table, task.bends(values))
    return normal, slope


def _point_slopes(task: Task, here: BulgePath) -> tuple[Numbers, Numbers]:
    """Each point's distance, and how it changes with the five numbers of its piece, (n, 5)."""
    begins, ends = here.joints[task.owners], here.joints[task.owners + 1]
    bulges = here.bulges[task.owners]
    base = carrier_distances(task.points, begins, ends, bulges)
    five = np.empty((len(base), 5))
    for which in range(5):
        b, e, g = begins, ends, bulges
        if which < 2:
            b = begins.copy()
            b[:, which] += STEP
        elif which < 4:
            e = ends.copy()
            e[:, which - 2] += STEP
        else:
            g = bulges + STEP
        five[:, which] = (carrier_distances(task.points, b, e, g) - base) / STEP
    return base, five


def _bend_slopes(task: Task, here: BulgePath) -> Numbers:
    """How each weighed kink changes with each number, shape (kinks, numbers).

    A piece starts at the angle of its chord less 2 atan(bulge) and ends at it plus as much.
    """
    steps = np.diff(here.joints, axis=0)
    squares = (steps**2).sum(axis=1)
    # of the chord's angle with the end's x and z; with the start's it is the opposite
    swing = np.column_stack((-steps[:, 1], steps[:, 0])) / squares[:, None]
    roll = 2.0 / (1.0 + here.bulges**2)
    columns = task.variables.columns()
    table = np.zeros((len(task.tangent), len(task.variables.groups)))
    for row, joint in enumerate(task.tangent):
        before, after = (joint - 1) % here.count, joint % here.count
        for piece, sign, bulge in ((before, -1.0, -roll[before]), (after, 1.0, -roll[after])):
            five = (*(-sign * swing[piece]), *(sign * swing[piece]), bulge)
            for column, value in zip(columns[piece], five, strict=True):
                if column >= 0:
                    table[row, column] += TANGENT * value
    return table

"""A stack's passes as tasks: what each sweeps, what must be gone before it, what it takes.

Planning is tried on outlines of a coarse chord error; the plan is cut anew by the engine at its
own. Areas [mm2], lengths [mm].
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from profilestack.bits.bit import Bit
from profilestack.bits.edge import edge_height, has_undercut, largest_radius
from profilestack.cutting.cut import Cut, cut_stack
from profilestack.cutting.stroke import Lie, Stroke, silhouette_points
from profilestack.geometry.path import Points
from profilestack.geometry.region import intersect, polygon_from_points, subtract, unite
from profilestack.planning.machine import Machine
from profilestack.stack import Pass, Stack

CHORD = 0.02
"""Plans are tried on outlines of this chord error [mm]."""

TOUCH = 0.01
"""Overlaps narrower than this [mm] are rounding, not rubbing."""

CLEAR = 0.02
"""Less standing stock than this [mm2] in the way of shank or nut is rounding."""

DUST = 1e-7
"""Less than this [mm2] is nothing, however strict one is."""


@dataclass(frozen=True, slots=True, eq=False)
class Task:
    """One pass: ``swept`` by all of its travels, ``blocked`` is the room that must be free.

    ``first`` are its travels as the blank lies at first (repeats, without copies); ``travels``
    counts copies too. ``document_pass`` is its number in the document, None where it was added.
    """

    single: Pass
    bit: Bit
    lie: Lie
    document_pass: int | None
    first: tuple[Stroke, ...]
    travels: int
    swept: BaseGeometry
    blocked: BaseGeometry

    @property
    def key(self) -> tuple[str, str]:
        """Bit and setup: what a bit change is counted by."""
        return (self.bit.id, self.single.setup)

    @property
    def diameter(self) -> float:
        """Largest cutting diameter [mm]."""
        return 2.0 * largest_radius(self.bit)

    @property
    def one_depth(self) -> bool:
        """Whether the bit narrows above its tip: it can only be taken at its full depth."""
        return has_undercut(self.bit)

    def at(self, depth: float) -> list[BaseGeometry]:
        """What its first travels sweep at a depth [mm], on the bench."""
        points = silhouette_points(self.bit, CHORD)
        tip = self.lie.height - depth
        swept: list[BaseGeometry] = []
        for each in self.first:
            swept.append(polygon_from_points(points + np.array((each.axis, tip))))
        return swept

    def on_bench(self, region: BaseGeometry) -> BaseGeometry:
        """A region of the section as it lies on the bench under the first travel."""
        return shapely.transform(region, self.first[0].to_bench)


def tasks_of(
    stack: Stack,
    bits: Mapping[str, Bit],
    machine: Machine,
    document: Mapping[int, int | None] | None = None,
) -> tuple[list[Task], Cut]:
    """The passes of a stack that are on, each as a task, and their coarse cut.

    ``document`` gives for each number of a pass the one it has in the document.
    """
    cut = cut_stack(stack, bits, CHORD)
    tasks = []
    for each in cut.passes:
        strokes = cut.strokes[each.first : each.last]
        first = tuple(stroke for stroke in strokes if stroke.copy == 0)
        swept = unite(stroke.region for stroke in strokes)
        boxes = [box for stroke in strokes for box in _boxes(stroke, machine)]
        blocked: BaseGeometry = shapely.GeometryCollection()
        if boxes:
            room = intersect(unite(boxes), cut.sections[0])
            blocked = subtract(room, swept)
        number = each.number if document is None else document[each.number]
        lie = first[0].lie
        tasks.append(Task(each.cut, each.bit, lie, number, first, len(strokes), swept, blocked))
    return tasks, cut


def _boxes(stroke: Stroke, machine: Machine) -> list[BaseGeometry]:
    """The room that shank, nut and the way above the edge take, in the section plane."""
    bit, lie = stroke.bit, stroke.lie
    # turned about its middle, a blank may stand higher than it lay at first
    top = lie.height if stroke.setup.copies == 1 else lie.height + lie.width
    sky = top - stroke.tip + 1.0
    edge, reach = edge_height(bit), bit.reach
    radius = max(largest_radius(bit), bit.shank / 2.0)
    found = []
    if stroke.tip + edge < top - TOUCH:
        found.append((radius, edge, max(sky, edge + 0.1)))
    if stroke.tip + reach < top - TOUCH:
        found.append((machine.nut_diameter / 2.0, reach, reach + machine.nut_height))
    boxes: list[BaseGeometry] = []
    for half, low, high in found:
        half, low = half - TOUCH, low + TOUCH
        corners: Points = np.array(((-half, low), (half, low), (half, high), (-half, high)))
        boxes.append(polygon_from_points(stroke.to_section(corners)))
    return boxes


class Ground:
    """The stock that stands after any set of tasks; sets are bit masks of their places.

    ``strict``: the least sliver that stands over an edge counts, not only what can be seen.
    """

    def __init__(self, tasks: list[Task], blank: BaseGeometry) -> None:
        self.tasks = tasks
        self._stock: dict[int, BaseGeometry] = {0: blank}
        self._never: dict[int, float] = {}
        self.everything = (1 << len(tasks)) - 1
        self.strict = False
        shapes = np.array([task.swept for task in tasks], dtype=object)
        self._meets = [
            sum(1 << int(k) for k in np.flatnonzero(shapely.intersects(shapes, task.swept)))
            for task in tasks
        ]

    def stock(self, mask: int) -> BaseGeometry:
        """What stands after the tasks of a set."""
        if mask not in self._stock:
            last = mask.bit_length() - 1
            before = self.stock(mask & ~(1 << last))
            self._stock[mask] = subtract(before, self.tasks[last].swept)
        return self._stock[mask]

    def meeting(self, place: int, mask: int) -> int:
        """Those of a set that sweep some of what the task at ``place`` sweeps."""
        return mask & self._meets[place] & ~(1 << place)

    def local(self, place: int, mask: int) -> BaseGeometry:
        """What the task at ``place`` removes after the tasks of a set, on the bench.

        Copies are left out: what the first travels meet stands for all.
        """
        task = self.tasks[place]
        stock = self.stock(self.meeting(place, mask))
        swept = unite(stroke.region for stroke in task.first)
        return task.on_bench(intersect(stock, swept))

    def is_free(self, place: int, mask: int) -> bool:
        """Whether shank, nut and edge have room after the tasks of a set.

        What no task ever clears is not waited for: it stays a caution.
        """
        blocked = self.tasks[place].blocked
        if blocked.is_empty:
            return True
        if place not in self._never:
            self._never[place] = self._standing(blocked, self.everything & ~(1 << place))
        return self._standing(blocked, mask) - self._never[place] <= CLEAR

    def stands_over(self, place: int, mask: int) -> bool:
        """Whether wood stands above the edge of a task after the tasks of a set."""
        blocked = self.tasks[place].blocked
        least = DUST if self.strict else CLEAR
        return not blocked.is_empty and self._standing(blocked, mask) > least

    def _standing(self, blocked: BaseGeometry, mask: int) -> float:
        return float(intersect(blocked, self.stock(mask)).area)

"""What a task takes after others: its depths and minutes, each set looked at once."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.geometry.region import subtract
from profilestack.planning.depths import Depths, Limits, depths_of, limits_for, taken_at
from profilestack.planning.engagement import engagement_of
from profilestack.planning.feeds import Speed, largest_section, speed_for
from profilestack.planning.minutes import length_of_travel
from profilestack.planning.shop import Shop
from profilestack.planning.species import Species
from profilestack.planning.tasks import Ground, Task
from profilestack.stack import Stack


@dataclass(frozen=True, slots=True)
class Taking:
    """How a task is taken: depths, the largest section of each [mm2], minutes for all pieces."""

    depths: Depths
    sections: tuple[float, ...]
    minutes: float


class Costs:
    """Depths and minutes of tasks after sets of others, on a shop's machine."""

    def __init__(self, stack: Stack, ground: Ground, shop: Shop, species: Species) -> None:
        self.stack = stack
        self.ground = ground
        self.shop = shop
        self.species = species
        self._taken: dict[tuple[int, int, bool], Taking] = {}
        self._limits: dict[str, Limits] = {}

    def be_strict(self) -> None:
        """Let the least sliver over an edge count; what was looked at before is forgotten."""
        self.ground.strict = True
        self._taken.clear()

    def limits(self, task: Task) -> Limits:
        """What one travel of a task's bit may take."""
        if task.bit.id not in self._limits:
            section = largest_section(task.bit, self.shop, self.species)
            self._limits[task.bit.id] = limits_for(
                task, self.species.group, section, self.shop.allowance
            )
        return self._limits[task.bit.id]

    def taking(self, place: int, mask: int) -> Taking:
        """How the task at ``place`` is taken after the tasks of a set."""
        over = self.ground.stands_over(place, mask)
        key = (place, self.ground.meeting(place, mask), over)
        if key not in self._taken:
            self._taken[key] = self._take(place, mask, over)
        return self._taken[key]

    def minutes(self, place: int, mask: int) -> float:
        """Minutes of cutting of a task, for all pieces."""
        return self.taking(place, mask).minutes

    def _take(self, place: int, mask: int, over: bool) -> Taking:
        task = self.ground.tasks[place]
        local = self.ground.local(place, mask)
        depths = depths_of(task, local, self.limits(task), over)
        total, before = 0.0, local
        sections = []
        for number, depth in enumerate(depths.depths, 1):
            finishing = not task.single.relief and number == len(depths.depths)
            taken = taken_at(task, before, depth)
            widest = max(range(len(taken)), key=lambda k: taken[k].area)
            sections.append(float(taken[widest].area))
            met = engagement_of(
                task.bit, taken[widest], task.first[widest].axis, task.lie.height - depth
            )
            speed = speed_for(
                task.bit, self.shop, self.species, finishing, taken[widest].area, met.thinning
            )
            total += travel_minutes(self.stack, task, self.shop, speed) * task.travels
            for swept in task.at(depth) if number < len(depths.depths) else ():
                before = subtract(before, swept)
        return Taking(depths, tuple(sections), total * self.stack.run.pieces)


def travel_minutes(stack: Stack, task: Task, shop: Shop, speed: Speed) -> float:
    """One travel of a task there and back [min], with getting up to speed and down again."""
    length = length_of_travel(stack)
    begin, end = task.single.begin, task.single.end
    if begin is not None or end is not None:
        length = (length if end is None else end) - (begin or 0.0)
    starting = speed.feed / 60.0 / shop.machine.acceleration / 60.0
    return shop.pass_minutes(length, speed.feed) + starting

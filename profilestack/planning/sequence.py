"""The order of the tasks of each setup: fewest minutes among the orders that keep tools clear.

A bit in the collet takes every task that is free at that moment, then the next bit comes. Over
all sequences of bits the quickest is found exactly, by dynamic programming over the sets of tasks
that are done: what a task takes depends on that set alone. Among equally quick ones that is taken
which keeps best to the usual order: rough out, flats, hollows, rounds, V and quirks.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from profilestack.bits.edge import has_undercut
from profilestack.planning.order import KINDS
from profilestack.planning.tasks import Ground, Task

MOST_SETS = 600
"""More sets of done tasks than this are not looked at."""


@dataclass(frozen=True, slots=True)
class Order:
    """Places of tasks in the order they are taken, what that costs [min], how many orders were
    looked at, and whether none of them is quicker.
    """

    places: tuple[int, ...]
    minutes: float
    looked_at: int
    proved: bool


@dataclass(slots=True)
class _Best:
    """The best way on from a set: minutes, offences against the usual order, places, count."""

    minutes: float
    offences: int
    places: tuple[int, ...]
    ways: int


class TooMany(Exception):
    """There are more sets than are looked at."""


def quickest(
    ground: Ground,
    members: Sequence[int],
    done: int,
    cutting: Callable[[int, int], float],
    change: float,
) -> Order | None:
    """The quickest order of the tasks ``members`` of one setup, after the tasks ``done``.

    ``cutting(place, mask)`` are the minutes of a task after those of a set, ``change`` those of
    taking a bit. None where no order keeps every tool clear.

    Raises:
        TooMany: the search would be too long.
    """
    answer = _Search(ground, tuple(members), cutting, change).best(done)
    if answer is None:
        return None
    return Order(answer.places, answer.minutes, answer.ways, True)


class _Search:
    """The best way on from each set of done tasks."""

    def __init__(
        self,
        ground: Ground,
        members: tuple[int, ...],
        cutting: Callable[[int, int], float],
        change: float,
    ) -> None:
        self.ground = ground
        self.members = members
        self.cutting = cutting
        self.change = change
        self.known: dict[int, _Best | None] = {}

    def best(self, mask: int) -> _Best | None:
        """The best way from a set to all tasks; None where there is none."""
        left = [place for place in self.members if not mask >> place & 1]
        if not left:
            return _Best(0.0, 0, (), 1)
        if mask not in self.known:
            if len(self.known) > MOST_SETS:
                raise TooMany
            self.known[mask] = self._best_of(mask, left)
        return self.known[mask]

    def _best_of(self, mask: int, left: list[int]) -> _Best | None:
        tasks = self.ground.tasks
        found: _Best | None = None
        ways = 0
        for key in dict.fromkeys(tasks[place].key for place in left):
            visit = _visit(self.ground, [each for each in left if tasks[each].key == key], mask)
            if visit and (trial := self._by(visit, mask, left)) is not None:
                ways += trial.ways
                if found is None or _is_better(trial, found):
                    found = trial
        if found is not None:
            found.ways = ways
        return found

    def _by(self, visit: list[int], mask: int, left: list[int]) -> _Best | None:
        """The best way on that begins with the tasks of one bit."""
        minutes, offences = self.change, 0
        later = [each for each in left if each not in visit]
        for place in visit:
            minutes += self.cutting(place, mask)
            offences += _offences(self.ground.tasks, place, later)
            mask |= 1 << place
        rest = self.best(mask)
        if rest is None:
            return None
        places = (*visit, *rest.places)
        return _Best(minutes + rest.minutes, offences + rest.offences, places, rest.ways)


def _is_better(one: _Best, other: _Best) -> bool:
    if abs(one.minutes - other.minutes) > 1e-6:
        return one.minutes < other.minutes
    return one.offences < other.offences


def _visit(ground: Ground, waiting: list[int], mask: int) -> list[int]:
    """All tasks of one bit that are free now, or become so by each other."""
    visit: list[int] = []
    waiting = sorted(waiting, key=lambda place: not ground.tasks[place].single.relief)
    again = True
    while again:
        again = False
        for place in [each for each in waiting if each not in visit]:
            if is_ready(ground, place, mask):
                visit.append(place)
                mask |= 1 << place
                again = True
    return visit


def is_ready(ground: Ground, place: int, mask: int) -> bool:
    """Whether a task may be taken: roughed out before, and no tool in standing stock."""
    tasks = ground.tasks
    if not tasks[place].single.relief:
        earlier = ground.meeting(place, ground.everything & ~mask)
        setup = tasks[place].single.setup
        for other, task in enumerate(tasks):
            waits = earlier >> other & 1 and task.single.relief and task.single.setup == setup
            if waits:
                return False
    return ground.is_free(place, mask)


def _offences(tasks: Sequence[Task], place: int, left: Sequence[int]) -> int:
    """How many tasks that usually come before this one are still to come."""
    here = usual_rank(tasks[place])
    return sum(usual_rank(tasks[other]) < here for other in left)


def usual_rank(task: Task) -> tuple[float, float]:
    """Its place in the usual order of one setup (common practice)."""
    if task.single.relief:
        return (-1.0, 0.0)
    kind = 4 if has_undercut(task.bit) else KINDS.get(task.bit.shape.word, 2)
    return (float(kind), -task.diameter)

"""Paths of lines and arcs in files: ``start = [x, z]``, ``path = [{ to, center, turn }, ...]``."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from profilestack.errors import GeometryError
from profilestack.files.kinds import PLACE, Word
from profilestack.files.reading import (
    UNREADABLE,
    Key,
    Reading,
    Table,
    Values,
    as_table,
    described,
    joined,
    read_keys,
)
from profilestack.geometry.path import SAME_POINT, ArcTo, Path, Point
from profilestack.geometry.region import crossing_of

CHORD = 0.001
"""Paths are looked at for crossings as points at this chord error [mm]."""

NO_WIDTH = 1e-6
"""A target narrower than this [mm], or a closed one of less area [mm2], has no width."""

STEP_KEYS = (
    Key("to", PLACE, required=True),
    Key("center", PLACE),
    Key("turn", Word(("cw", "ccw"))),
)


@dataclass(frozen=True, slots=True)
class Steps:
    """The list behind ``path``: still the keys of each step, which need a start to mean anything.

    Reading gives one ``Values`` for each step.
    """

    sample: tuple[Values, ...] = ()
    expected: str = "a list of steps such as { to = [62, 25] }"

    def read(self, reading: Reading, where: str, value: object) -> Any:
        """The steps' keys; wrong ones are told."""
        if not isinstance(value, list):
            reading.refuse(where, f"is {described(value)}", self.expected)
            return UNREADABLE
        steps = []
        for number, item in enumerate(value, 1):
            place = f"{where}[{number}]"
            table = as_table(reading, place, item)
            if table is None:
                return UNREADABLE
            steps.append(_step(reading, place, table))
        return tuple(steps)

    def write(self, value: Path, units: str) -> Any:
        """The steps of a path."""
        steps = []
        for step in value.steps:
            keys: dict[str, Any] = {"to": PLACE.write(step.to, units)}
            if isinstance(step, ArcTo):
                keys |= {"center": PLACE.write(step.center, units), "turn": step.turn}
            steps.append(keys)
        return steps


PATH_KEYS = (
    Key("start", PLACE, required=True),
    Key("path", Steps(), required=True),
)


_TRIANGLE = Path((0.0, 0.0)).line((1.0, 0.0)).line((1.0, 1.0)).line((0.0, 0.0))


@dataclass(frozen=True, slots=True)
class Drawn:
    """A whole path in one key, as ``outline = { start = [0, 0], path = [...] }``."""

    closed: bool = False
    sample: Path = _TRIANGLE
    expected: str = "a path: { start = [x, z], path = [...] }"

    def read(self, reading: Reading, where: str, value: object) -> Any:
        """The path; what is wrong with it is told."""
        table = as_table(reading, where, value)
        if table is None:
            return UNREADABLE
        values = read_keys(reading, where, table, PATH_KEYS)
        path = path_of(reading, values, closed=self.closed)
        return UNREADABLE if path is None else path

    def write(self, value: Path, units: str) -> Any:
        """Start and steps of a path."""
        return path_table(value, units)


def path_table(path: Path, units: str) -> Table:
    """The keys ``start`` and ``path`` of a path."""
    return {"start": PLACE.write(path.start, units), "path": Steps().write(path, units)}


def path_of(reading: Reading, values: Values, *, closed: bool) -> Path | None:
    """The path of a table's ``start`` and ``path``, or None after telling what is wrong.

    A closed path may leave out the straight step back to its start.
    """
    if {"start", "path"} & values.wrong:
        return None
    path = Path(values.good["start"])
    is_sound = True
    for step in values.good["path"]:
        if "to" in step.wrong:
            return None  # nobody knows where the next step starts
        before = len(reading.problems)
        path = _longer(reading, path, step)
        is_sound &= len(reading.problems) == before and not step.wrong
    if not is_sound:
        return None
    if closed and path.steps and not path.is_closed:
        path = path.line(path.start)
    if told := _shape_problem(path, closed):
        reading.refuse(values.where, *told)
        return None
    return path


def _step(reading: Reading, where: str, table: Table) -> Values:
    step = read_keys(reading, where, table, STEP_KEYS)
    for word, other in (("center", "turn"), ("turn", "center")):
        if word in table and other not in table:
            expected = "both center and turn for an arc, neither for a line"
            reading.refuse(joined(where, other), "is missing", expected)
            step.wrong.add(other)
    return step


def _longer(reading: Reading, path: Path, step: Values) -> Path:
    """The path with one more step; an impossible one is told and walked straight."""
    to: Point = step.good["to"]
    if "center" in step.wrong or "turn" in step.wrong:
        return path.line(to)
    try:
        if "center" in step.good:
            return path.arc(to, step.good["center"], step.good["turn"])
    except GeometryError as error:
        reading.refuse(step.where, str(error), "a centre as far from the start as from the end")
        return path.line(to)
    if math.dist(path.end, to) <= SAME_POINT:
        reading.refuse(step.where, "leads to where it starts", "another point")
    return path.line(to)


def _shape_problem(path: Path, closed: bool) -> tuple[str, str] | None:
    """What makes a path useless as an outline: text and what was expected."""
    if not path.steps:
        return ("is one point", "one step at least in path")
    points = path.flatten(CHORD)
    if closed and abs(path.signed_area) < NO_WIDTH:
        return ("encloses nothing: it has no width", "a path around some wood")
    if crossing := crossing_of(points):
        text = f"crosses or touches itself near ({crossing[0]:.3f}, {crossing[1]:.3f}) mm"
        return (text, "a path that does not meet itself")
    return None

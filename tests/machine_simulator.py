"""A machine that reads RS-274 code and cuts with plain polygons.

Written from the meaning of the words alone: it shares nothing with the writer. Every word that is
not in the short list of the project's reference is an error, as is a move that a real control
would refuse. Lengths in mm.
"""

from __future__ import annotations

import itertools
import math
import re
from dataclasses import dataclass, field
from functools import partial

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

KNOWN = {
    "G0", "G1", "G2", "G3", "G17", "G20", "G21", "G54", "G90", "G91", "G94", "M2", "M3", "M5", "M6",
}  # fmt: skip
LETTERS = set("FIJSTXYZGM")
CHORD = 1e-4


@dataclass
class Swing:
    """One move: its chain of places (n, 3) [mm], the bit and spindle then."""

    line: int
    kind: str
    places: np.ndarray
    tool: int
    rpm: float
    feed: float


@dataclass
class Machine:
    """The state of the control, and every move that it made."""

    inch: bool | None = None
    absolute: bool | None = None
    offset: bool = False
    plane: bool = False
    per_minute: bool = False
    spindle: bool = False
    rpm: float = 0.0
    feed: float = 0.0
    chosen: int = 0
    tool: int = 1  # the bit that the operator put in before the start
    motion: str = ""
    ended: bool = False
    place: list[float | None] = field(default_factory=lambda: [None, None, None])
    moves: list[Swing] = field(default_factory=list)
    changes: list[int] = field(default_factory=list)


class CodeError(AssertionError):
    """What a control would refuse."""


def run_code(data: bytes) -> Machine:
    """Read a whole program."""
    machine = Machine()
    text = data.decode("ascii")
    for number, row in enumerate(text.splitlines(), 1):
        if len(row) >= 80:
            raise CodeError(f"line {number} has {len(row)} characters")
        if machine.ended and row.strip():
            raise CodeError(f"line {number} follows the end")
        _block(machine, number, row)
    if not machine.ended:
        raise CodeError("the program does not end")
    return machine


def _block(machine: Machine, number: int, row: str) -> None:
    bare = re.sub(r"\([^()]*\)", "", row)
    if "(" in bare or ")" in bare:
        raise CodeError(f"line {number}: a comment within a comment")
    words = re.findall(r"([A-Z])(-?\d+(?:\.\d+)?)(?=[A-Z\s]|$)", bare)
    if "".join(letter + value for letter, value in words) != re.sub(r"\s", "", bare):
        raise CodeError(f"line {number}: {row!r} holds what is no word")
    values: dict[str, float] = {}
    codes = []
    for letter, value in words:
        if letter not in LETTERS:
            raise CodeError(f"line {number}: the letter {letter}")
        if letter in "GM":
            code = f"{letter}{int(value)}"
            if code not in KNOWN:
                raise CodeError(f"line {number}: the word {code}")
            codes.append(code)
        else:
            if letter in values:
                raise CodeError(f"line {number}: {letter} twice")
            values[letter] = float(value)
    _apply(machine, number, codes, values)


def _apply(machine: Machine, number: int, codes: list[str], values: dict[str, float]) -> None:
    for code in codes:
        _set_mode(machine, code)
    unit = 25.4 if machine.inch else 1.0
    machine.rpm = values.get("S", machine.rpm)
    machine.chosen = int(values.get("T", machine.chosen))
    if "F" in values:
        machine.feed = values["F"] * unit
    _switch(machine, number, codes)
    if any(letter in values for letter in "XYZ"):
        _move(machine, number, values, unit)
    if "M2" in codes:
        if machine.spindle:
            raise CodeError(f"line {number}: the spindle turns at the end")
        machine.ended = True


def _set_mode(machine: Machine, code: str) -> None:
    if code in ("G20", "G21"):
        machine.inch = code == "G20"
    elif code in ("G90", "G91"):
        machine.absolute = code == "G90"
    elif code == "G17":
        machine.plane = True
    elif code == "G94":
        machine.per_minute = True
    elif code == "G54":
        machine.offset = True
    elif code in ("G0", "G1", "G2", "G3"):
        machine.motion = code


def _switch(machine: Machine, number: int, codes: list[str]) -> None:
    """Change of bit, spindle on and off."""
    if "M6" in codes:
        if machine.spindle:
            raise CodeError(f"line {number}: the bit is changed while it turns")
        if machine.chosen == 0:
            raise CodeError(f"line {number}: no bit was named")
        machine.tool = machine.chosen
        machine.place = [*machine.place[:2], None]  # z is zeroed anew: it stands anywhere
        machine.changes.append(machine.tool)
    if "M3" in codes:
        if machine.rpm <= 0.0:
            raise CodeError(f"line {number}: no speed")
        machine.spindle = True
    if "M5" in codes:
        machine.spindle = False


def _move(machine: Machine, number: int, values: dict[str, float], unit: float) -> None:
    stated = (machine.inch is not None, machine.absolute, machine.plane, machine.per_minute)
    if not all(stated) or not machine.offset:
        raise CodeError(f"line {number}: units, plane, distance, feed mode or offset not stated")
    target = list(machine.place)
    for axis, letter in enumerate("XYZ"):
        if letter in values:
            target[axis] = values[letter] * unit
    before = machine.place
    machine.place = target
    if any(value is None for value in before):
        if machine.motion != "G0":
            raise CodeError(f"line {number}: cuts before it knows where it is")
        if target[2] is None:
            raise CodeError(f"line {number}: goes across before it knows its height")
        if any(value is None for value in target):
            return  # first the height, then the place
        before = [a if a is not None else b for a, b in zip(before, target, strict=True)]
    if machine.motion != "G0" and not (machine.spindle and machine.feed > 0.0):
        raise CodeError(f"line {number}: cuts without spindle or feed")
    start, end = np.array(before, dtype=float), np.array(target, dtype=float)
    if machine.motion in ("G2", "G3"):
        places = _arc(number, start, end, values, unit, machine.motion == "G2")
    else:
        places = np.stack((start, end))
    kind = machine.motion
    machine.moves.append(Swing(number, kind, places, machine.tool, machine.rpm, machine.feed))


def _arc(
    number: int,
    start: np.ndarray,
    end: np.ndarray,
    values: dict[str, float],
    unit: float,
    clockwise: bool,
) -> np.ndarray:
    center = start[:2] + np.array((values.get("I", 0.0), values.get("J", 0.0))) * unit
    first, last = math.dist(center, start[:2]), math.dist(center, end[:2])
    if abs(first - last) > 0.002 or first <= 0.0:
        raise CodeError(f"line {number}: radii {first} and {last}")
    begin = math.atan2(*(start[:2] - center)[::-1])
    turned = (math.atan2(*(end[:2] - center)[::-1]) - begin) % math.tau
    if clockwise:
        turned -= math.tau
    if abs(turned) < 1e-9:
        turned = -math.tau if clockwise else math.tau
    count = max(2, math.ceil(abs(turned) / (2.0 * math.acos(1.0 - CHORD / first))))
    share = np.linspace(0.0, 1.0, count + 1)
    angles = begin + turned * share
    radii = first + (last - first) * share
    return np.column_stack((
        center[0] + radii * np.cos(angles), center[1] + radii * np.sin(angles),
        start[2] + (end[2] - start[2]) * share,
    ))  # fmt: skip


def swept(moves: list[Swing], tool: int, silhouette: BaseGeometry, at) -> BaseGeometry:
    """What a bit sweeps out of the section at one place of the part.

    ``silhouette`` is the bit about its axis and tip. ``at`` gives for a chain of places the
    (x, z) at which the chain passes the section's plane.
    """
    found = []
    for move in moves:
        if move.tool == tool and move.kind != "G0":
            for x, z in at(move.places):
                found.append(shapely.transform(silhouette, partial(np.add, (x, z))))
    return shapely.union_all(found)


def crossing_plane(places: np.ndarray, y: float) -> list[tuple[float, float]]:
    """Where a chain passes the upright plane across the part at ``y``: (x, z)."""
    found = []
    for a, b in itertools.pairwise(places):
        low, high = sorted((a[1], b[1]))
        if low <= y <= high and low < high:
            share = (y - a[1]) / (b[1] - a[1])
            point = a + share * (b - a)
            found.append((float(point[0]), float(point[2])))
    return found


def crossing_ray(
    places: np.ndarray, center: tuple[float, float], angle: float, left: float
) -> list[tuple[float, float]]:
    """Where a chain passes the ray from ``center`` at ``angle``: (distance - left, z)."""
    along = np.array((math.cos(angle), math.sin(angle)))
    off = places[:, :2] - np.array(center)
    far, side = off @ along, along[0] * off[:, 1] - along[1] * off[:, 0]
    found = []
    for k in range(len(places) - 1):
        if side[k] * side[k + 1] <= 0.0 and side[k] != side[k + 1]:
            share = side[k] / (side[k] - side[k + 1])
            radius = far[k] + share * (far[k + 1] - far[k])
            if radius > 0.0:
                z = places[k, 2] + share * (places[k + 1, 2] - places[k, 2])
                found.append((float(radius - left), float(z)))
    return found

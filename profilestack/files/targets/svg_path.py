"""The path language of SVG: M L H V C S Q T A Z, absolute and relative."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field

from profilestack.errors import InputError, Problem
from profilestack.files.targets.svg_geometry import Bezier, Drawn, Ellipse, Straight
from profilestack.files.targets.wishes import MOST_NUMBERS
from profilestack.geometry.path import Point

Subpath = list[Drawn]

COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
"""How many numbers each command takes."""

_NUMBER = re.compile(r"[\s,]*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)")
_FLAG = re.compile(r"[\s,]*([01])")
_COMMAND = re.compile(r"[\s,]*([a-zA-Z])")
_REST = re.compile(r"[\s,]*$")


def subpaths(text: str, where: str) -> list[Subpath]:
    """The subpaths of a path's ``d``.

    Raises:
        InputError: it is not understood; the position is told.
    """
    pen = _Pen(where)
    place, numbers = 0, 0
    command = ""
    while not _REST.match(text, place):
        match = _COMMAND.match(text, place)
        if match:
            command, place = match.group(1), match.end()
            if command.upper() not in COUNTS:
                raise _refusal(where, f"{command!r} is no path command", place)
            if command.upper() == "Z":
                pen.close()
                continue
        elif not command or command.upper() == "Z":
            raise _refusal(
                where, f"{text[place : place + 12]!r} stands where a command must", place
            )
        values, place = _values(text, place, command.upper(), where)
        numbers += len(values)
        if numbers > MOST_NUMBERS:
            raise InputError(Problem(where, f"its path has more than {MOST_NUMBERS} numbers"))
        pen.draw(command, values)
        if command in "Mm":  # more pairs behind a move are lines
            command = "L" if command == "M" else "l"
    pen.lift()
    return pen.done


def _values(text: str, place: int, command: str, where: str) -> tuple[list[float], int]:
    values = []
    for number in range(COUNTS[command]):
        pattern = _FLAG if command == "A" and number in (3, 4) else _NUMBER
        match = pattern.match(text, place)
        value = float(match.group(1)) if match else math.nan
        if match is None or not math.isfinite(value):
            found = text[place : place + 12] or "the end"
            raise _refusal(where, f"{found!r} stands where a number of {command} must", place)
        values.append(value)
        place = match.end()
    return values, place


def _refusal(where: str, told: str, place: int) -> InputError:
    return InputError(
        Problem(where, f"its path is not understood at character {place + 1}: {told}")
    )


@dataclass(slots=True)
class _Pen:
    """Draws command by command."""

    where: str
    here: Point = (0.0, 0.0)
    begun: Point = (0.0, 0.0)
    mirror: tuple[str, Point] | None = None
    pieces: Subpath = field(default_factory=list)
    done: list[Subpath] = field(default_factory=list)

    def draw(self, command: str, values: list[float]) -> None:
        """One command with its numbers."""
        word = command.upper()
        base = self.here if command.islower() else (0.0, 0.0)
        mirror, self.mirror = self.mirror, None
        if word == "A":
            end = (base[0] + values[5], base[1] + values[6])
            self._arc(values, end)
            return
        if word in "HV":
            k = 0 if word == "H" else 1
            end = (base[0] + values[0], self.here[1]) if k == 0 else (
                self.here[0], base[1] + values[0]
            )  # fmt: skip
            self._to(Straight(self.here, end), end)
            return
        points = [
            (base[0] + x, base[1] + y) for x, y in zip(values[::2], values[1::2], strict=True)
        ]
        if word == "M":
            self.lift()
            self.here = self.begun = points[0]
        elif word == "L":
            self._to(Straight(self.here, points[0]), points[0])
        else:
            self._curve(word, points, mirror)

    def _curve(self, word: str, points: list[Point], mirror: tuple[str, Point] | None) -> None:
        kind = "cubic" if word in "CS" else "square"
        if word in "ST":
            handle = self.here
            if mirror is not None and mirror[0] == kind:
                handle = (2.0 * self.here[0] - mirror[1][0], 2.0 * self.here[1] - mirror[1][1])
            points = [handle, *points]
        self.mirror = (kind, points[-2])
        self._to(Bezier((self.here, *points)), points[-1])

    def _arc(self, values: list[float], end: Point) -> None:
        piece = arc_between(self.here, end, values)
        if piece is not None:
            self._to(piece, end)

    def _to(self, piece: Drawn, end: Point) -> None:
        self.pieces.append(piece)
        self.here = end

    def close(self) -> None:
        """Back to where the subpath began."""
        if self.pieces and math.dist(self.here, self.begun) > 0.0:
            self._to(Straight(self.here, self.begun), self.begun)
        self.here = self.begun
        self.mirror = None
        self.lift()

    def lift(self) -> None:
        """End the subpath."""
        if self.pieces:
            self.done.append(self.pieces)
        self.pieces = []


def arc_between(start: Point, end: Point, values: list[float]) -> Drawn | None:
    """An elliptical arc by its ends: rx, ry, tilt [deg], large, sweep (SVG 1.1, appendix F.6.5,
    from memory); None where both ends are one point.
    """
    rx, ry, tilt = abs(values[0]), abs(values[1]), math.radians(values[2])
    large, positive = bool(values[3]), bool(values[4])
    if start == end:
        return None
    if rx == 0.0 or ry == 0.0:
        return Straight(start, end)
    cosine, sine = math.cos(tilt), math.sin(tilt)
    dx, dy = (start[0] - end[0]) / 2.0, (start[1] - end[1]) / 2.0
    x, y = cosine * dx + sine * dy, -sine * dx + cosine * dy
    # radii too small to reach are grown until they do
    short = (x / rx) ** 2 + (y / ry) ** 2
    if short > 1.0:
        rx, ry = rx * math.sqrt(short), ry * math.sqrt(short)
    below = (rx * y) ** 2 + (ry * x) ** 2
    factor = math.sqrt(max(0.0, ((rx * ry) ** 2 - below) / below))
    if large == positive:
        factor = -factor
    cx, cy = factor * rx * y / ry, -factor * ry * x / rx
    first = math.atan2((y - cy) / ry, (x - cx) / rx)
    last = math.atan2((-y - cy) / ry, (-x - cx) / rx)
    sweep = (last - first) % math.tau
    if not positive:
        sweep -= math.tau
    center = (
        cosine * cx - sine * cy + (start[0] + end[0]) / 2.0,
        sine * cx + cosine * cy + (start[1] + end[1]) / 2.0,
    )
    long, across = (rx * cosine, rx * sine), (-ry * sine, ry * cosine)
    return Ellipse(center, long, across, first, sweep, start, end)

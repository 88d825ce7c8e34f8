"""The kinds of values in our files: lengths, angles, numbers, words, points."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from profilestack.errors import LengthError, nearest_word
from profilestack.files.reading import UNREADABLE, Reading, described, shown
from profilestack.units import LARGEST_LENGTH, file_length, from_units, parse_length, to_units


@dataclass(frozen=True, slots=True)
class Length:
    """A length [mm]: a bare number in the file's units, or a text with its own unit."""

    sample: float = 1.0
    expected: str = 'a length: a number, or a text with its unit such as "1 3/8 in"'

    def read(self, reading: Reading, where: str, value: object) -> Any:
        if isinstance(value, str):
            try:
                return parse_length(value, None)
            except LengthError as error:
                first = error.problems[0]
                reading.refuse(where, first.text, first.expected)
                return UNREADABLE
        number = _number(reading, where, value, self.expected)
        if number is None:
            return UNREADABLE
        # a number beyond this is too large in any unit, and may be too large to be converted
        mm = from_units(number, reading.units) if abs(number) <= LARGEST_LENGTH else number
        if abs(mm) > LARGEST_LENGTH:
            most = f"at most {to_units(LARGEST_LENGTH, reading.units):.0f} {reading.units}"
            reading.refuse(where, f"{shown(value)} is too large", most)
            return UNREADABLE
        return mm

    def write(self, value: float, units: str) -> Any:
        return file_length(value, units)


@dataclass(frozen=True, slots=True)
class Number:
    """A plain number: degrees, revolutions a minute, money, a factor."""

    sample: float = 1.0
    expected: str = "a number"

    def read(self, reading: Reading, where: str, value: object) -> Any:
        number = _number(reading, where, value, self.expected)
        return UNREADABLE if number is None else number

    def write(self, value: float, units: str) -> Any:
        number = float(value)
        return int(number) if number.is_integer() and abs(number) < 1e15 else number


@dataclass(frozen=True, slots=True)
class Whole:
    """A whole number."""

    sample: int = 1
    expected: str = "a whole number"

    def read(self, reading: Reading, where: str, value: object) -> Any:
        if isinstance(value, bool) or not isinstance(value, int):
            reading.refuse(where, f"is {described(value)}", self.expected)
            return UNREADABLE
        if abs(value) > 10**9:
            reading.refuse(where, f"{shown(value)} is too large", "at most 1000000000")
            return UNREADABLE
        return value

    def write(self, value: int, units: str) -> Any:
        return int(value)


@dataclass(frozen=True, slots=True)
class Flag:
    """Yes or no."""

    sample: bool = True
    expected: str = "true or false"

    def read(self, reading: Reading, where: str, value: object) -> Any:
        if isinstance(value, bool):
            return value
        reading.refuse(where, f"is {described(value)}", self.expected)
        return UNREADABLE

    def write(self, value: bool, units: str) -> Any:
        return value


@dataclass(frozen=True, slots=True)
class Text:
    """Any text."""

    sample: str = "x"
    expected: str = 'a text in quotes, as "edge"'

    def read(self, reading: Reading, where: str, value: object) -> Any:
        if isinstance(value, str):
            return value
        reading.refuse(where, f"is {described(value)}", self.expected)
        return UNREADABLE

    def write(self, value: str, units: str) -> Any:
        return value


@dataclass(frozen=True, slots=True)
class Word:
    """One of a few words."""

    choices: tuple[str, ...]

    @property
    def sample(self) -> str:
        """The first of the words."""
        return self.choices[0]

    @property
    def expected(self) -> str:
        """All of the words."""
        return "one of " + ", ".join(f'"{choice}"' for choice in self.choices)

    def read(self, reading: Reading, where: str, value: object) -> Any:
        if not isinstance(value, str):
            reading.refuse(where, f"is {described(value)}", self.expected)
            return UNREADABLE
        if value not in self.choices:
            hint = nearest_word(value, self.choices)
            reading.refuse(where, f"{shown(value)} is unknown", self.expected, hint)
            return UNREADABLE
        return value

    def write(self, value: str, units: str) -> Any:
        return value


@dataclass(frozen=True, slots=True)
class Place:
    """A point: two lengths in a list [mm]."""

    sample: tuple[float, float] = (0.0, 0.0)
    expected: str = "a point [x, z]: a list of two lengths"

    def read(self, reading: Reading, where: str, value: object) -> Any:
        if not isinstance(value, list):
            reading.refuse(where, f"is {described(value)}", self.expected)
            return UNREADABLE
        if len(value) != 2:
            reading.refuse(where, f"is a list of {len(value)}", self.expected)
            return UNREADABLE
        first, second = (
            LENGTH.read(reading, f"{where}[{number}]", item) for number, item in enumerate(value, 1)
        )
        if first is UNREADABLE or second is UNREADABLE:
            return UNREADABLE
        return (first, second)

    def write(self, value: Iterable[float], units: str) -> Any:
        return [file_length(number, units) for number in value]


LENGTH = Length()
ANGLE = Number(45.0, "an angle in degrees: a number")
NUMBER = Number()
WHOLE = Whole()
FLAG = Flag()
TEXT = Text()
PLACE = Place()


def _number(reading: Reading, where: str, value: object, expected: str) -> float | None:
    """The value when it is a finite number; true and false are none."""
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        reading.refuse(where, f"is {described(value)}", expected)
        return None
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        reading.refuse(where, f"{shown(value)} is not finite", expected)
        return None
    return number

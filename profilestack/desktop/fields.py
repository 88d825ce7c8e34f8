"""Fields for lengths, angles and whole numbers; see :class:`NumberField` for how they behave."""

from __future__ import annotations

import math
from typing import Unpack

from PySide6.QtWidgets import QWidget

from profilestack.desktop.document import Document
from profilestack.desktop.number_field import Limits, NumberField
from profilestack.errors import InputError, Problem
from profilestack.session.pass_edits import nudge_step
from profilestack.units import format_length, parse_length

__all__ = ["AngleField", "LengthField", "NumberField", "PlainField", "WholeField"]


class LengthField(NumberField):
    """A length [mm], typed with or without a unit; bare numbers are in the document's units."""

    def __init__(
        self,
        document: Document,
        name: str,
        parent: QWidget | None = None,
        **limits: Unpack[Limits],
    ) -> None:
        self._document = document
        super().__init__(name, parent, **limits)
        document.units_changed.connect(self._units_changed)

    def read(self, text: str) -> float:
        """The length in mm."""
        if not text:
            raise InputError(Problem("", "is empty", "a length such as 19 mm or 1 3/8 in"))
        return parse_length(text, self._document.units)

    def say(self, number: float) -> str:
        """The length with its unit."""
        return format_length(number, self._document.units)

    def step(self) -> float:
        """The shop's step [mm]."""
        return nudge_step(self._document.units)

    def hint(self) -> str:
        """The length in both units."""
        keys = f"Up and Down change it by {self.say(self.step())} (Shift: ten, Ctrl: a tenth)."
        forms = "Takes 19 mm, 3/4 in, 1 3/8 in."
        if self._value is None:
            return f"{forms} {keys}"
        both = f"{format_length(self._value, 'mm')} = {format_length(self._value, 'in')}"
        return f"{both}\n{forms} {keys}"

    def _units_changed(self) -> None:
        if not self.isModified():
            self._put(self._value)


class AngleField(NumberField):
    """An angle in degrees."""

    def read(self, text: str) -> float:
        """The angle; a degree sign, "deg" or "degrees" may follow the number."""
        plain = text.lower().replace(",", ".").replace("−", "-")
        for word in ("degrees", "degree", "deg", "°"):
            plain = plain.removesuffix(word).rstrip()
        return _number(plain, text, "an angle in degrees, as 45 or 22.5")

    def say(self, number: float) -> str:
        """The angle with its sign."""
        return f"{round(number, 6):.10g}°"

    def step(self) -> float:
        """A degree."""
        return 1.0


class WholeField(NumberField):
    """A whole number."""

    def read(self, text: str) -> float:
        """The number."""
        number = _number(text, text, "a whole number")
        if number != round(number):
            raise InputError(Problem("", f"{text!r} is not whole", "a whole number"))
        return number

    def say(self, number: float) -> str:
        """The number without decimals."""
        return str(round(number))

    def step(self) -> float:
        """One."""
        return 1.0

    def _stepped(self, start: float, steps: float) -> float:
        # a tenth of one is no step
        return start + math.copysign(max(1, round(abs(steps))), steps)


class PlainField(NumberField):
    """A plain number, with the unit that stands behind it, as rpm."""

    def __init__(
        self,
        name: str,
        parent: QWidget | None = None,
        *,
        unit: str = "",
        **limits: Unpack[Limits],
    ) -> None:
        self._unit = unit
        super().__init__(name, parent, **limits)

    def read(self, text: str) -> float:
        """The number; its unit may follow."""
        plain = text.lower().replace("−", "-").removesuffix(self._unit).strip()
        return _number(plain.replace(",", "."), text, "a number")

    def say(self, number: float) -> str:
        """The number with its unit."""
        return f"{round(number, 6):.10g} {self._unit}".strip()

    def step(self) -> float:
        """One."""
        return 1.0


def _number(plain: str, text: str, expected: str) -> float:
    """A finite decimal; no exponents, no words, no digits of other scripts."""
    digits = plain.removeprefix("-").removeprefix("+").replace(".", "", 1)
    if not (digits.isascii() and digits.isdigit()) or len(digits) > 15:
        raise InputError(Problem("", f"{text!r} is no number" if text else "is empty", expected))
    return float(plain)

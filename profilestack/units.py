"""Lengths as text, in and out: mm, inches, fractions. The only place that knows 25.4.

Reading is exact (``fractions.Fraction``): ``1 3/8"``, ``1-3/8 in``, ``½ in``, ``2 ft 3 in``,
``19 mm + 1/2 in``, ``12,5 mm``. A number without a unit is in the units that the caller names.
There are no thousands separators, no exponents and no arithmetic but sums, so that nothing can be
read as something else and nothing takes long. Angles are plain degrees and do not come here.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache
from typing import NoReturn

from profilestack.errors import InputError, LengthError, Problem, nearest_word

INCH = Fraction(254, 10)
"""One inch [mm], exactly."""

MILLIMETRES: dict[str, Fraction] = {"mm": Fraction(1), "in": INCH}
"""The units that a document can be in, and what one of each is worth [mm]."""

LONGEST_TEXT = 64
"""Characters in a length: more is no length, and is not looked at."""

LARGEST_LENGTH = 10**6
"""No length may be larger [mm]: polygon engines lose their footing far from zero."""

FINEST_FRACTION = 64
"""Inches are shown as fractions down to this part of an inch."""

USUAL_STEP = {"mm": 0.01, "in": 0.001}
"""The step that lengths are shown to, in each unit."""

SHORT_NUMBER = 6
"""Digits of a bare number that a file may have before a text in mm is thought easier to read."""

_MARKS = {
    "mm": Fraction(1),
    "millimetre": Fraction(1),
    "millimetres": Fraction(1),
    "millimeter": Fraction(1),
    "millimeters": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": INCH,
    "inch": INCH,
    "inches": INCH,
    '"': INCH,
    "″": INCH,
    "”": INCH,
    "''": INCH,
    "ft": 12 * INCH,
    "foot": 12 * INCH,
    "feet": 12 * INCH,
    "'": 12 * INCH,
    "′": 12 * INCH,
    "’": 12 * INCH,
}
_FOOT = 12 * INCH

_VULGAR = {
    "½": Fraction(1, 2), "⅓": Fraction(1, 3), "⅔": Fraction(2, 3), "¼": Fraction(1, 4),
    "¾": Fraction(3, 4), "⅕": Fraction(1, 5), "⅖": Fraction(2, 5), "⅗": Fraction(3, 5),
    "⅘": Fraction(4, 5), "⅙": Fraction(1, 6), "⅚": Fraction(5, 6), "⅛": Fraction(1, 8),
    "⅜": Fraction(3, 8), "⅝": Fraction(5, 8), "⅞": Fraction(7, 8), "⅒": Fraction(1, 10),
}  # fmt: skip

_TOKENS = re.compile(
    rf"""
    (?P<decimal> [0-9]+,[0-9]+ | [0-9]*\.[0-9]+ | [0-9]+\. )
  | (?P<whole>   [0-9]+ )
  | (?P<vulgar>  [{"".join(_VULGAR)}] )
  | (?P<slash>   [/⁄] )
  | (?P<plus>    \+ )
  | (?P<minus>   [-−] )
  | (?P<unit>    [A-Za-z]+ | '' | ["″”'′’] )
    """,
    re.VERBOSE,
)


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str
    text: str
    position: int
    spaced: bool  # whether a blank stands before it


@dataclass(frozen=True, slots=True)
class _Quantity:
    """A number with its unit [mm each], or without (None)."""

    value: Fraction
    unit: Fraction | None
    position: int


def parse_length_exact(text: str, units: str | None) -> Fraction:
    """The length that ``text`` means [mm], exactly.

    A bare number is in ``units`` ("mm" or "in"); where ``units`` is None it is refused.

    Raises:
        LengthError: it is no length; the error knows the position.
        InputError: ``units`` is neither "mm" nor "in".
    """
    bare = Fraction(1) if units is None else millimetres_in(units)
    if len(text) > LONGEST_TEXT:
        raise LengthError(text[:24] + "...", LONGEST_TEXT, f"more than {LONGEST_TEXT} characters")
    parser = _Parser(text, _tokens(text))
    quantities = parser.sum()
    with_unit = [quantity for quantity in quantities if quantity.unit is not None]
    without = [quantity for quantity in quantities if quantity.unit is None]
    if without and (with_unit or units is None):
        beside = " beside one that has a unit" if with_unit else ""
        reason = f"a number without a unit{beside}"
        raise LengthError(text, without[0].position, reason)
    total = sum((q.value * (bare if q.unit is None else q.unit) for q in quantities), Fraction())
    if abs(total) > LARGEST_LENGTH:
        raise LengthError(text, 0, f"more than {LARGEST_LENGTH} mm")
    return total


def parse_length(text: str, units: str | None) -> float:
    """The length that ``text`` means [mm], as the nearest float.

    A bare number is in ``units`` ("mm" or "in"); where ``units`` is None it is refused.

    Raises:
        LengthError: it is no length; the error knows the position.
        InputError: ``units`` is neither "mm" nor "in".
    """
    return float(parse_length_exact(text, units))


def format_length(mm: float, units: str, step: float | None = None) -> str:
    """The length ``mm`` [mm] as text in ``units``, with its unit.

    Inches that are a whole number of 64ths are a fraction, as ``1-3/8 in``; everything else has
    the decimals of ``step`` (in ``units``; usually 0.01 mm or 0.001 in) without trailing zeros,
    halves rounded away from 0.
    """
    unit = millimetres_in(units)
    if not math.isfinite(mm):
        return f"{mm} {units}"
    if units == "in" and (fraction := _as_fraction(mm)):
        return f"{fraction} in"
    digits = _decimals(USUAL_STEP[units] if step is None else step)
    if units == "mm":  # as exact, and quicker: many are shown while a pass is dragged
        steps = abs(Decimal(repr(float(mm)))).scaleb(digits)
        rounded = int(steps.to_integral_value(ROUND_HALF_UP))
    else:
        rounded = math.floor(abs(_as_written(mm) / unit) * 10**digits + Fraction(1, 2))
    sign = "-" if mm < 0 and rounded else ""
    whole, behind = divmod(rounded, 10**digits)
    decimals = f"{behind:0{digits}d}".rstrip("0") if digits else ""
    return f"{sign}{whole}{'.' if decimals else ''}{decimals} {units}"


def to_units(mm: float, units: str) -> float:
    """The length ``mm`` [mm] as a number in ``units``."""
    if units == "mm":
        return float(mm)  # many are asked for while a pass is dragged
    return float(_as_written(mm) / millimetres_in(units)) if math.isfinite(mm) else mm


def from_units(number: float, units: str) -> float:
    """A finite number in ``units`` as a length [mm].

    The number is taken as the decimal that a person would write for it, so that 0.1 in ``in`` is
    the same length as the text "0.1 in" and the number 2.54 in ``mm``.
    """
    return float(_as_written(number) * millimetres_in(units))


def file_length(mm: float, units: str) -> int | float | str:
    """What stands in a file in ``units`` for the length ``mm`` [mm].

    It reads back to the very same float: a bare number where a short one does (read by
    :func:`from_units`), else a text with its own unit where that is shorter, as "19 mm" in a file
    in inches, else a long number, else a long text. Only lengths below 1e-40 mm, for which no
    text is short enough, may be given by the nearest number.
    """
    text = f"{_positional(mm).removesuffix('.0')} mm"
    number = to_units(mm, units)
    for digits in range(1, 18):
        if digits > SHORT_NUMBER and len(text) <= digits + len(" mm"):
            return text
        number = float(f"{to_units(mm, units):.{digits}g}")
        if from_units(number, units) == mm:
            return int(number) if number.is_integer() else number
    return text if len(text) <= LONGEST_TEXT else number


def millimetres_in(units: str) -> Fraction:
    """One of ``units`` [mm].

    Raises:
        InputError: ``units`` is neither "mm" nor "in".
    """
    if units not in MILLIMETRES:
        hint = nearest_word(units, MILLIMETRES)
        raise InputError(Problem("units", f"{units!r} is unknown", '"mm" or "in"', hint))
    return MILLIMETRES[units]


def _tokens(text: str) -> list[_Token]:
    found: list[_Token] = []
    position = 0
    spaced = False
    while position < len(text):
        if text[position].isspace():
            spaced = True
            position += 1
            continue
        match = _TOKENS.match(text, position)
        if match is None:
            raise LengthError(text, position, f"{text[position]!r} has no meaning")
        found.append(_Token(match.lastgroup or "", match.group(), position, spaced))
        position = match.end()
        spaced = False
    return found


class _Parser:
    """Walks the tokens of one text; every refusal names the place."""

    def __init__(self, text: str, tokens: list[_Token]) -> None:
        self.text = text
        self.tokens = tokens
        self.next = 0

    def sum(self) -> list[_Quantity]:
        """[sign] term { + term }, every term's value with its sign."""
        sign = -1 if self.at("minus") else 1
        if self.at("minus") or self.at("plus"):
            self.next += 1
        quantities = [
            _Quantity(sign * q.value, q.unit, q.position) for q in self.term()
        ]  # the sign is that of the whole first term: -2 ft 3 in is -27 in
        while self.next < len(self.tokens):
            if self.at("minus"):
                self.refuse("a difference is not read; + is")
            if not self.at("plus"):
                self.refuse("a + was expected here")
            self.next += 1
            quantities += self.term()
        return quantities

    def term(self) -> list[_Quantity]:
        """A number with or without a unit, or feet and inches."""
        first = self.quantity()
        if first.unit != _FOOT:
            return [first]
        hyphen = self.at("minus") and not self.tokens[self.next].spaced and not self.gap_after()
        if hyphen and self.kind(1) in ("whole", "decimal", "vulgar"):
            self.next += 1  # 2'-3" as drawings have it
        if self.kind() not in ("whole", "decimal", "vulgar"):
            return [first]
        second = self.quantity()
        if second.unit not in (INCH, None):
            raise LengthError(self.text, second.position, "after feet only inches are read")
        return [first, second]

    def quantity(self) -> _Quantity:
        """A number and its unit, if it has one."""
        position = self.position()
        value = self.number()
        if not self.at("unit"):
            return _Quantity(value, None, position)
        token = self.tokens[self.next]
        unit = _MARKS.get(token.text.lower())
        if unit is None:
            hint = nearest_word(token.text.lower(), [mark for mark in _MARKS if mark.isalpha()])
            self.refuse(f"{token.text!r} is no unit{f', {hint}' if hint else ''}")
        self.next += 1
        return _Quantity(value, unit, position)

    def number(self) -> Fraction:
        """A decimal, a fraction, a whole number, or a whole number and a fraction."""
        kind = self.kind()
        if kind == "decimal":
            return Fraction(self.take().replace(",", "."))
        if kind == "vulgar":
            return _VULGAR[self.take()]
        if kind != "whole":
            self.refuse("a number was expected here")
        if self.kind(1) == "slash":
            return self.fraction()
        whole = Fraction(self.take())
        joined = self.at("minus") and not self.tokens[self.next].spaced and not self.gap_after()
        ahead = 1 if joined else 0
        if self.kind(ahead) == "vulgar":
            self.next += ahead
            return whole + _VULGAR[self.take()]
        if self.kind(ahead) == "whole" and self.kind(ahead + 1) == "slash":
            self.next += ahead
            position = self.position()
            part = self.fraction()
            if part >= 1:
                reason = "after a whole number a fraction below 1 was expected"
                raise LengthError(self.text, position, reason)
            return whole + part
        return whole

    def fraction(self) -> Fraction:
        """Whole number, slash, whole number."""
        above = int(self.take())
        self.next += 1
        if self.kind() != "whole":
            self.refuse("a whole number was expected below the fraction's bar")
        if int(self.tokens[self.next].text) == 0:
            self.refuse("a fraction cannot have 0 below its bar")
        return Fraction(above, int(self.take()))

    def kind(self, ahead: int = 0) -> str:
        """What the token ``ahead`` is; "" behind the last."""
        place = self.next + ahead
        return self.tokens[place].kind if place < len(self.tokens) else ""

    def at(self, kind: str) -> bool:
        """Whether the next token is of that kind."""
        return self.kind() == kind

    def gap_after(self) -> bool:
        """Whether a blank follows the next token."""
        return self.next + 1 < len(self.tokens) and self.tokens[self.next + 1].spaced

    def take(self) -> str:
        """The next token's text; it is used up."""
        self.next += 1
        return self.tokens[self.next - 1].text

    def position(self) -> int:
        """Where the next token stands."""
        return self.tokens[self.next].position if self.next < len(self.tokens) else len(self.text)

    def refuse(self, reason: str) -> NoReturn:
        """Raise the error at the next token."""
        raise LengthError(self.text, self.position(), reason)


def _as_fraction(mm: float) -> str:
    """The inches of ``mm`` in 64ths, or nothing when they are not whole 64ths to 1e-6 mm."""
    parts = round(Fraction(mm) / INCH * FINEST_FRACTION)
    if abs(Fraction(mm) - parts * INCH / FINEST_FRACTION) > Fraction(1, 10**6):
        return ""
    sign = "-" if parts < 0 else ""
    whole, rest = divmod(abs(parts), FINEST_FRACTION)
    if not rest:
        return f"{sign}{whole}"
    part = Fraction(rest, FINEST_FRACTION)
    lead = f"{whole}-" if whole else ""
    return f"{sign}{lead}{part.numerator}/{part.denominator}"


@lru_cache(maxsize=64)
def _decimals(step: float) -> int:
    """Digits behind the point of a step such as 0.01."""
    _, _, behind = _positional(step).partition(".")
    return len(behind.rstrip("0"))


def _as_written(number: float) -> Fraction:
    """The shortest decimal that means this float; any kind of float will do."""
    return Fraction(repr(float(number)))


def _positional(number: float) -> str:
    """A float's shortest exact decimal, without an exponent."""
    return f"{Decimal(repr(float(number))):f}"

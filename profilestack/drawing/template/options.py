"""What a full-size section is printed on, and how."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.errors import InputError, Problem, nearest_word
from profilestack.units import MILLIMETRES, from_units

PAPERS: dict[str, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "Letter": (from_units(8.5, "in"), from_units(11.0, "in")),
    "A3": (297.0, 420.0),
    "Tabloid": (from_units(11.0, "in"), from_units(17.0, "in")),
}
"""Width and height of a sheet standing upright [mm] (ISO 216, ASME Y14.1)."""

ORIENTATIONS = ("auto", "portrait", "landscape")

BAR = 100.0
"""Length of the metric check bars [mm]; the others are 4 in."""

INCH_BAR = from_units(4.0, "in")


@dataclass(frozen=True, slots=True)
class TemplateOptions:
    """How a full-size section is printed; lengths [mm].

    ``printed_x`` and ``printed_z`` are what the 100 mm check bars measured on paper, across and
    up the sheet, when it was printed without correction; everything is then drawn larger or
    smaller so that it comes out true. With ``reverse`` the counter-section is drawn as well,
    ``clearance`` away from the wanted profile. ``units`` ("mm" or "in") is for the numbers.
    ``paper`` and ``orientation`` may be typed in small or capital letters.

    Raises:
        InputError: naming every option that is impossible.
    """

    paper: str = "A4"
    orientation: str = "auto"
    margin: float = 10.0
    printed_x: float = BAR
    printed_z: float = BAR
    reverse: bool = False
    clearance: float = 0.2
    units: str = "mm"

    def __post_init__(self) -> None:
        for key, known in (("paper", tuple(PAPERS)), ("orientation", ORIENTATIONS)):
            written = {word.lower(): word for word in known}
            typed = str(getattr(self, key))
            object.__setattr__(self, key, written.get(typed.lower(), typed))
        if found := tuple(_problems(self)):
            raise InputError(found)

    @property
    def across(self) -> float:
        """By how much everything is stretched across the sheet, so that it comes out true."""
        return BAR / self.printed_x

    @property
    def up(self) -> float:
        """The same up the sheet."""
        return BAR / self.printed_z


def _problems(options: TemplateOptions) -> list[Problem]:
    found = []
    for key, known in (
        ("paper", tuple(PAPERS)),
        ("orientation", ORIENTATIONS),
        ("units", tuple(MILLIMETRES)),
    ):
        value = getattr(options, key)
        if value not in known:
            hint = nearest_word(value, known)
            found.append(Problem(key, f"{value!r} is unknown", f"one of {', '.join(known)}", hint))
    for key, low, high in (
        ("margin", 0.0, 30.0),
        ("printed_x", 90.0, 110.0),
        ("printed_z", 90.0, 110.0),
        ("clearance", 0.0, 5.0),
    ):
        value = getattr(options, key)
        if not (math.isfinite(value) and low <= value <= high):
            found.append(Problem(key, f"{value!r} is impossible", f"{low:g} to {high:g} mm"))
    return found

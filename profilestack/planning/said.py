"""A sentence with lengths in it, said in mm or in inches."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.units import format_length, to_units


@dataclass(frozen=True, slots=True)
class Said:
    """Words in which ``{0}``, ``{1}`` ... stand for ``lengths`` [mm], then ``areas`` [mm2]."""

    words: str
    lengths: tuple[float, ...] = ()
    areas: tuple[float, ...] = ()

    def say(self, units: str) -> str:
        """The sentence, its lengths in "mm" or "in", its areas in their square."""
        told = [format_length(value, units) for value in self.lengths]
        told += [area_text(value, units) for value in self.areas]
        return self.words.format(*told)

    @property
    def text(self) -> str:
        """The sentence, its lengths in mm."""
        return self.say("mm")


def area_text(area: float, units: str) -> str:
    """An area [mm2] with its unit."""
    if units == "mm":
        return f"{area:.0f} mm2"
    return f"{area * to_units(1.0, units) ** 2:.2f} {units}2"


def literal(text: str) -> str:
    """A text of the user's inside words: its braces stand for themselves."""
    return text.replace("{", "{{").replace("}", "}}")

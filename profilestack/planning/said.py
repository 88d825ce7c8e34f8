"""A sentence with lengths in it, said in mm or in inches."""

from __future__ import annotations

from dataclasses import dataclass

from profilestack.units import format_length


@dataclass(frozen=True, slots=True)
class Said:
    """Words in which ``{0}``, ``{1}`` ... stand for ``lengths`` [mm]."""

    words: str
    lengths: tuple[float, ...] = ()

    def say(self, units: str) -> str:
        """The sentence, its lengths in "mm" or "in"."""
        return self.words.format(*(format_length(value, units) for value in self.lengths))

    @property
    def text(self) -> str:
        """The sentence, its lengths in mm."""
        return self.say("mm")


def literal(text: str) -> str:
    """A text of the user's inside words: its braces stand for themselves."""
    return text.replace("{", "{{").replace("}", "}}")

"""What a caution is, and the words for its kinds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from profilestack.units import format_length

Severity = Literal["note", "warn", "stop"]

CODES = (
    "shank-rubs",
    "nut-rubs",
    "pilot-rubs",
    "short-grip",
    "too-deep",
    "into-bed",
    "cuts-nothing",
    "enter-from-end",
    "cannot-plunge",
    "piece-loose",
    "thin-fin",
    "rests-on-points",
    "curve-too-tight",
    "too-fast",
    "overcut",
    "leftover",
    "too-thin",
    "section-weak",
)
"""Every code that a caution may carry; more may be added, none is renamed."""


@dataclass(frozen=True, slots=True)
class Caution:
    """Something to mind before cutting.

    ``number`` is the pass it belongs to, counted from 1; None where it is about the whole.
    ``words`` say what is so, whether it was guessed, and what to do; ``{0}``, ``{1}`` ... in them
    stand for ``lengths`` [mm].
    """

    code: str
    severity: Severity
    number: int | None
    words: str
    lengths: tuple[float, ...] = ()

    def say(self, units: str) -> str:
        """The sentence, its lengths in "mm" or "in"."""
        return self.words.format(*(format_length(value, units) for value in self.lengths))

    @property
    def text(self) -> str:
        """The sentence, its lengths in mm."""
        return self.say("mm")

"""What a caution is, and the words for its kinds."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from profilestack.units import USUAL_STEP, format_length

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
"""Every code that a caution of a cut may carry; more may be added, none is renamed."""

PLAN_CODES = ("no-collet", "too-large", "hood-rubs", "heavy-cut", "thin-chip", "long-reach",
              "wood-trapped")  # fmt: skip
"""Further codes, of what a plan finds on a shop's machine."""


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
        return self.words.format(*_told_apart(self.lengths, units))

    @property
    def text(self) -> str:
        """The sentence, its lengths in mm."""
        return self.say("mm")


def _told_apart(lengths: tuple[float, ...], units: str) -> list[str]:
    """The lengths as text, with as many digits as it takes to tell different ones apart."""
    different = len(set(lengths))
    for finer in range(4):
        step = USUAL_STEP[units] / 10**finer
        told = [format_length(value, units, step) for value in lengths]
        if len(set(told)) == different:
            break
    return told

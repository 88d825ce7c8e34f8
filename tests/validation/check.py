"""One value from outside the project, and how the project's own value is got."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Mark = Literal["read", "computed", "secondary", "memory"]

CHORD = 1e-5
"""Arcs are flattened this finely [mm] where a closed form is checked."""


@dataclass(frozen=True)
class Check:
    """A line of the validation page.

    ``expected`` is the formula's value or the printed one; ``measure`` asks the project.
    ``printed`` is the value with the digits that the source or a hand calculation shows: it must
    round to them, so that formula and figure vouch for each other. ``mark`` tells how the
    source is known: its text was read, or the value follows from a formula (computed), or it
    stands in a copy or a general guide (secondary), or it is from memory and unverified.
    """

    topic: str
    what: str
    unit: str
    source: str
    mark: Mark
    expected: float
    measure: Callable[[], float]
    tolerance: float
    reason: str
    printed: str = ""

    @property
    def name(self) -> str:
        return f"{self.topic}: {self.what}"


def arc_area_slack(arc_length: float, chord: float = CHORD) -> float:
    """Area between an arc of that length and its chords [mm2]: 2/3 of the sagitta each."""
    return 2.0 / 3.0 * chord * arc_length + 1e-9


def rounds_to(value: float, printed: str) -> bool:
    """Whether a value, rounded or cut to the digits of a printed one, is the printed one."""
    decimals = len(printed.partition(".")[2])
    return math.isclose(value, float(printed), rel_tol=0.0, abs_tol=0.501 * 10.0**-decimals)

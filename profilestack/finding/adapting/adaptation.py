"""What was changed of a target so that the bits at hand fit, and what was left as drawn."""

from __future__ import annotations

import math
from dataclasses import dataclass

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.stack import Stack
from profilestack.units import format_length

LARGEST_LIMIT = 100.0
"""A radius that may move by more than this [mm] is a slip of the unit."""


def limit_problem(limit: float) -> Problem | None:
    """What is wrong with how far sizes may move [mm]."""
    if math.isfinite(limit) and 0.0 < limit <= LARGEST_LIMIT:
        return None
    return Problem("adapt", f"{limit!r} is impossible", f"above 0, at most {LARGEST_LIMIT:g} mm")


@dataclass(frozen=True, slots=True)
class Change:
    """One size that was changed: ``drawn`` and ``fitted`` [mm].

    ``number`` is the member's place in the list, counted from 1, and ``name`` its word; for a
    target drawn as a path the place of the line or arc along it. ``key`` is the key in the file,
    "radius" where it is no key (then on the wood, after ``scale``), "length" for a line; 0 and
    "column" are of the whole column. ``bit`` is the id of the bit that it fits; None where it
    takes up the slack of the members numbered ``slack_of``, or follows from the other changes.
    """

    number: int
    name: str
    key: str
    drawn: float
    fitted: float
    bit: str | None = None
    slack_of: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Unfitted:
    """A member, or an arc, that no bit has and that stays as drawn.

    ``{0}``, ``{1}`` ... in ``words`` stand for ``lengths`` [mm].
    """

    number: int
    name: str
    words: str
    lengths: tuple[float, ...] = ()

    def say(self, units: str) -> str:
        """Why, its lengths in "mm" or "in"."""
        step = 0.001 if units == "mm" else 0.0001
        return self.words.format(*(format_length(each, units, step) for each in self.lengths))


@dataclass(frozen=True, slots=True)
class Adaptation:
    """A stack whose target fits the drawer: ``drawn`` is the path of the target before [mm].

    ``changes`` are in the order of the members; without any the stack is the one given.
    """

    stack: Stack
    drawn: Path
    limit: float
    changes: tuple[Change, ...] = ()
    unfitted: tuple[Unfitted, ...] = ()

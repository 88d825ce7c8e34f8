"""Kinds of wood: how heavy, how hard to cut.

Specific gravities are those of the USDA *Wood Handbook*, FPL-GTR-190, ch. 5, at 12 % moisture;
``mark`` says whether its text was read or a copy of it (secondary).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from profilestack.errors import InputError, Problem, nearest_word

DENSITY_OF_GRAVITY = 1120.0
"""Density of wood at 12 % moisture [kg/m3] for a specific gravity of 1: 1000 x 1.12 (the same
handbook: the gravity counts dry wood, the density its moisture too)."""

GROUPS = ("hard", "soft", "board")
"""How wood behaves under a bit: oak and maple; poplar and pine; fibre and particle board."""


@dataclass(frozen=True, slots=True)
class Species:
    """A wood: specific gravity, how it behaves, its own cutting force where it is known [N/mm2].

    Raises:
        InputError: naming every figure that is impossible.
    """

    word: str
    gravity: float
    group: str = "hard"
    mark: str = "shop"
    force: float | None = None

    def __post_init__(self) -> None:
        found = []
        if not self.word:
            found.append(Problem("word", "is empty", "a name such as yellow-poplar"))
        if not (math.isfinite(self.gravity) and 0.05 <= self.gravity <= 1.5):
            text = f"{self.gravity!r} is impossible"
            found.append(Problem("gravity", text, "a specific gravity, 0.05 to 1.5"))
        if self.group not in GROUPS:
            text, known = f"{self.group!r} is unknown", ", ".join(f'"{word}"' for word in GROUPS)
            hint = nearest_word(self.group, GROUPS)
            found.append(Problem("group", text, f"one of {known}", hint))
        if self.force is not None and not (math.isfinite(self.force) and 0.0 < self.force <= 1e4):
            found.append(Problem("force", f"{self.force!r} is impossible", "N/mm2 above 0"))
        if found:
            raise InputError(found)

    @property
    def density(self) -> float:
        """Density at 12 % moisture [kg/m3]."""
        return DENSITY_OF_GRAVITY * self.gravity


SPECIES = (
    Species("yellow-poplar", 0.42, "soft", "secondary"),
    Species("basswood", 0.37, "soft", "secondary"),
    Species("black-cherry", 0.50, "hard", "secondary"),
    Species("black-walnut", 0.55, "hard", "secondary"),
    Species("sugar-maple", 0.63, "hard", "read"),
    Species("red-maple", 0.54, "hard", "secondary"),
    Species("red-oak", 0.63, "hard", "read"),
    Species("white-oak", 0.68, "hard", "read"),
    Species("american-beech", 0.64, "hard", "read"),
    Species("yellow-birch", 0.62, "hard", "read"),
    Species("white-ash", 0.60, "hard", "read"),
    Species("ponderosa-pine", 0.40, "soft", "read"),
    Species("western-white-pine", 0.38, "soft", "read"),
    Species("sugar-pine", 0.36, "soft", "read"),
    Species("mdf", 0.67, "board", "memory"),
)
"""Woods that are known without a shop file."""

ALIASES = {
    "poplar": "yellow-poplar", "tulipwood": "yellow-poplar", "lime": "basswood",
    "cherry": "black-cherry", "walnut": "black-walnut", "hard-maple": "sugar-maple",
    "soft-maple": "red-maple", "beech": "american-beech", "birch": "yellow-birch",
    "ash": "white-ash", "fibreboard": "mdf", "fiberboard": "mdf",
}  # fmt: skip
"""Other names for the same wood."""

UNTOLD = Species("a hardwood (not told which)", 0.63, "hard", "memory")
"""What is taken where a stack does not say its wood: as heavy as oak, so that cuts are light."""


def species_called(word: str | None, own: Sequence[Species] = ()) -> Species:
    """The wood of that name, the shop's ``own`` first.

    Raises:
        InputError: nobody knows it; with the nearest known name.
    """
    if word is None:
        return UNTOLD
    known = {each.word: each for each in (*SPECIES, *own)}
    plain = "-".join(word.lower().replace("_", " ").split())
    for name in (word, plain, ALIASES.get(plain, "")):
        if name in known:
            return known[name]
    expected = f"one of {', '.join(known)}, or a [[species]] of the shop file"
    hint = nearest_word(plain, (*known, *ALIASES))
    raise InputError(Problem("blank.species", f"{word!r} is unknown", expected, hint))

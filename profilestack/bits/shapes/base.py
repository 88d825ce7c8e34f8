"""What every bit shape offers."""

from __future__ import annotations

import math
from dataclasses import fields
from typing import ClassVar

from profilestack.errors import InputError, Problem
from profilestack.geometry.path import Path


class BitShape:
    """The outline of a cutting edge: radius r at height h above the lowest cutting point.

    Subclasses are frozen dataclasses whose fields are the keys of the file format.
    """

    word: ClassVar[str]
    """The word for the shape in files and on the command line."""

    angle_keys: ClassVar[frozenset[str]] = frozenset()
    """Fields that are angles [deg]; all other numbers are lengths [mm]."""

    def edge(self) -> Path:
        """Right half of the edge as drawn by the shape's own formula, from the axis upward.

        Points are (r, h) [mm]; the path starts on the axis, at the lowest cutting point when the
        bit has no flat tip, and ends where the formula ends.
        """
        raise NotImplementedError

    @property
    def size(self) -> float:
        """The largest cutting diameter of the shape's own formula [mm]."""
        raise NotImplementedError

    def _not_positive(self, *names: str) -> list[Problem]:
        """Those of the named fields that are not above zero and finite."""
        return [
            Problem(name, f"{getattr(self, name)!r} is impossible", "a number above 0")
            for name in names
            if not (math.isfinite(getattr(self, name)) and getattr(self, name) > 0.0)
        ]

    def _wrong_tip(self) -> list[Problem]:
        """A flat at the tip that is negative or not finite."""
        tip = getattr(self, "tip")  # noqa: B009  only some shapes have one
        if math.isfinite(tip) and tip >= 0.0:
            return []
        return [Problem("tip", f"{tip!r} is impossible", "a diameter of 0 or more")]

    def _wrong_side(self) -> list[Problem]:
        """An angle of the side from the axis [deg] that makes no slanting side."""
        angle = getattr(self, "angle")  # noqa: B009  only some shapes have one
        if 0.0 < angle < 90.0:
            return []
        return [Problem("angle", f"{angle!r} is impossible", "above 0 and below 90 degrees")]

    def _tip_path(self) -> Path:
        """From the axis along the flat at the tip; only its start where the tip is 0."""
        tip: float = getattr(self, "tip")  # noqa: B009  only some shapes have one
        start = Path((0.0, 0.0))
        return start.line((tip / 2.0, 0.0)) if tip > 0.0 else start

    def problems_at(self, cutting_length: float) -> list[Problem]:
        """What makes a bit of this shape impossible at ``cutting_length`` [mm]."""
        del cutting_length
        return []

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """The keys that a file gives for this shape."""
        return tuple(field.name for field in fields(cls))  # type: ignore[arg-type]  # a dataclass


def refuse(*groups: list[Problem]) -> None:
    """Raise all the problems found at once, if there are any.

    Raises:
        InputError: with every problem.
    """
    if problems := [problem for group in groups for problem in group]:
        raise InputError(problems)

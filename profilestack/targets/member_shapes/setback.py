"""Setback: a level step between two members."""

from __future__ import annotations

from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes.base import Measures, MemberShape


class Setback(MemberShape):
    """A level step of no height: + toward the wall going down, - away from it."""

    word: ClassVar[str] = "setback"
    about: ClassVar[str] = "A level step of no height: + toward the wall going down, - out."
    source: ClassVar[str] = "our own word for the level step between members"
    required: ClassVar[frozenset[str]] = frozenset({"projection"})
    samples: ClassVar[tuple[Measures, ...]] = (Measures(projection=6.0),)

    def problems(self, given: Measures) -> list[Problem]:
        """A step of nothing is none."""
        if given.out != 0.0:
            return []
        return [Problem("projection", "0 is no step", "a length above or below 0")]

    def trace(self, given: Measures) -> Path:
        """Level."""
        return Path((0.0, 0.0)).line((-given.out, 0.0))

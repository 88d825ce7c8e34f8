"""Bevel: a sloping flat."""

from __future__ import annotations

from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes.base import Measures, MemberShape


class Bevel(MemberShape):
    """One straight line between the ends: a chamfer, a splay, a wash (common practice)."""

    word: ClassVar[str] = "bevel"
    about: ClassVar[str] = "A sloping flat (a chamfer, a splay)."
    source: ClassVar[str] = "common practice, from memory"
    samples: ClassVar[tuple[Measures, ...]] = (Measures(height=12.0, projection=12.0),)

    def problems(self, given: Measures) -> list[Problem]:
        """An upright flat is a fillet."""
        if given.out != 0.0:
            return []
        hint = 'an upright flat is a "fillet"'
        return [Problem("projection", "0 is no slope", "a length above or below 0", hint)]

    def trace(self, given: Measures) -> Path:
        """One line."""
        return Path((0.0, 0.0)).line((-given.out, -given.tall))

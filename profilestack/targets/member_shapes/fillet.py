"""Fillet: a small upright flat."""

from __future__ import annotations

from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes.base import Measures, MemberShape


class Fillet(MemberShape):
    """A small flat (R. G. Hatfield, The American House Carpenter, art. 309-310; read).

    Bands, fields, plinths and the plain shaft of a column are fillets too: only larger.
    """

    word: ClassVar[str] = "fillet"
    about: ClassVar[str] = "An upright flat; also a band, a field or a plinth."
    source: ClassVar[str] = "R. G. Hatfield, The American House Carpenter, art. 309-310 (read)"
    required: ClassVar[frozenset[str]] = frozenset({"height"})
    optional: ClassVar[frozenset[str]] = frozenset({"projection"})
    samples: ClassVar[tuple[Measures, ...]] = (Measures(height=12.0),)

    def problems(self, given: Measures) -> list[Problem]:
        """A fillet stands upright: a projection other than 0 is another member."""
        if given.out == 0.0:
            return []
        hint = 'a sloping flat is a "bevel", a level step before it a "setback"'
        return [Problem("projection", f"{given.out!r} would lean the fillet", "0 or none", hint)]

    def trace(self, given: Measures) -> Path:
        """Straight down."""
        return Path((0.0, 0.0)).line((0.0, -given.tall))

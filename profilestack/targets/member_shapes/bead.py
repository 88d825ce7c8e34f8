"""Bead: the smallest half-round."""

from __future__ import annotations

from typing import ClassVar

from profilestack.targets.member_shapes.base import Measures
from profilestack.targets.member_shapes.bulge import Bulge


class Bead(Bulge):
    """A :class:`Bulge`."""

    word: ClassVar[str] = "bead"
    about: ClassVar[str] = "A small half round, alone or beside a quirk; projection: its bulge."
    samples: ClassVar[tuple[Measures, ...]] = (Measures(height=6.0),)

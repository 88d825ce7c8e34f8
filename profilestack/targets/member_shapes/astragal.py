"""Astragal: the small half-round under a capital."""

from __future__ import annotations

from typing import ClassVar

from profilestack.targets.member_shapes.base import Measures
from profilestack.targets.member_shapes.bulge import Bulge


class Astragal(Bulge):
    """A :class:`Bulge`."""

    word: ClassVar[str] = "astragal"
    about: ClassVar[str] = "A small half round, as under a capital; projection: its bulge."
    samples: ClassVar[tuple[Measures, ...]] = (Measures(height=8.0),)

"""Torus: the large half-round of a base."""

from __future__ import annotations

from typing import ClassVar

from profilestack.targets.member_shapes.base import Measures
from profilestack.targets.member_shapes.bulge import Bulge


class Torus(Bulge):
    """A :class:`Bulge`."""

    word: ClassVar[str] = "torus"
    about: ClassVar[str] = "A half round, the large one of a base; projection: its bulge."
    samples: ClassVar[tuple[Measures, ...]] = (Measures(height=18.0),)

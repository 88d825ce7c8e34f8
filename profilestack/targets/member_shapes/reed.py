"""Reed: several small rounds side by side."""

from __future__ import annotations

import math
from typing import ClassVar

from profilestack.errors import Problem
from profilestack.geometry.path import Path
from profilestack.targets.member_shapes.base import Measures
from profilestack.targets.member_shapes.bulge import Bulge, round_down

USUAL_COUNT = 3
"""So many reeds where no bulge says otherwise (common practice, from memory)."""


class Reed(Bulge):
    """Equal rounds, one under the other, touching (common practice, from memory).

    As many as fit as half rounds of the bulge given; when they do not fill the height, they are a
    little flatter than half rounds. Without a bulge: three half rounds.
    """

    word: ClassVar[str] = "reed"
    about: ClassVar[str] = (
        "Equal half rounds side by side, as many as their bulge gives; 3 without."
    )
    source: ClassVar[str] = "common practice, from memory"
    samples: ClassVar[tuple[Measures, ...]] = (
        Measures(height=18.0),
        Measures(height=18.0, projection=2.0),
    )

    def problems(self, given: Measures) -> list[Problem]:
        """At most a hundred reeds."""
        if found := super().problems(given):
            return found
        if count_of(given) <= 100:
            return []
        text = f"{given.projection!r} makes {count_of(given)} reeds"
        return [Problem("projection", text, f"{given.tall / 200.0:g} at least")]

    def trace(self, given: Measures) -> Path:
        """Convex arcs straight down."""
        count = count_of(given)
        tall = given.tall / count
        path = Path((0.0, 0.0))
        for _ in range(count):
            path = round_down(path, tall, tall / 2.0 if given.projection is None else given.out)
        return path


def count_of(given: Measures) -> int:
    """How many reeds fill the height."""
    if given.projection is None:
        return USUAL_COUNT
    return max(1, math.floor(given.tall / (2.0 * given.projection) + 1e-6))
